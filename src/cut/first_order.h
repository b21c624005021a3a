// A test cut to first order: for whoever asks of thousands of saws, and needs no more digits than an instrument shows.
//
// Everything that is off is taken as small against the board: the places along an edge are those of a faultless test,
// and turns add up. Each trim lays its fresh face on the fence along the line that holds it under the hand, and the
// strip is what five such turns leave.
//
// Where it stops: a straight fence, straight first edges, no chips, every cut pushed alike and to one side, bowed
// guides and no profiles. tests/cut/first_order_test.cpp says how far it is off.
#pragma once

#include <optional>

#include "cut/strip_ends.h"

namespace offsquare::cut {

/// The strip of five cuts. Outcome::done, or runners_bind without a strip. Empty: the road does not lead there, or
/// something comes near to where a test goes another way; then strip_test must be asked.
std::optional<StripTest> first_order_strip(const shop::Drawing& drawing, const shop::Truth& truth,
                                           const contact::Shims& shims, const Chances& chances);

/// What the first cut alone leaves.
struct FirstCut {
    Outcome outcome = Outcome::done;
    double corner_rad = 0.0;  ///< the kept corner at the fence less a right angle
    double kerf_mm = 0.0;     ///< width at the fence
};
/// Outcomes and empty as above; then first_cuts must be asked.
std::optional<FirstCut> first_order_cut(const shop::Drawing& drawing, const shop::Truth& truth,
                                        const contact::Shims& shims, const Chances& chances, bool turned = true);

}  // namespace offsquare::cut
