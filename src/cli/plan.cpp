#include "cli/plan.h"

namespace offsquare::cli {

using base::Result;
using session::Todo;

namespace {

/// Whether a job goes on with it; else it ends there.
bool goes_on(Todo todo) {
    switch (todo) {
        case Todo::cut:
        case Todo::read_fence_end:
        case Todo::read_far_end:
        case Todo::work_out:
        case Todo::repeat_test:
        case Todo::put_shims:
        case Todo::prove: return true;
        case Todo::cut_otherwise:
        case Todo::nothing_fits:
        case Todo::undecidable:
        case Todo::look_elsewhere:
        case Todo::done:
        case Todo::look_at_suspects:
        case Todo::weigh:
        case Todo::cannot_weigh:
        case Todo::make_check:
        case Todo::type_readings:
        case Todo::repair:
        case Todo::repair_there:
        case Todo::prove_there: break;
    }
    return false;
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
        session::Next next = session::next_in_job(job.history.seen(), request.ways);
        const bool on = goes_on(next.todo);
        if (next.todo == Todo::put_shims) end_round(job, next.intention);
        if (!on && job.history.seen().last_test()->verdict) end_round(job, {});
        if (!on) return job;
        if (auto done = job.history.act(next.intention); !done) return tl::unexpected(done.error());
    }
}

}  // namespace offsquare::cli
