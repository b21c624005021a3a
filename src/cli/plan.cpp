#include "cli/plan.h"

#include <algorithm>
#include <iterator>

#include "session/advice.h"

namespace offsquare::cli {

using base::Result;
using diagnose::State;

namespace {

constexpr std::size_t most_rounds = 4;  // each round leaves at most half a shim step; more would chase noise
constexpr std::size_t most_tests = 12;  // a person's patience, and twelve boards

/// A test that cannot decide is repeated, except the first of all when it already names pieces to put in: the proof
/// will tell.
bool wants_repeat(const session::Test& test, std::size_t tests_in_round, bool is_first_round) {
    if (test.verdict->state != State::undecided || test.verdict->tests_to_decide == 0) return false;
    if (is_first_round && !session::proposed_actions(test).empty()) return false;
    return tests_in_round < most_tests;
}

std::vector<session::Action> actions_after(const session::Test& test, std::size_t rounds_so_far) {
    if (test.verdict->state == State::pass || rounds_so_far >= most_rounds) return {};
    // After a shim an undecided test is no reason for another one: that would chase noise.
    if (rounds_so_far > 1 && test.verdict->state == State::undecided) return {};
    return session::proposed_actions(test);
}

/// Adds a test to the job. False: no strip came of it.
Result<bool> add_one_test(Job& job, const Bench& bench) {
    auto played = play_one_test(bench, std::move(job.actions));
    if (!played) return tl::unexpected(played.error());
    job.actions = std::move(played->actions);
    job.trial = std::move(played->trial);
    return job.trial.tests.back().verdict.has_value();
}

/// Adds a round to the job. False: it ended without a strip.
Result<bool> add_round(Job& job, const Bench& bench) {
    Round round;
    round.first = job.trial.tests.size();
    do {
        const auto strip = add_one_test(job, bench);
        if (!strip || !*strip) return strip;
        round.last = job.trial.tests.size() - 1;
    } while (wants_repeat(job.trial.tests.back(), round.tests(), job.rounds.empty()));
    round.put = actions_after(job.trial.tests.back(), job.rounds.size() + 1);
    std::copy(round.put.begin(), round.put.end(), std::back_inserter(job.actions));
    job.rounds.push_back(std::move(round));
    return true;
}

}  // namespace

Result<Job> do_the_job(const Bench& bench) {
    Job job;
    job.actions = bench.shims;
    for (bool go_on = true; go_on;) {
        const auto strip = add_round(job, bench);
        if (!strip) return tl::unexpected(strip.error());
        go_on = *strip && !job.rounds.back().put.empty();
    }
    return job;
}

}  // namespace offsquare::cli
