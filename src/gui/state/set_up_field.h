// What stands in a field of the set-up: a value of the scenario in the units that the person has chosen. No ImGui here.
#pragma once

#include <string>
#include <string_view>

#include "scenario/scenario.h"

namespace offsquare::gui {

/// Behind the field's name, the unit of a bare number in it: " [mm]", " [in]", " [mm in 1 m]"; empty for what has none.
std::string field_unit(scenario::KeyInfo::Kind kind, base::Units shown);

/// What stands in the field for `text`, a value as the scenario tells it in the units of its file (scenario::value_of).
/// Rounded to what a person would type where the units are others: four places of an inch, or four digits below that.
std::string field_text(const std::string& text, scenario::KeyInfo::Kind kind, base::Units file, base::Units shown);

/// What was typed, with its unit where it has none and the file would read another one.
std::string with_unit(const std::string& typed, scenario::KeyInfo::Kind kind, base::Units file, base::Units shown);

/// Whether the scenario takes it; the message tells ranges and an example in the person's units.
base::Result<void> field_trouble(const scenario::Scenario& scenario, const scenario::KeyInfo& key,
                                 std::string_view typed, base::Units shown);

}  // namespace offsquare::gui
