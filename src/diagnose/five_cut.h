// From the strip's widths to the fence's skew. Sees readings only.
#pragma once

#include <span>

#include "base/uncertain.h"
#include "shop/drawing.h"

namespace offsquare::diagnose {

/// What was read on the strip. All widths square to the old edge.
struct StripReadings {
    base::Uncertain fence_end_mm;
    base::Uncertain far_end_mm;
    base::Uncertain between_mm;           ///< along the old edge between the two places that were read
    shop::Side side = shop::Side::right;  ///< where the strip fell, as the operator sees it
};

/// The skew with its standard uncertainty and degrees of freedom [rad]:
///     skew = atan((fence_end - far_end)/between)/4     strip on the right; the sign turns when it fell on the left.
/// Four corners of the test piece add up, because the angles of a quadrilateral sum to 360 degrees (Euclid I.32).
/// Stops: the three inputs are taken as independent; |taper| below 0.2.
base::Uncertain skew_from_strip(const StripReadings& readings);

/// The working of a strip with a pencil: small angles as their tangents.
struct PencilWorking {
    double difference_mm = 0.0;  ///< fence end less far end, > 0 where the strip is wider at the fence
    double share_mm = 0.0;       ///< one corner's share of it: four add up
    double per_length = 0.0;     ///< that over the old edge between the two places: the skew, but for the side's sign
    double over_span_mm = 0.0;   ///< and at the other end of the span: what a shim there has to be
};
/// `span_mm`: between the two shim points. Off skew_from_strip by less than 6 skew^2 of itself.
PencilWorking pencil_working(const StripReadings& readings, double span_mm);

/// The verdict on a skew against a tolerance, the uncertainty counted: pass when the whole 95 % interval lies within
/// the tolerance to either side of zero, its limits included; fail when it lies wholly outside.
enum class State { pass, fail, undecided };
State state_of(const base::Interval& coverage95, double tolerance);
State state_of(const base::Uncertain& x, double tolerance);
/// What would decide an open verdict with the fewest minutes.
enum class Work { none, test, wiggle, wiggle_and_test };
struct Verdict {
    State state = State::undecided;
    double tolerance_rad = 0.0;
    base::Interval coverage95;  ///< of the skew [rad]
    int tests_to_decide = 0;    ///< undecided: how many tests like these in all, averaged, would decide it if the mean
                                ///< stays; 0: not within 100
    // Of a fence only (diagnose/claim.h):
    double mean_rad = 0.0;         ///< of what its skew may be
    double unusual = 0.0;          ///< probability that something changes from test to test more than on any good saw
    bool changes = false;          ///< its tests disagree beyond what they read and what changes on any good saw
    bool scatter_is_open = false;  ///< undecided only because chips or the hand may change it from test to test
    bool hand_is_open = false;     ///< of that, the play under a wandering hand, which nobody has looked at
    Work work = Work::none;        ///< undecided: what would decide it, if it comes out as on a good saw
    int more_tests = 0;            ///< tests in that work, the fence brushed before each cut
    double work_minutes = 0.0;     ///< of a practised person
};
/// Of what the tests' strips say, and no more: what changes from test to test is not counted (diagnose/claim.h).
/// `tests_so_far` is how many tests `skew_rad` is the mean of: more of them shrink u by the root of their number.
Verdict judge(const base::Uncertain& skew_rad, double tolerance_rad, int tests_so_far = 1);

/// The mean of several tests of the same set-up (independent).
base::Uncertain average(std::span<const base::Uncertain> skews_rad);

}  // namespace offsquare::diagnose
