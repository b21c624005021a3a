// What a report of a check must be to be weighed, whoever wrote it: an instrument here, a file, a hand.
#pragma once

#include <string>

#include "measure/check.h"

namespace offsquare::measure {

/// Why this report cannot be weighed, in one sentence without its full stop; empty: it can. The readings stand as in
/// the check's table, each once and in its order; a value within 1 km (as the parser of lengths has it), an uncertainty
/// from 0 to 1 m, a strip of 1 mm length at least; shims of 0 to 20 mm; clamped again 0 to 1000 times.
std::string trouble_with(const CheckReport& report);

/// The report of push_through that says how far the sled went.
CheckReport push_report(const Occasion& occasion, double went_mm);

}  // namespace offsquare::measure
