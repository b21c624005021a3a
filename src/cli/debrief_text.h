// The debrief of a closed hunt as text and as JSON, for `drill` and `mark`.
#pragma once

#include <string>

#include "cli/json.h"
#include "cli/text.h"
#include "lesson/debrief.h"

namespace offsquare::cli {

std::string debrief_text(const lesson::Debrief& debrief, base::Units units, const Ink& ink);

/// `ending`, `right`, `headline`, `found` [{`fault`, `was`, `unit`, `there`, `counts`, `named`, `put_right`, `left`,
/// `read`, `coverage95`, `within`}], `verdicts` [{`mark` ("good", "so-so", "bad"), `says`, `because`}], `moments`
/// [{`what`, `minutes`, `told_bits`, `told_nothing`}], `yours` and `shortest` {`minutes`, `board_mm`, `legs`}, `hints`,
/// `sure`, `brier`.
Json debrief_json(const lesson::Debrief& debrief);

}  // namespace offsquare::cli
