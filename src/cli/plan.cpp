#include "cli/plan.h"

namespace offsquare::cli {

using base::Result;
using session::Todo;

namespace {

/// Whether there is something to do at the saw; where no strip came of a test, cutting again alone helps nobody.
bool goes_on(const session::Next& next) { return !next.intention.empty() && next.todo != Todo::cut_otherwise; }

/// The round that ends with the last test.
void end_round(Job& job, std::vector<session::Action> put) {
    const std::size_t first = job.rounds.empty() ? 0 : job.rounds.back().last + 1;
    job.rounds.push_back({first, job.history.seen().tests.size() - 1, std::move(put)});
}

}  // namespace

Result<Job> do_the_job(const Request& request) {
    auto history = start(request);
    if (!history) return tl::unexpected(history.error());
    Job job{std::move(*history), {}};
    for (;;) {
        session::Next next = session::next_in_job(job.history.seen(), request.ways);
        const bool on = goes_on(next);
        if (next.todo == Todo::put_shims) end_round(job, next.intention);
        if (!on && job.history.seen().last_test()->verdict) end_round(job, {});
        if (!on) return job;
        if (auto done = job.history.act(next.intention); !done) return tl::unexpected(done.error());
    }
}

}  // namespace offsquare::cli
