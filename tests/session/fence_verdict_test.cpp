// Pass means pass: what is said of the fence counts what changes from test to test, and names its board.
#include "session/fence_verdict.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "repeats.h"
#include "session/hunt_words.h"
#include "session/job.h"
#include "session/random_jobs.h"

namespace fence_verdict_cases {

using namespace job;
using diagnose::State;
using diagnose::Work;
using measure::Check;
using random_jobs::Tally;
using session::MakeCheck;
using session::OtherBoards;
using session::Todo;
using shop::Fault;

namespace {

/// The built-in saw, square, with one fault.
scenario::Scenario square_with(Fault fault, double size) {
    scenario::Scenario s = saw_with(0.0);
    shop::size_of(*s.truth, fault) = size;
    return s;
}

/// With a hand that presses now here, now there, in this much play.
scenario::Scenario wandering(double play_mm, double skew_rad = 0.0) {
    scenario::Scenario s = saw_with(skew_rad);
    s.drawing.sled.hand = shop::Hand::wandering;
    s.truth->left_play_mm = s.truth->right_play_mm = play_mm;
    return s;
}

Actions test(bool brushed) {
    return {CutTest{brushed},      Read{End::fence, 0.0}, Read{End::far, 0.0},
            Read{End::fence, 0.0}, Read{End::far, 0.0},   WorkOut{}};
}

Trial after(const scenario::Scenario& s, const Actions& actions, std::uint64_t seed = 3) {
    return job::run(s, actions, seed).value();
}

const diagnose::Verdict& verdict(const Trial& t) { return *t.tests.back().verdict; }

std::string sentence(const Trial& t) { return session::verdict_sentence(t.tests.back(), base::Units::metric); }

/// Jobs to their end on this saw, one for each seed.
Tally jobs(const scenario::Scenario& s, int how_many) {
    random_jobs::Saw saw;
    saw.truth = *s.truth;
    session::Ways ways;
    ways.reads = 2;
    Tally tally;
    for (int seed = 0; seed < how_many; ++seed) {
        const auto done = random_jobs::job_of(saw, s, static_cast<std::uint64_t>(seed), ways);
        if (done) random_jobs::add(tally, *done);
    }
    return tally;
}

}  // namespace

TEST_CASE("one strip speaks of itself; of the fence it cannot say while a chip may lie there next time") {
    const Trial t = after(saw_with(5e-5), test(false));
    REQUIRE(diagnose::judge(*t.tests.back().skew_rad, saw().drawing.tolerance_rad).state == State::pass);
    CHECK(verdict(t).state == State::undecided);
    CHECK_FALSE(t.proved);
    CHECK(session::proof_of(t.seen) == session::Proved::undecided);
    CHECK(has(sentence(t), "this strip says off by"));
    CHECK(has(sentence(t), "Of the fence one strip alone cannot say: sawdust at the fence may turn the board"));
    CHECK(has(sentence(t), "Least work to decide: one more test, the fence brushed before each cut (14 min)."));
    CHECK(session::next_in_job(t.seen).todo == Todo::repeat_test);
    // Brushed, one strip is enough: chips were all that could change under a steady hand.
    const Trial brushed = after(saw_with(5e-5), test(true));
    CHECK(verdict(brushed).state == State::pass);
    CHECK(brushed.proved);
    CHECK(session::note_of(brushed.tests.back())->report.occasion.check == Check::brushed);
    CHECK(brushed.seen.minutes == measure::info(Check::brushed).minutes);
    // Two tests that agree show the scatter themselves.
    CHECK(verdict(after(saw_with(5e-5), test(false) + test(false))).state == State::pass);
}

TEST_CASE("a fence that was put right counts as a repair leaves it") {
    const Trial t = after(saw_with(5e-5), Actions{session::Repair{Fault::dust}} + test(false));
    CHECK(verdict(t).state == State::pass);
}

TEST_CASE("chips of 0.15 mm: every pass of the job is right, and what is said holds" *
          doctest::skip(repeats::sanitized)) {
    // By one strip alone it held in 16 of 100, and a third of the passes were wrong.
    const Tally t = jobs(square_with(Fault::dust, 0.15), 60);
    CHECK(t.jobs == 60);
    CHECK(t.wrong == 0);
    CHECK(t.skewed == 0);
    CHECK(t.held >= 51);  // 95 of 100, less three and a half standard deviations of 60
}

TEST_CASE("0.25 mm of play and a wandering hand: the job asks for the wiggle, and no pass is wrong" *
          doctest::skip(repeats::sanitized)) {
    const Tally t = jobs(wandering(0.25), 40);
    CHECK(t.jobs == 40);
    CHECK(t.wrong <= t.passes / 33);
    CHECK(t.held >= 33);  // as above, of 40
    int asked = 0;
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        const Trial first = after(wandering(0.25), test(true), seed);
        CHECK(verdict(first).state != State::pass);  // nobody has looked at the play
        if (verdict(first).state != State::undecided || session::next_in_job(first.seen).todo != Todo::look_at_play)
            continue;
        ++asked;
        CHECK(verdict(first).hand_is_open);
        CHECK(session::next_in_job(first.seen).check == Check::wiggle);
        CHECK(has(sentence(first), "Least work to decide: the wiggle check of the play"));
    }
    CHECK(asked >= 4);
    // A tight sled passes by the wiggle alone.
    const Trial tight = after(wandering(0.03, 5e-5), test(true) + Actions{MakeCheck{Check::wiggle}});
    CHECK(verdict(tight).state == State::pass);
}

