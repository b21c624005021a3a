// From what stands in a file to a scenario: shared by the readers of the two kinds of file.
#pragma once

#include <string_view>
#include <vector>

#include "scenario/raw.h"
#include "scenario/scenario.h"

namespace offsquare::scenario {

/// "name:line:column: message".
std::string placed(std::string_view name, Spot spot, std::string_view message);

base::Result<Loaded> take_scenario(const std::vector<Item>& items, std::string_view name,
                                   const std::vector<Override>& overrides);

}  // namespace offsquare::scenario
