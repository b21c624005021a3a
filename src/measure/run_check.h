// What a check reads on one saw: the truth becomes readings. The diagnosis is handed the same functions with assumed
// truths, never this header.
#pragma once

#include <cstdint>
#include <vector>

#include "base/result.h"
#include "contact/seating.h"
#include "measure/check.h"
#include "measure/instruments.h"
#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::measure {

/// How the cuts of a check are worked out.
enum class Cuts {
    first_order,  ///< those asked for exactly to first order where that road leads (cut/first_order.h), else coarse:
                  ///< for whoever tries thousands of saws
    coarse,       ///< cut::Grain::coarse
    fine
};

/// One saw as it stands when a check is made.
struct Stand {
    const shop::Drawing& drawing;
    const shop::Truth& truth;
    contact::Shims shims;   ///< what really stands behind the fence
    contact::Shims marked;  ///< the same as marked; goes into the report
    int clamped_again = 0;  ///< goes into the report
    Cuts cuts = Cuts::fine;
};

/// The check made with real instruments: chips, the hand and noise drawn from `seed` and `run` (which check of the
/// session; no two share a draw). `exact` reads without noise or rounding, and with no chip and a steady hand. Refused
/// (Grade::usage): the sled binds, or no strip comes of a test cut.
base::Result<CheckReport> run_check(Check check, const Stand& stand, std::uint64_t seed, std::uint32_t run,
                                    Precision precision = Precision::real);

/// What chance does to each reading of a check, one standard deviation, in the order of its readings: chips, a
/// wandering hand, a creeping clamp, a sticking caliper. For a strip it stands at its fence end. Closed forms for small
/// errors; tests hold them to run_check.
std::vector<double> scatter_of(Check check, const Stand& stand);

/// Standard uncertainty of each reading of a check with the instruments of this shop.
std::vector<double> instrument_u(Check check, const shop::Drawing& drawing);

}  // namespace offsquare::measure
