// Doing the whole job without a person: what should be done next (session/next.h), until it is done or nothing helps.
#pragma once

#include <vector>

#include "cli/request.h"

namespace offsquare::cli {

/// All tests of one state of the fence. The last one carries the mean of them all, and the proposal and the verdict
/// that rest on it.
struct Round {
    std::size_t first = 0;  ///< which tests of the session: first to last
    std::size_t last = 0;
    std::vector<session::Action> put;  ///< what was put in (or taken out) because of it; empty in the last round
};

struct Job {
    session::History history;
    std::vector<Round> rounds;  ///< empty when the first test gave no strip
};

base::Result<Job> do_the_job(const Request& request);

}  // namespace offsquare::cli
