// The corridor as a whole: the job from the first cut to the proof, purity, and what is not possible.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include "repeats.h"
#include "contact/seating.h"
#include "session/job.h"
#include "shop/truth.h"

using namespace job;
using measure::Precision;

namespace {

Trial must_run(const scenario::Scenario& s, const Actions& a, std::uint64_t seed = 1,
               Precision precision = Precision::real) {
    auto trial = job::run(s, a, seed, precision);
    if (!trial) FAIL(trial.error().message);
    return *trial;
}

/// Everything that a session says about itself, as text.
std::string record(const scenario::Scenario& s, const Actions& a, std::uint64_t seed,
                   Precision precision = Precision::real) {
    return session::to_text(job::log_of(s, seed, precision, a));
}

/// How the job went.
struct Story {
    std::vector<Stage> stages;
    Trial end;
    int passes = 0;
    int passes_true = 0;
};

/// Does what the stage asks for until it is proved, 20 tests at most.
Story do_the_job(const scenario::Scenario& s, std::uint64_t seed) {
    Actions a;
    Story story{{}, must_run(s, a, seed), 0, 0};
    for (int i = 0; i < 120 && !story.end.proved; ++i) {
        const Stage stage = story.end.stage;
        story.stages.push_back(stage);
        switch (stage) {
            case Stage::cut:
            case Stage::prove: a.push_back(CutTest{true}); break;
            case Stage::read:
                a.push_back(story.end.tests.back().fence_end.empty() ? Read{End::fence} : Read{End::far});
                break;
            case Stage::work_out: a.push_back(WorkOut{}); break;
            case Stage::shim: a = a + put(story.end.tests.back().proposal->best); break;
            case Stage::set_up: break;
        }
        story.end = must_run(s, a, seed);
        if (stage != Stage::work_out || story.end.tests.back().verdict->state != diagnose::State::pass) continue;
        ++story.passes;
        story.passes_true += std::abs(story.end.skew_now_rad()) <= s.drawing.tolerance_rad ? 1 : 0;
    }
    return story;
}

}  // namespace

TEST_CASE("from the first cut to the proof on the built-in saw, 200 seeds") {
    const std::vector<Stage> straight{Stage::cut,   Stage::read, Stage::read, Stage::work_out, Stage::shim,
                                      Stage::prove, Stage::read, Stage::read, Stage::work_out};
    const int seeds = repeats::of(200, 40);
    int passes = 0;
    int passes_true = 0;
    for (std::uint64_t seed = 1; seed <= static_cast<std::uint64_t>(seeds); ++seed) {
        const Story story = do_the_job(saw(), seed);
        CAPTURE(seed);
        REQUIRE(story.end.proved);
        REQUIRE(story.end.stage == Stage::prove);
        REQUIRE(story.stages == straight);
        REQUIRE(story.end.tests.front().proposal->at == At::left);  // the built-in skew is positive
        REQUIRE(std::abs(story.end.skew_now_rad()) < std::abs(saw().truth->fence_skew_rad));
        passes += story.passes;
        passes_true += story.passes_true;
    }
    CHECK(passes >= seeds);
    CHECK(passes_true >= 0.94 * passes);
}

TEST_CASE("the job on skews of any size, both signs, both sides, with the old vernier's noise") {
    const int seeds = repeats::of(120, 32);
    int passes = 0;
    int passes_true = 0;
    for (std::uint64_t seed = 1; seed <= static_cast<std::uint64_t>(seeds); ++seed) {
        const double size = 1e-4 + 1e-5 * static_cast<double>(seed);
        scenario::Scenario s =
            saw_with(seed % 2 == 0 ? size : -size, seed % 4 < 2 ? shop::Side::left : shop::Side::right);
        s.drawing.caliper = {"vernier caliper", 0.05, 0.05, 0.03, 8};
        const Story story = do_the_job(s, seed);
        passes += story.passes;
        passes_true += story.passes_true;
    }
    CHECK(passes >= seeds / 2);
    CHECK(passes_true >= 0.94 * passes);
}

