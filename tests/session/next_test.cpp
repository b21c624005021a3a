// What should be done next, asked of single situations: a test that is worked out, with a verdict that is made up.
#include "session/next.h"

#include <doctest/doctest.h>

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
