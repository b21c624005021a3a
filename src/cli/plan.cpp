#include "cli/plan.h"

#include "session/findings.h"
#include "session/hunt_words.h"

namespace offsquare::cli {

using base::Result;
using session::Todo;

namespace {

/// Whether there is something to do at the saw; where no strip came of a test, cutting again alone helps nobody.
bool goes_on(const session::Next& next) { return !next.intention.empty() && next.todo != Todo::cut_otherwise; }

/// A sled that jams: the notebook is followed until it goes; so often, and it is given up.
constexpr std::size_t most_in_a_jam = 60;

/// In the job, or while the sled jams in the notebook.
session::Next next_of(const Job& job, const Request& request) {
    const session::Seen& seen = job.history.seen();
    session::Next next = session::next_in_job(seen, request.ways);
    if (next.todo != Todo::find_the_jam || seen.checks.size() + seen.repairs.size() >= most_in_a_jam) return next;
    const auto found = session::find_out(session::holding(seen), seen.drawing);
    return found ? session::next_in_hunt(seen, &*found) : next;
}

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
        session::Next next = next_of(job, request);
        const bool on = goes_on(next);
        if (next.todo == Todo::put_shims) end_round(job, next.intention);
        if (!on && job.history.seen().tests.back().verdict) end_round(job, {});
        if (!on) return job;
        if (auto done = job.history.act(next.intention); !done) return tl::unexpected(done.error());
    }
}

}  // namespace offsquare::cli
