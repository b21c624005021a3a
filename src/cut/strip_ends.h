// What a caliper and a tape find on the strip of a five-cut test, for whoever needs nothing else of it: the checks that
// read strips.
#pragma once

#include <optional>

#include "cut/five_cut.h"

namespace offsquare::cut {

/// The strip at the ends of its old edge.
struct StripEnds {
    double fence_end_mm = 0.0;  ///< width there, square to the old edge, > 0
    double far_end_mm = 0.0;    ///< the same at the far end
    double length_mm = 0.0;     ///< of the old edge
};

/// How the test ended, and the ends of the strip when it is done.
struct StripTest {
    Outcome outcome = Outcome::done;
    std::optional<StripEnds> ends;
};

StripEnds ends_of(const Strip& strip);
StripTest strip_of(const FiveCut& test);

/// Five cuts as five_cut_each makes them on the coarse grain, by the shortest of three roads that leads there.
StripTest strip_test(const shop::Drawing& drawing, const shop::Truth& truth, const contact::Shims& shims,
                     const Chances& chances);

/// The short road, for a saw on which nothing is curved and nothing varies: sled, fence, board and kerf are straight,
/// so the board is a quadrilateral at every cut and one turn brings each fresh edge onto the fence. The same widths as
/// five_cut_each up to rounding (1e-12 mm). Empty: something is curved, a chip lies on the fence, the hand turns the
/// sled, an edge is shorter than 50 mm, or a corner, an end or a stop is nearer than a thousandth of a millimetre to
/// where the test would go another way; every test that is not done is among these.
std::optional<StripEnds> straight_strip_ends(const shop::Drawing& drawing, const shop::Truth& truth,
                                             const contact::Shims& shims, const Chances& chances);

/// The bare road, for any saw: the same cuts as five_cut_each on the coarse grain, with the same bits, but neither kept
/// pieces nor offcuts nor the faces that the strip does not feel. Empty: the test is not done, which five_cut_each
/// gives its name, or a cut took nothing off.
std::optional<StripEnds> bare_strip_ends(const shop::Drawing& drawing, const shop::Truth& truth,
                                         const contact::Shims& shims, const Chances& chances);

}  // namespace offsquare::cut