TEST_CASE("a fence just off the tolerance is passed at most as often as the interval errs on one side" *
          doctest::skip(repeats::sanitized)) {
    // 2.5 % of 1,000: standard deviation 4.9; 25 + 4.5*4.9 = 47. Just inside, a fail is as rare.
    int wrong_pass = 0;
    int wrong_fail = 0;
    for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
        const double tolerance = saw().drawing.tolerance_rad;
        wrong_pass += must_run(saw_with(1.0001 * tolerance), cut_and_read(), seed).tests.back().verdict->state ==
                      diagnose::State::pass;
        wrong_fail += must_run(saw_with(-0.9999 * tolerance), cut_and_read(), seed).tests.back().verdict->state ==
                      diagnose::State::fail;
    }
    CHECK(wrong_pass <= 47);
    CHECK(wrong_fail <= 47);
    CHECK(wrong_pass + wrong_fail > 0);  // it does err now and then: the interval is not wider than it says
}

TEST_CASE("the same scenario, actions and seed: the same session; another seed: another") {
    const Actions a = cut_and_read() + Actions{WorkOut{}, PutShim{At::left, 1}, PutShim{At::right, 0}} + cut_and_read();
    CHECK(record(saw(), a, 7) == record(saw(), a, 7));
    CHECK(record(saw(), a, 7) != record(saw(), a, 8));
    const Trial before = must_run(saw(), a, 7);
    must_run(saw_with(-0.004), a, 9);  // nothing of another run stays behind
    CHECK(must_run(saw(), a, 7).tests.back().skew_rad->value == before.tests.back().skew_rad->value);
}

TEST_CASE("unrelated things in another order change nothing") {
    const auto skew = [](const Actions& a) { return must_run(saw(), a, 5).tests.back().skew_rad->value; };
    CHECK(skew({CutTest{}, Read{End::fence}, Read{End::far}}) == skew({CutTest{}, Read{End::far}, Read{End::fence}}));
    CHECK(skew({CutTest{}, Read{End::fence}, Read{End::fence}, Read{End::far}, Read{End::far}}) ==
          skew({CutTest{}, Read{End::far}, Read{End::fence}, Read{End::far}, Read{End::fence}}));
    // A shim put in after the cut does not reach the strip that is cut.
    CHECK(skew({CutTest{}, Read{End::fence}, Read{End::far}}) ==
          skew({CutTest{}, PutShim{At::left, 1}, Read{End::fence}, Read{End::far}}));
    // Different pieces at the two ends, in either order.
    const Trial a = must_run(saw(), {PutShim{At::left, 1}, PutShim{At::right, 3}}, 5);
    const Trial b = must_run(saw(), {PutShim{At::right, 3}, PutShim{At::left, 1}}, 5);
    CHECK(a.skew_now_rad() == b.skew_now_rad());
    CHECK(a.seen.left_in_drawer == b.seen.left_in_drawer);
}

TEST_CASE("the run may be looked at after every step") {
    const Actions a =
        cut_and_read() + Actions{WorkOut{}, PutShim{At::left, 1}, SetValue{"faults.fence_skew", "0.1mrad"}, CutTest{}};
    History run(saw(), 3);
    CHECK(run.seen().stage == Stage::cut);
    for (std::size_t i = 0; i < a.size(); ++i) {
        REQUIRE(run.act(a[i]));
        const Trial whole = must_run(saw(), Actions(a.begin(), a.begin() + static_cast<std::ptrdiff_t>(i) + 1), 3);
        REQUIRE(run.seen().stage == whole.stage);
        REQUIRE(run.seen().tests_now() == whole.tests.size());
        REQUIRE(both_sides::skew_now_rad(run) == whole.skew_now_rad());
    }
    // What is not possible leaves the run as it was.
    const auto drawer = run.seen().left_in_drawer;
    CHECK_FALSE(run.act(PutShim{At::left, 99}));
    CHECK_FALSE(run.act(WorkOut{}));
    CHECK(run.seen().left_in_drawer == drawer);
    CHECK(run.seen().events.size() == a.size());
    CHECK(run.record().size() == a.size());
}

