// The hunts on the cases that ship, followed by the one strong button in the notebook to their end: no two parts of a
// page contradict each other, nothing is called done that is not, and what the owner said has been looked into.
#include <doctest/doctest.h>

#include <set>

#include <fmt/format.h>

#include "lesson/cases.h"
#include "repeats.h"
#include "session/complaint.h"
#include "window_support.h"

using namespace offsquare;
using session::Leaf;
using session::Todo;
using window_test::settle;
using window_test::Window;

namespace {

/// All words of the picture of the suspects, a line of them behind the other.
std::string words_of(const picture::DiagnosisView& view) {
    std::string all;
    for (const picture::Item& item : view.picture.items) {
        if (const auto* words = std::get_if<picture::Words>(&item.shape)) all += words->text + " ";
    }
    return all;
}

bool has(const std::string& text, std::string_view part) { return text.find(part) != std::string::npos; }

/// The card beside the picture of the suspects and the picture itself say the same, and so does the page of the proof.
void pages_agree(gui::Hunt& hunt, const gui::Bench& bench) {
    const Leaf was = hunt.page;
    hunt.page = Leaf::suspects;
    const session::Now now = hunt.now(bench);
    const picture::DiagnosisView* view = hunt.view(bench, {1000.0, 0.0, bench.view.units, ""});
    if (view != nullptr) {
        const std::string picture = words_of(*view);
        CAPTURE(now.heading);
        const session::Next next = session::next_on({Leaf::suspects, hunt.check, hunt.fault, bench.took_hold()},
                                                    bench.seen(), hunt.findings());
        const bool repairs = next.todo == Todo::repair;
        if (!repairs) CHECK_FALSE(has(picture, "Next: put right"));
        else CHECK(has(picture, "Next: "));
        if (repairs) CHECK(has(picture, session::name_of(*next.fault)));
        if (next.todo == Todo::done || next.todo == Todo::take_hold) CHECK_FALSE(has(picture, "Next: "));
        if (next.todo == Todo::done || next.todo == Todo::take_hold) CHECK(has(picture, now.heading));
        // A strip that is half read is said of one only.
        if (now.heading == "A test is half read") CHECK_FALSE(bench.last_test()->worked_out);
        hunt.page = Leaf::proof;
        const session::Now proof = hunt.now(bench);
        if (has(proof.why, "The case is closed")) CHECK(next.todo == Todo::done);
        if (next.todo == Todo::done) CHECK(proof.heading == "Proved");
        if (repairs || !bench.seen().proved) CHECK(proof.heading != "Proved");
        CHECK_FALSE((has(proof.why, "after the last repair") && bench.seen().repairs.empty()));
    }
    hunt.page = was;
}

/// Presses until there is nothing to press.
std::string follow(gui::Hunt& hunt, gui::Bench& bench, int most) {
    std::set<std::string> seen;
    std::string way;
    for (int i = 0; i < most; ++i) {
        hunt.follow(bench);
        hunt.wait();
        hunt.follow(bench);
        pages_agree(hunt, bench);
        const session::Now now = hunt.now(bench);
        way += fmt::format("\n {:9} {} [{}] {}", gui::name_of(hunt.page), now.heading, now.button, now.why);
        if (now.button.empty()) return way;
        const std::string screen = fmt::format("{} {} {} {} {}", gui::name_of(hunt.page), now.heading, now.why,
                                               bench.changes(), bench.took_hold());
        CHECK_MESSAGE(seen.insert(screen).second, way);
        if (!seen.contains(screen)) return way;
        hunt.next_step(bench);
        if (std::exchange(hunt.wants_hold, false)) bench.take_hold();
    }
    return way;
}

void hunt_to_the_end(const lesson::Case& c, bool tell = false) {
    CAPTURE(c.name);
    gui::Bench bench{c.scenario};
    gui::Hunt hunt;
    hunt.open = true;
    const std::string way = follow(hunt, bench, 60);
    CAPTURE(way);
    CHECK(hunt.closed(bench));
    CHECK(bench.seen().proved);
    const std::string became = session::complaint_words(bench.seen(), bench.took_hold());
    CHECK_FALSE(became.empty());
    CHECK_FALSE(has(became, "Not looked into"));
    if (c.scenario.speaks_of == scenario::Concern::slide) {
        // What sticks is pushed by hand before anything is cut on it.
        const auto* first = std::get_if<session::MakeCheck>(&bench.seen().events.front().action);
        REQUIRE(first != nullptr);
        CHECK(first->check == measure::Check::push_through);
        CHECK_FALSE(session::to_be_pushed_first(bench.seen()));
    }
    if (tell)
        MESSAGE(
            fmt::format("{}: {:.0f} min, {:.0f} mm; {}", c.name, bench.seen().minutes, bench.seen().stock_mm, became));
}

}  // namespace

