// From the tests of a fence to a claim about the fence: not what one strip says, but what this saw cuts on average with
// this board as the fence stands, with all that may change from test to test counted.
//
// The sum behind it is exact Bayes over a list of cases: the mean corner m is not known at all (flat), each test tells
// it with the variance of its reading and of what chance does to a test in that case, and the cases are weighed by what
// is usual (the prior), by what else was read, and by how well the tests agree with each other:
//     p(m | tests) ~ sum over cases of p(case) * product over tests of N(x_i; m, u_i^2 + s_i^2(case)).
// What is the same in all tests of one clamping belongs to the fence as it stands and is no scatter: the creep of its
// clamp, the turn of a sled in its play under a hand that always pushes alike.
//
// The caliper's limits of error are rectangular, so that the error of one strip has hardly any tails; the interval
// knows that by its fourth moment.
//
// Where it stops: chance is taken as normal, and its size as the same at each test. Handed a forward model and a prior;
// never the truth.
#pragma once

#include <span>
#include <vector>

#include "diagnose/five_cut.h"
#include "diagnose/mixture.h"
#include "measure/check.h"
#include "shop/drawing.h"

namespace offsquare::diagnose {

/// One size of something that changes from test to test.
struct ChanceCase {
    double weight = 1.0;    ///< probability before the tests; > 0
    double variance = 0.0;  ///< of the skew that one test shows [rad^2]; of steps: what sticks, `step_mm`, tells it
    bool usual = true;      ///< no larger than on any good saw
    double step_mm = 0.0;   ///< steps in which a sticking caliper moves, 0: as marked
    double step_sd_mm = 0.0;
};

/// All that may change from test to test, before the tests: three causes, independent of each other. An empty list:
/// that cause is away.
struct MayChange {
    std::vector<ChanceCase> chips;  ///< where the fence is not brushed before each cut
    std::vector<ChanceCase> hand;   ///< a hand that wanders, in the play that the sled has
    std::vector<ChanceCase> caliper;
    bool hand_is_unknown = false;  ///< the hand wanders, and no reading that was handed in tells the play
};

/// What may change on a saw of this prior. Of `others`, readings that still hold, those that tell the play are weighed:
/// the wiggle, and the runners with the caliper. Who repaired something hands in the prior of what a repair leaves.
MayChange may_change(const shop::Drawing& drawing, const Model& model, const Prior& prior,
                     std::span<const measure::CheckReport> others);

/// One test, or several that said the same.
struct FenceTest {
    base::Uncertain skew_rad;  ///< by its strip alone
    int stand = 0;             ///< which tests saw the same fence, untouched between them, pushed alike
    bool brushed = false;      ///< before each cut: no chips
    bool same_push = false;    ///< a hand that pushed each cut alike, whatever the drawing says of it
    double u_limits = 0.0;     ///< of its u, the part by the limits of the caliper at both ends, rectangular [rad]
    double per_width = 0.0;    ///< how the skew moves with one width of the strip [rad/mm]
    std::vector<std::vector<double>> repeats_mm{};  ///< what was read at one place of it, as often as it was read
    double times = 1.0;                             ///< how many tests this stands for, > 0
};

/// The verdict about the fence as the last test saw it, with all others of its stand; tests of other stands tell only
/// how much changes. What it is about: the mean over chance of the skew that a strip of this board shows, the fence
/// brushed before each cut. Under a hand that wanders nothing passes before somebody has looked at the play. One test
/// or more. `repeat_mm`: repeatability of the caliper, `step_mm` its own step.
Verdict claim_of(std::span<const FenceTest> tests, const MayChange& may, double tolerance_rad, double repeat_mm,
                 double step_mm);

}  // namespace offsquare::diagnose