TEST_CASE("tests that disagree stop the shimming") {
    int seen = 0;
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        const Trial t = after(square_with(Fault::dust, 0.5), test(false) + test(false), seed);
        const double apart = std::abs(t.tests[0].skew_rad->value - t.tests[1].skew_rad->value);
        const double u = std::hypot(t.tests[0].skew_rad->u, t.tests[1].skew_rad->u);
        // 2.576: chi square of one degree of freedom, 99 % (e-Handbook 1.3.6.7.4: 6.635); a good saw's chips add a
        // little.
        if (apart < 3.0 * u || verdict(t).state == State::pass) continue;
        ++seen;
        CHECK(verdict(t).changes);
        const session::Next next = session::next_in_job(t.seen);
        CHECK(next.todo == Todo::something_changes);
        CHECK(next.intention.empty());
        CHECK(now(t).heading == "Something changes between tests");
        CHECK(now(t).button == "Open the notebook");
        CHECK(session::proof_of(t.seen) == session::Proved::changing);
        CHECK(has(sentence(t), "Something changes between tests"));
    }
    CHECK(seen >= 6);
}

TEST_CASE("saws of the prior: what is said of the fence holds as often as it says" *
          doctest::skip(repeats::sanitized)) {
    // Some hundreds; the thousands stand in prove_claim.md. Sampling of 400: 1.1 points.
    session::Ways ways;
    ways.reads = 2;
    random_jobs::Random random(8);
    Tally t;
    while (t.jobs < 400) {
        const auto saw_drawn = random_jobs::saw_that_goes(saw().drawing, random);
        if (const auto done = random_jobs::job_of(saw_drawn, saw(), random(), ways)) random_jobs::add(t, *done);
    }
    CHECK(t.held >= 364);  // 91.0; with what one strip says, 79
    CHECK(t.held <= 396);  // 99.0
    CHECK(t.passes >= 340);
    CHECK(t.wrong <= t.passes / 33);  // 3 of 100
}

