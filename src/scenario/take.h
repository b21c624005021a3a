// From what stands in a file to a scenario: shared by the readers of the two kinds of file.
#pragma once

#include <string_view>
#include <vector>

#include "scenario/raw.h"
#include "scenario/scenario.h"

namespace offsquare::scenario {

/// "name:line:column: message".
std::string placed(std::string_view name, Spot spot, std::string_view message);

/// Keys that are left out keep their value of `left_out`.
base::Result<Loaded> take_scenario(const std::vector<Item>& items, std::string_view name,
                                   const std::vector<Override>& overrides, const Scenario& left_out = {});

}  // namespace offsquare::scenario
