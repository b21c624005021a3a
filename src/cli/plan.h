// Doing the whole job without a person: which action comes next.
#pragma once

#include <vector>

#include "cli/bench.h"

namespace offsquare::cli {

/// All tests of one state of the fence. The last one carries the mean of them all, and the proposal and the verdict
/// that rest on it.
struct Round {
    std::size_t first = 0;  ///< which tests of the trial: first to last
    std::size_t last = 0;
    std::vector<session::Action> put;  ///< what was put in (or taken out) because of it; empty in the last round
    std::size_t tests() const { return last - first + 1; }
};

struct Job {
    std::vector<session::Action> actions;
    session::Trial trial;
    std::vector<Round> rounds;  ///< empty when the first test gave no strip
};

/// Test; pass: done. Else put the proposed pieces in (at both ends where one end alone does poorly) and test again,
/// until it passes, nothing better can be put in, or four rounds are over. A test that leaves it undecided is repeated,
/// up to the number that would decide it and never more than twelve in a round.
base::Result<Job> do_the_job(const Bench& bench);

}  // namespace offsquare::cli
