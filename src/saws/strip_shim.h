// From what was read on one strip to a shim: the arithmetic of `offsquare shim` and of "My saw", once.
#pragma once

#include <string>

#include "diagnose/five_cut.h"
#include "shim/propose.h"

namespace offsquare::saws {

struct StripShim {
    base::Uncertain skew_rad;
    base::Uncertain shim_mm;       ///< >= 0
    shim::At at = shim::At::none;  ///< none: both ends of the strip are equal
    base::Interval coverage95_mm;  ///< of the shim, signed to that end: below zero is the other end
    std::string why;               ///< one sentence: why that end
    bool tells_end() const { return coverage95_mm.lo > 0.0; }
};

/// `span_mm` > 0: between the two shim points. The taper of the strip is below 0.2 (diagnose::skew_from_strip).
StripShim shim_of(const diagnose::StripReadings& strip, double span_mm);

/// What a strip that tapers so cannot be; empty: it can.
std::string too_steep(const diagnose::StripReadings& strip);

}  // namespace offsquare::saws