TEST_CASE("three cases followed to the end: pages agree, nothing is left, and what the owner said was looked into" *
          doctest::skip(repeats::sanitized)) {
    for (const char* name : {"sticks-half-way", "burns-but-square", "never-proves"})
        hunt_to_the_end(*lesson::find_case(name));
}

// A minute of work, so it is run by hand: test_gui --no-skip -tc="every case followed*"
TEST_CASE("every case followed to its end in the notebook" * doctest::skip(true)) {
    for (const lesson::Case& c : lesson::cases()) hunt_to_the_end(c, true);
}

TEST_CASE("a case about how the sled goes does not close by a square corner: the sled is taken hold of first" *
          doctest::skip(repeats::sanitized)) {
    Window w;
    scenario::Scenario saw = *scenario::with(scenario::built_in(), {{"complaint", "It is heavy to push."},
                                                                    {"speaks_of", "slide"},
                                                                    {"faults.fence_skew", "0"},
                                                                    {"faults.left_play", "0.06mm"},
                                                                    {"faults.right_play", "0.06mm"},
                                                                    {"feed.at", "120mm"}});
    w.bench.open(saw);
    w.type("b");
    CHECK(w.state.notebook.hunt.now(w.bench).heading == "Push the sled through first");
    w.type("n");
    REQUIRE(w.bench.notes().size() == 1);
    CHECK(w.bench.notes()[0].report.occasion.check == measure::Check::push_through);
    // Something that binds no sled is put right, and the proof passes.
    REQUIRE(w.bench.act(session::Repair{shop::Fault::blade_tilt}));
    w.state.notebook.hunt.page = Leaf::proof;
    settle(w);
    for (int i = 0; i < 4 && !w.bench.seen().proved; ++i) {
        w.type("n");
        settle(w);
    }
    REQUIRE(w.bench.seen().proved);
    CHECK(w.state.notebook.hunt.now(w.bench).button == "Take hold of the sled");
    CHECK(w.window.record().says("Not looked into yet"));
    CHECK_FALSE(w.window.record().says("The next case"));

    w.type("n");
    REQUIRE(w.state.push.pushing.open);
    w.type("n");  // nothing was pushed yet
    CHECK(w.state.push.pushing.open);
    const gui::Drawn* grip = w.window.record().find("Hold: push (F)");
    REQUIRE(grip != nullptr);
    w.window.mouse_move((grip->lo.x + grip->hi.x) / 2.0F, (grip->lo.y + grip->hi.y) / 2.0F);
    w.window.mouse_button(true);
    w.frames(60);
    w.window.mouse_button(false);
    w.frames(2);
    CHECK(w.window.record().says("Back to the notebook"));
    w.type("n");
    settle(w);
    CHECK(w.state.notebook.hunt.open);
    CHECK(w.state.notebook.hunt.page == Leaf::proof);
    CHECK(w.state.notebook.hunt.now(w.bench).heading == "Proved");
    CHECK(w.window.record().says("Pushed 120 mm right of the blade it goes with"));
    CHECK(w.window.record().says("The next case"));
    // Another repair, and it has to be felt again.
    REQUIRE(w.bench.act(session::Repair{shop::Fault::fence_lean}));
    CHECK_FALSE(w.bench.took_hold());
}
