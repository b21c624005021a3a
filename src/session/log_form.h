// What files of a session and of a hunt have in common: the scenario that they begin with, and the numbers that an
// action led to, by which a replay checks itself.
#pragma once

#include <string>

#include "scenario/scenario.h"
#include "session/form.h"
#include "session/seen.h"

namespace offsquare::session {

/// The numbers that stand after an action: enough to notice any change of the corridor.
Json outcome_of(const Seen& seen);

/// Into the first line of a file: "scenario", its text; of a case "sealed", the same obscured (base/obscured.h), so
/// that nobody who looks into the file reads by chance what is wrong with the saw.
void put_scenario(Json& head, const scenario::Scenario& scenario);
/// The text of it; empty: the line has none. Grade::bad_data: what is sealed was changed or cut off.
base::Result<std::string> scenario_text(const Json& head);

}  // namespace offsquare::session
