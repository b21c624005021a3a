// What should be done next, asked of single situations: a test that is worked out, with a verdict that is made up.
#include "session/next.h"

#include <doctest/doctest.h>

#include "session/hunt_words.h"
#include "session/job.h"

using namespace job;
using session::Proved;
using session::Seen;
using session::Todo;

namespace {

/// Of the built-in saw, which is off: a test worked out, with pieces proposed.
Seen worked_out() {
    const auto h = session::run(saw(), cut_and_read() + Actions{WorkOut{}}, 3, measure::Precision::exact);
    REQUIRE(h.has_value());
    REQUIRE(h->seen().last_test()->proposal->at == At::left);
    return h->seen();
}

/// The last test as one of this round of shims that says this.
Seen with_verdict(Seen seen, std::size_t round, diagnose::State state, int tests_to_decide) {
    session::Test& test = seen.tests.change(seen.tests.size() - 1);
    test.round = round;
    test.verdict->state = state;
    test.verdict->tests_to_decide = tests_to_decide;
    return seen;
}

}  // namespace

TEST_CASE("the first test need not decide when it names pieces: the proof will tell") {
    for (const int tests : {0, 2, 9})
        CHECK(session::next_in_job(with_verdict(worked_out(), 0, diagnose::State::undecided, tests)).todo ==
              Todo::put_shims);
}

TEST_CASE("after a shim, a test that cannot tell is no reason for another shim: that would chase noise") {
    for (const std::size_t round : {1, 2}) {
        CHECK(session::next_in_job(with_verdict(worked_out(), round, diagnose::State::undecided, 0)).todo ==
              Todo::undecidable);
        CHECK(session::next_in_job(with_verdict(worked_out(), round, diagnose::State::undecided, 3)).todo ==
              Todo::repeat_test);
        // One that is surely off is.
        CHECK(session::next_in_job(with_verdict(worked_out(), round, diagnose::State::fail, 0)).todo ==
              Todo::put_shims);
    }
}

TEST_CASE("square, but marked by the heel, is not proved") {
    Seen seen = with_verdict(worked_out(), 1, diagnose::State::pass, 0);
    CHECK(session::proof_of(seen) == Proved::passed);
    seen.tests.change(0).face.heel_marks = true;
    CHECK(session::proof_of(seen) == Proved::marked);
}

TEST_CASE(
    "a fault is put right before anything else is checked only if it is sure, no rival of it is open, or no check "
    "tells "
    "more") {
    using shop::Fault;
    session::Findings f;
    for (const shop::FaultInfo& info : shop::faults()) {
        diagnose::Belief& b = f.diagnosis.beliefs[static_cast<std::size_t>(info.fault)];
        b.fault = info.fault;
        b.touched = true;
        b.probability = 0.01;
    }
    CHECK_FALSE(session::ripe_for_repair(f).has_value());
    f.diagnosis.beliefs[static_cast<std::size_t>(Fault::fence_bow)].probability = 0.97;
    f.diagnosis.beliefs[static_cast<std::size_t>(Fault::fence_skew)].probability = 0.4;
    f.next = session::NextCheck{measure::Check::wiggle, "it tells most"};
    CHECK(session::ripe_for_repair(f) == Fault::fence_bow);
    f.diagnosis.unseparated = {{Fault::fence_skew, Fault::fence_bow}};
    CHECK_FALSE(session::ripe_for_repair(f).has_value());
    // Sure enough, whatever may be there besides: from 98 in 100.
    f.diagnosis.beliefs[static_cast<std::size_t>(Fault::fence_bow)].probability = 0.985;
    CHECK(session::ripe_for_repair(f) == Fault::fence_bow);
    f.diagnosis.beliefs[static_cast<std::size_t>(Fault::fence_bow)].probability = 0.97;
    f.next.reset();
    CHECK(session::ripe_for_repair(f) == Fault::fence_bow);
    // Of two that are there the surer one comes first, wherever it stands in the table.
    for (const Fault surer : {Fault::fence_skew, Fault::blade_toe}) {
        session::Findings two = f;
        two.diagnosis.unseparated.clear();
        two.diagnosis.beliefs[static_cast<std::size_t>(surer)].probability = 0.99;
        CHECK(session::first_to_repair(two) == surer);
        CHECK(session::ripe_for_repair(two) == surer);
    }
}

TEST_CASE("there above 95 in 100, ruled out below 5, open between them, and untouched whatever the number") {
    using session::Standing;
    const auto standing = [](double probability, bool touched = true) {
        diagnose::Belief b;
        b.touched = touched;
        b.probability = probability;
        return session::standing_of(b);
    };
    CHECK(standing(0.96) == Standing::supported);
    CHECK(standing(0.94) == Standing::open);
    CHECK(standing(0.30) == Standing::open);
    CHECK(standing(0.06) == Standing::open);
    CHECK(standing(0.04) == Standing::ruled_out);
    CHECK(standing(0.99, false) == Standing::untouched);
}

TEST_CASE("what was read before a shim came is weighed as of a fence that the shim has turned: told by what differs") {
    // Closed jaws hold on, whatever the fence does. 0.3 mm that came behind the left end turn the fence as far as 0.3
    // mm that went from behind the right end; what stands at both ends alike turns nothing.
    const auto weighed = [](const Actions& actions) {
        const auto h = session::run(saw(), actions, 3, measure::Precision::exact);
        REQUIRE(h.has_value());
        const auto reports = session::holding(h->seen());
        REQUIRE(reports.size() == 1);
        return std::pair(reports[0].occasion.behind_left_mm, reports[0].occasion.behind_right_mm);
    };
    const Action jaws = session::MakeCheck{measure::Check::jaws};
    const auto shim = [](At end, double mm) -> Action { return PutThickness{end, mm}; };
    CHECK(weighed({jaws}) == std::pair(0.0, 0.0));
    CHECK(weighed({jaws, shim(At::left, 0.25)}) == std::pair(0.0, 0.25));
    CHECK(weighed({jaws, shim(At::right, 0.25)}) == std::pair(0.25, 0.0));
    CHECK(weighed({jaws, shim(At::left, 0.5), shim(At::right, 0.25)}) == std::pair(0.0, 0.25));
    CHECK(weighed({shim(At::left, 0.5), jaws, shim(At::right, 0.25)}) == std::pair(0.25, 0.0));
    CHECK(weighed({shim(At::left, 0.5), jaws}) == std::pair(0.0, 0.0));
}