TEST_CASE("every impossible action is a usage error that names its number and sentence") {
    struct Impossible {
        Actions before;
        Action action;
        std::string says;
        std::string because;
    };
    scenario::Scenario short_push = saw();
    const std::vector<Impossible> all{
        {{}, Read{End::fence}, "Read the strip at its fence end.", "cut a test first"},
        {{}, WorkOut{}, "Work out the shim from the readings.", "read the strip at both ends first"},
        {{CutTest{}, Read{End::fence}},
         WorkOut{},
         "Work out the shim from the readings.",
         "read the strip at both ends first"},
        {{CutTest{}}, Read{End::far, -0.1}, "Read the strip", "must stand between 0 and"},
        {{CutTest{}}, Read{End::far, 200.0}, "Read the strip 200 mm in from its far end.", "must stand between 0 and"},
        {{CutTest{}}, Read{End::far, std::nan("")}, "Read the strip", "must stand between 0 and"},
        {{CutTest{}}, Read{End::fence, INFINITY}, "Read the strip", "must stand between 0 and"},
        {{},
         PutShim{At::left, 6},
         "Put line 6 of the drawer behind the left end of the fence.",
         "the drawer has no line 6; it has 6 lines"},
        {{}, PutShim{At::right, -1}, "Put line -1", "the drawer has no line -1"},
        {{PutShim{At::left, 5}},
         PutShim{At::right, 5},
         "Put brass 0.200 mm behind the right end of the fence.",
         "no brass of that thickness is left"},
        {{}, PutShim{At::none, 1}, "Put brass", "left or the right end"},
        {{}, PutThickness{At::left, -0.1}, "Put a shim", "between 0 and 20 mm"},
        {{}, PutThickness{At::left, 20.1}, "Put a shim", "between 0 and 20 mm"},
        {{}, PutThickness{At::left, std::nan("")}, "Put a shim", "between 0 and 20 mm"},
        {{}, PutThickness{At::none, 0.1}, "Put a shim", "left or the right end"},
        {{},
         TakeShim{At::left},
         "Take the last shim out from behind the left end of the fence.",
         "no shim stands behind the left end"},
        {{PutShim{At::left, 1}}, TakeShim{At::right}, "Take the last shim out", "no shim stands behind the right end"},
        {{}, SetValue{"faults.fence_scew", "1"}, "Set faults.fence_scew to 1.", "fence_skew"},
        {{}, SetValue{"faults.fence_skew", "banana"}, "Set faults.fence_skew to banana.", "banana"},
        {{}, SetValue{"faults.fence_skew", "1e9"}, "Set faults.fence_skew to 1e9.", "fence_skew"},
        {{PutShim{At::left, 1}}, SetValue{"drawer.0.count", "2"}, "Set drawer.0.count to 2.", "take them out first"},
    };
    for (const Impossible& i : all) {
        Actions a = i.before;
        a.push_back(i.action);
        const auto result = session::run(saw(), a, 1);
        CAPTURE(i.says);
        REQUIRE_FALSE(result);
        const std::string& message = result.error().message;
        CAPTURE(message);
        CHECK(result.error().grade == base::Grade::usage);
        CHECK(message.find("action " + std::to_string(a.size()) + " (") == 0);
        CHECK(message.find(i.says) != std::string::npos);
        CHECK(message.find(i.because) != std::string::npos);
    }
}

TEST_CASE("a test that gives no strip cannot be read, and the stage asks for another cut") {
    scenario::Scenario s = saw();
    s.drawing.blade.height_mm = 5.0;  // lower than the board is thick
    const Trial t = must_run(s, {CutTest{}});
    CHECK(t.stage == Stage::cut);
    CHECK(t.tests.back().outcome == cut::Outcome::nothing_cut);
    const auto read = session::run(s, Actions{CutTest{}, Read{End::far}}, 1);
    REQUIRE_FALSE(read);
    CHECK(read.error().message.find("gave no strip") != std::string::npos);
    CHECK(now(t).heading == "Change the set-up and cut again");
}