TEST_CASE("a proof names its board, and whether anybody looked if another would come out alike") {
    const Trial t = after(saw_with(5e-5), test(true));
    CHECK(has(sentence(t), "square within the tolerance for a board of 330 mm, the fence brushed before each cut"));
    CHECK(
        has(sentence(t), "No straightedge was tried on the fence: a board of another size may come out differently."));
    CHECK(t.tests.back().other_boards == OtherBoards::unknown);
    CHECK(has(session::proof_words(t.seen, base::Units::metric).why, "for a board of 330 mm"));
    const Trial straight = after(saw_with(5e-5), test(true) + Actions{MakeCheck{Check::fence_straightedge}});
    CHECK(straight.tests.back().other_boards == OtherBoards::alike);
    CHECK(has(sentence(straight), "straight enough for other boards too"));
    const scenario::Scenario bowed = square_with(Fault::fence_bow, 0.4);
    const Trial light = after(bowed, Actions{MakeCheck{Check::fence_straightedge}} + test(true));
    CHECK(light.tests.back().other_boards == OtherBoards::otherwise);
    const Trial two = after(bowed, test(true) + Actions{MakeCheck{Check::long_and_short}});
    CHECK(two.tests.back().other_boards == OtherBoards::otherwise);
    CHECK(after(saw_with(5e-5), test(true) + Actions{MakeCheck{Check::long_and_short}}).tests.back().other_boards ==
          OtherBoards::alike);
    // Put right since: nobody has looked at the new fence.
    const Trial repaired =
        after(bowed, Actions{MakeCheck{Check::fence_straightedge}, session::Repair{Fault::fence_bow}} + test(true));
    CHECK(repaired.tests.back().other_boards == OtherBoards::unknown);
}

TEST_CASE("how much a bow turns a smaller board: the straightedge's limit against cuts of both boards") {
    // The bow at which the word changes, by the checks themselves, and what two boards then really differ by.
    double limit = 0.0;
    for (double bow = 0.02; bow < 0.6 && limit == 0.0; bow += 0.01) {
        const Trial t =
            after(square_with(Fault::fence_bow, bow), test(true) + Actions{MakeCheck{Check::fence_straightedge}});
        if (t.tests.back().other_boards == OtherBoards::otherwise) limit = bow;
    }
    REQUIRE(limit > 0.0);
    const auto skew_of = [&](double share) {
        scenario::Scenario s = square_with(Fault::fence_bow, limit);
        s.drawing.board.width_mm *= share;
        s.drawing.board.length_mm *= share;
        return job::run(s, cut_and_read(), 1, measure::Precision::exact).value().tests.back().skew_rad->value;
    };
    const double apart = std::abs(skew_of(1.0) - skew_of(0.5));
    // Half the tolerance, less what the feelers may be off; a test turns the board on all its four edges, whose mean is
    // shorter than the first.
    CHECK(apart < 0.5 * saw().drawing.tolerance_rad * 1.2);
    CHECK(apart > 0.1 * saw().drawing.tolerance_rad);
}

TEST_CASE("read exactly, nothing changes, and the strip is the fence") {
    const auto t = job::run(saw_with(0.99 * saw().drawing.tolerance_rad), cut_and_read() + Actions{WorkOut{}}, 1,
                            measure::Precision::exact)
                       .value();
    CHECK(verdict(t).state == State::pass);
    CHECK(job::run(saw_with(1.01 * saw().drawing.tolerance_rad), cut_and_read(), 1, measure::Precision::exact)
              .value()
              .tests.back()
              .verdict->state == State::fail);
}

TEST_CASE("a brushed test is written down, saved and replayed; without the word it is as it was") {
    CHECK(session::form_of(CutTest{}).dump() == R"({"do":"cut"})");
    CHECK(session::form_of(CutTest{true}).dump() == R"({"do":"cut","brushed":true})");
    CHECK(session::action_of(session::form_of(CutTest{true})).value().index() == Action(CutTest{}).index());
    CHECK_FALSE(session::action_of(session::Json::parse(R"({"do":"cut","brushed":1})")).has_value());
    const session::Log log =
        log_of(square_with(Fault::dust, 0.2), 5, measure::Precision::real, test(true) + test(false));
    const auto again = session::replay(session::to_text(log), "kept");
    REQUIRE(again.has_value());
    CHECK(again->history.seen().tests[0].brushed);
    CHECK_FALSE(again->history.seen().tests[1].brushed);
}

}  // namespace fence_verdict_cases
