// From what a check reads to the numbers that the diagnosis weighs: differences in which zeros cancel, and corner
// errors out of strips.
#pragma once

#include <vector>

#include "base/result.h"
#include "measure/check.h"
#include "shop/drawing.h"

namespace offsquare::diagnose {

/// One number with its noise. `u` is the standard uncertainty in all; `u_lasting` the part of it that stays the same
/// when the same check is made again with the same instrument [the unit of the value].
struct Observable {
    double value = 0.0;
    double u = 0.0;
    double u_lasting = 0.0;
};

/// How many observables a check has.
std::size_t observables_of(measure::Check check);

/// Refused (Grade::bad_data): a reading that the check has is missing, of the wrong unit, or there twice; an
/// uncertainty that is negative.
base::Result<std::vector<Observable>> observe(const measure::CheckReport& report, const shop::Drawing& drawing);

}  // namespace offsquare::diagnose