TEST_CASE("a shim taken out and put in again is the same piece") {
    const auto thickness = [](const Actions& a, std::size_t k = 0) {
        return must_run(saw(), a, 11).saw.behind_left.at(k).true_mm;
    };
    const double first = thickness({PutShim{At::left, 3}});
    CHECK(thickness({PutShim{At::left, 3}, TakeShim{At::left}, PutShim{At::left, 3}}) == first);
    CHECK(must_run(saw(), {PutShim{At::left, 3}, TakeShim{At::left}, PutShim{At::right, 3}}, 11)
              .saw.behind_right.at(0)
              .true_mm == first);
    CHECK(first != saw().drawing.drawer[3].thickness_mm);  // marked and true differ
    // Two of one line, one at each end; the one taken from the left comes back, not a twin of the one on the right.
    const Trial swapped =
        must_run(saw(), {PutShim{At::left, 3}, PutShim{At::right, 3}, TakeShim{At::left}, PutShim{At::left, 3}}, 11);
    CHECK(swapped.saw.behind_left.at(0).true_mm == first);
    CHECK(swapped.saw.behind_right.at(0).true_mm != first);
    CHECK(swapped.seen.left_in_drawer[3] == saw().drawing.drawer[3].count - 2);
}

TEST_CASE("pieces of the drawer are different pieces, whatever is taken out and put in between") {
    Actions a;
    for (int i = 0; i < 4; ++i) a.push_back(PutShim{i % 2 == 0 ? At::left : At::right, 3});  // all four of the line
    a = a + Actions{TakeShim{At::left},   TakeShim{At::right},  TakeShim{At::right},
                    PutShim{At::left, 3}, PutShim{At::left, 3}, PutShim{At::right, 3}};
    const Trial t = must_run(saw(), a, 2);
    std::set<double> all;
    for (const auto* end : {&t.saw.behind_left, &t.saw.behind_right}) {
        for (const session::PlacedShim& p : *end) all.insert(p.true_mm);
    }
    CHECK(all.size() == 4);
    CHECK(t.seen.left_in_drawer[3] == 0);
}

TEST_CASE("true thicknesses scatter by the stated uncertainty about the mark, and not at all in exact sessions") {
    const shop::Shim& paper = saw().drawing.drawer[3];
    double sum = 0.0;
    double squares = 0.0;
    constexpr int n = 2000;
    for (std::uint64_t seed = 0; seed < n; ++seed) {
        const double z =
            (must_run(saw(), {PutShim{At::left, 3}}, seed).saw.behind_left[0].true_mm - paper.thickness_mm) /
            paper.u_mm;
        sum += z;
        squares += z * z;
    }
    CHECK(std::abs(sum / n) < 4.5 / std::sqrt(2000.0));
    CHECK(std::abs(squares / n - 1.0) < 4.5 * std::sqrt(2.0 / n));
    CHECK(must_run(saw(), {PutShim{At::left, 3}}, 1, Precision::exact).saw.behind_left[0].true_mm ==
          paper.thickness_mm);
}

TEST_CASE("the skew now is that of the simulated fence: shims count at the end where they stand") {
    const Trial t = must_run(saw(), {PutThickness{At::left, 0.2}, PutThickness{At::right, 0.05}});
    // tan(skew) + (right - left)/span (docs of contact), the span 500 mm.
    CHECK(std::tan(t.skew_now_rad()) == doctest::Approx(std::tan(0.62e-3) - 0.15 / 500.0).epsilon(1e-12));
    CHECK(must_run(saw(), {PutThickness{At::left, 0.2}, TakeShim{At::left}}).skew_now_rad() ==
          doctest::Approx(0.62e-3).epsilon(1e-12));
}

TEST_CASE("a changed value strikes out the tests; later tests belong to the new set-up and draw anew") {
    const Actions before = cut_and_read();
    const Trial t = must_run(saw(), before + Actions{SetValue{"faults.fence_skew", "-0.4mrad"}});
    CHECK(t.tests.empty());
    CHECK(t.stage == Stage::cut);
    REQUIRE(t.seen.tests.size() == 1);  // nothing is erased
    REQUIRE(t.seen.tests[0].ended.has_value());
    CHECK(t.seen.tests[0].ended->since == before.size() + 1);
    CHECK(session::sentence_of(*t.seen.tests[0].ended) == "No longer holds: faults.fence_skew was changed after it.");
    CHECK(t.saw.scenario.truth->fence_skew_rad == doctest::Approx(-4e-4).epsilon(1e-12));
    const Trial again = must_run(saw(), before + Actions{SetValue{"faults.fence_skew", "0.62mrad"}} + cut_and_read());
    REQUIRE(again.tests.size() == 1);
    CHECK(again.tests[0].pooled_tests == 1);
    CHECK(again.tests[0].skew_rad->value != must_run(saw(), before).tests[0].skew_rad->value);
}

