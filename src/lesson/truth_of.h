// What was really wrong with the saw of a case, and what of it counts. Only for who examines: after a case is closed,
// or before one is given.
#pragma once

#include <vector>

#include "scenario/scenario.h"
#include "session/history.h"

namespace offsquare::lesson {

/// One fault of the saw, as large as a learner should be able to find it (shop::FaultInfo::teachable).
struct Wrong {
    shop::Fault fault = shop::Fault::fence_skew;
    double size = 0.0;   ///< [mm or rad]
    bool counts = true;  ///< must be put right; false: a fence off by no more than what counts as square
};

struct Truth {
    std::vector<Wrong> wrong;  ///< in the order of shop::Fault
    std::vector<shop::Fault> counting() const;
};
Truth truth_of(const scenario::Scenario& scenario);

/// How large the fault is now, as repairs left it [mm or rad].
double size_now(const session::History& history, shop::Fault fault);
/// Of the fence as it stands, shims counted [rad].
double skew_now_rad(const session::History& history);

}  // namespace offsquare::lesson