TEST_CASE("readings anywhere along the strip give the same skew, exact") {
    for (const double e : {0.0011, -0.0023}) {
        for (const shop::Side kept : {shop::Side::left, shop::Side::right}) {
            for (const auto& [from_fence, from_far] : {std::pair{0.0, 0.0}, {20.0, 0.0}, {0.0, 35.5}, {60.25, 90.0}}) {
                const Trial t =
                    must_run(saw_with(e, kept), {CutTest{}, Read{End::fence, from_fence}, Read{End::far, from_far}}, 1,
                             Precision::exact);
                CHECK(std::abs(t.tests[0].skew_rad->value - e) < 1e-12);
                CHECK(t.tests[0].skew_rad->u == 0.0);
                const double length = t.cut().strip->length_mm;
                CHECK(t.tests[0].between->value_mm == doctest::Approx(length - from_fence - from_far).epsilon(1e-12));
            }
        }
    }
}

TEST_CASE("readings at the place where the caliper stood last count; the same place again is a repeat") {
    const Trial one = must_run(saw(), {CutTest{}, Read{End::fence, 10.0}, Read{End::far}, Read{End::fence, 0.0}});
    REQUIRE(one.tests[0].fence_end.size() == 2);
    CHECK(one.tests[0].strip->fence_end_mm.value == one.tests[0].fence_end[1].value_mm);
    const Trial two = must_run(saw(), {CutTest{}, Read{End::fence}, Read{End::fence}, Read{End::far}});
    CHECK(two.tests[0].strip->fence_end_mm.value ==
          doctest::Approx(0.5 * (two.tests[0].fence_end[0].value_mm + two.tests[0].fence_end[1].value_mm)));
    CHECK(two.tests[0].strip->fence_end_mm.u < one.tests[0].strip->fence_end_mm.u);
}

TEST_CASE("tests of one set-up are averaged: u shrinks by the root of their number; a shim in between ends that") {
    Actions a = cut_and_read();
    const double u1 = must_run(saw(), a).tests[0].pooled_rad->u;
    for (int n = 2; n <= 5; ++n) {
        a = a + cut_and_read();
        const Trial t = must_run(saw(), a);
        const session::Test& last = t.tests.back();
        double mean = 0.0;
        for (const session::Test& test : t.tests) mean += test.skew_rad->value / n;
        CHECK(last.pooled_tests == n);
        CHECK(last.pooled_rad->value == doctest::Approx(mean).epsilon(1e-12));
        CHECK(last.pooled_rad->u == doctest::Approx(u1 / std::sqrt(static_cast<double>(n)))
                                        .epsilon(1e-3));  // u moves a little with each reading
        for (std::size_t k = 1; k < t.tests.size(); ++k)
            CHECK(t.tests[k].skew_rad->value != t.tests[k - 1].skew_rad->value);
    }
    const Trial shimmed = must_run(saw(), a + Actions{PutShim{At::left, 1}} + cut_and_read());
    CHECK(shimmed.tests.back().pooled_tests == 1);
    // Taken out again: the set-up of before, but not just before. Only neighbours are averaged.
    const Trial back = must_run(
        saw(), a + Actions{PutShim{At::left, 1}} + cut_and_read() + Actions{TakeShim{At::left}} + cut_and_read());
    CHECK(back.tests.back().pooled_tests == 1);
}

TEST_CASE("however far in from both ends the caliper may stand, its places do not cross") {
    const auto h = session::run(saw(), Actions{CutTest{}}, 1, measure::Precision::exact);
    REQUIRE(h.has_value());
    const double most = h->seen().last_test()->furthest_in_mm;
    REQUIRE(most > 50.0);
    const Trial t = must_run(saw(), Actions{CutTest{}, Read{End::fence, most}, Read{End::far, most}});
    CHECK(t.tests.back().fence_end.back().station_mm < t.tests.back().far_end.back().station_mm - 10.0);
    CHECK(t.tests.back().skew_rad->value > 0.0);  // so the wider end is still the fence's
}

TEST_CASE("what stands behind one end is proposed to be taken from there") {
    // A square fence with 0.25 mm behind one end, and a drawer whose thinnest piece is 0.3 mm: best is to take it out.
    scenario::Scenario s = saw_with(0.0);
    s.drawing.drawer = {{"sheet", 0.3, 0.004, 3}, {"plate", 0.4, 0.004, 3}};
    for (const At end : {At::left, At::right}) {
        const auto t = job::run(s, Actions{PutThickness{end, 0.25}} + cut_and_read() + Actions{WorkOut{}}, 1,
                                measure::Precision::exact);
        REQUIRE(t.has_value());
        const auto& proposal = t->tests.back().proposal;
        REQUIRE(proposal.has_value());
        REQUIRE(proposal->other_way.has_value());
        const auto& there = end == At::left ? proposal->other_way->take_left : proposal->other_way->take_right;
        const auto& elsewhere = end == At::left ? proposal->other_way->take_right : proposal->other_way->take_left;
        REQUIRE(there.size() == 1);
        CHECK(there[0].thickness_mm == 0.25);
        CHECK(elsewhere.empty());
    }
}

TEST_CASE("the number of tests that would decide it is enough when the mean stays") {
    scenario::Scenario s = saw_with(0.0002);
    s.drawing.caliper = {"vernier caliper", 0.05, 0.05, 0.03, 8};
    int checked = 0;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        // Of the strip; of the fence tests/diagnose/claim_test.cpp.
        const diagnose::Verdict v =
            diagnose::judge(*must_run(s, cut_and_read(), seed).tests[0].skew_rad, s.drawing.tolerance_rad);
        if (v.state != diagnose::State::undecided || v.tests_to_decide == 0) continue;
        ++checked;
        const double middle = 0.5 * (v.coverage95.lo + v.coverage95.hi);
        const double half =
            0.5 * (v.coverage95.hi - v.coverage95.lo) / std::sqrt(static_cast<double>(v.tests_to_decide));
        const bool inside = std::abs(middle) + half <= v.tolerance_rad * (1.0 + 1e-9);
        const bool outside = std::abs(middle) - half > v.tolerance_rad * (1.0 - 1e-9);
        CHECK((inside || outside));
    }
    CHECK(checked > 10);
}

TEST_CASE("proved only once the working was asked for, and not after the shims have changed") {
    const scenario::Scenario square = saw_with(0.0);
    CHECK_FALSE(must_run(square, cut_and_read()).proved);
    CHECK(must_run(square, cut_and_read() + Actions{WorkOut{}}).proved);
    CHECK_FALSE(must_run(square, cut_and_read() + Actions{WorkOut{}, PutShim{At::left, 1}}).proved);
    CHECK(must_run(square, cut_and_read() + Actions{WorkOut{}, PutShim{At::left, 1}, TakeShim{At::left}}).proved);
}

TEST_CASE("two values set at once are checked together, and either both are set or none") {
    // The built-in board with a strip of 12 mm: alone, a board as narrow as 40 mm with trims of 8 mm is refused; with
    // smaller trims it is allowed.
    const Trial t = must_run(saw(), {session::SetBoth{{"board.width", "40 mm"}, {"board.trim", "2 mm"}}});
    CHECK(t.seen.drawing.board.width_mm == 40.0);
    CHECK(t.seen.drawing.board.trim_mm == 2.0);
    History run(saw(), 1);
    const auto refused = run.act(session::SetBoth{{"board.width", "300 mm"}, {"board.length", "banana"}});
    REQUIRE_FALSE(refused);
    CHECK(refused.error().message.find("banana") != std::string::npos);
    CHECK(run.seen().drawing.board.width_mm == saw().drawing.board.width_mm);
}
