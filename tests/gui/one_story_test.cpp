// Job and notebook are one story: what is done in either stands in both, in its place and order, and is taken back and
// done again to the last byte. Driven through ImGui's own input, without a display.
#include <doctest/doctest.h>

#include "repeats.h"

#include <algorithm>

#include "gui/tell.h"
#include "picture/writers.h"
#include "window_support.h"

using namespace offsquare;
using session::Leaf;
using session::Proved;
using window_test::settle;
using window_test::shipped;
using window_test::Window;

namespace {

/// What was done and is not taken back, as a file: two sessions with the same bytes are the same session.
std::string standing(const gui::Bench& bench) {
    session::Log log = bench.log();
    log.entries = session::entries_of(bench.history().actions());
    return session::to_text(log);
}

/// Everything that a person sees of the saw, on the job's page and on every page of the notebook, and the picture on
/// paper. What was just said is left out: it tells of the way and not of the place.
std::string seen_on_all_pages(Window& w) {
    const bool was_open = w.state.notebook.hunt.open;
    const Leaf was = w.state.notebook.hunt.page;
    std::string all;
    const auto look = [&] {
        w.bench.said_for = 0.0;
        w.bench.view.progress = w.bench.last_cut();
        settle(w);
        all += gui::as_lines(w.window.record());
    };
    w.state.notebook.hunt.open = false;
    look();
    w.state.notebook.hunt.open = true;
    for (int page = 0; page < gui::hunt_pages; ++page) {
        w.state.notebook.hunt.page = static_cast<Leaf>(page);
        look();
    }
    w.state.notebook.hunt.page = was;
    w.state.notebook.hunt.open = was_open;
    const auto svg = picture::render(picture::sheet(w.bench.seen(), w.bench.options()), {}, "svg");
    REQUIRE(svg);
    return all + *svg;
}

void turn_to(Window& w, Leaf page) {
    if (!w.state.notebook.hunt.open) w.type("b");
    REQUIRE(w.press(std::string(gui::name_of(page)).c_str()));
    REQUIRE(w.state.notebook.hunt.page == page);
}

/// The heights at which these words stand on the window, from the top; all of them must.
std::vector<float> heights_of(const Window& w, const std::vector<std::string>& words) {
    std::vector<float> heights;
    for (const std::string& text : words) {
        const auto& items = w.window.record().items();
        // From the last one that was found downwards: the same words may stand there again.
        const float above = heights.empty() ? -1e9F : heights.back();
        const auto found = std::find_if(items.begin(), items.end(), [&](const gui::Drawn& d) {
            return d.kind != gui::Kind::toast && d.lo.y > above && d.label.find(text) != std::string::npos;
        });
        REQUIRE_MESSAGE(found != items.end(), text);
        heights.push_back(found->lo.y);
    }
    return heights;
}

/// These stand one under the other, in this order.
void in_order(const Window& w, const std::vector<std::string>& words) { heights_of(w, words); }

std::size_t intentions(const gui::Bench& bench) {
    const auto& record = bench.history().record();
    return static_cast<std::size_t>(std::count_if(record.begin(), record.end(), [](const session::Entry& e) {
        return e.kind == session::Entry::Kind::act && !e.taken_back && !e.joins;
    }));
}

void undo(Window& w) {
    w.window.key(gui::Key::z, {true, false, false});
    w.frames(3);
}
void redo(Window& w) {
    w.window.key(gui::Key::y, {true, false, false});
    w.frames(3);
}

void repair(Window& w, const char* fault) {
    turn_to(w, Leaf::repairs);
    REQUIRE(w.press(fault));
    REQUIRE(w.press("Make this repair"));
    REQUIRE(w.state.notebook.hunt.page == Leaf::proof);
}

/// Back to the start, one intention each time, and on to the end again; every stop on the way back is the stop that was
/// there on the way to it.
void to_the_start_and_back(Window& w, const std::string& at_the_start) {
    const std::string before = standing(w.bench);
    const std::string looked = seen_on_all_pages(w);
    std::vector<std::string> stops;
    while (w.bench.history().can_take_back()) {
        stops.push_back(standing(w.bench));
        const std::size_t stood = intentions(w.bench);
        undo(w);
        REQUIRE(intentions(w.bench) == stood - 1);
    }
    CHECK(standing(w.bench) == at_the_start);
    CHECK(w.bench.seen().events.empty());
    CHECK(w.bench.notes().empty());
    CHECK(w.bench.seen().minutes == 0.0);
    for (; !stops.empty(); stops.pop_back()) {
        redo(w);
        CHECK(standing(w.bench) == stops.back());
    }
    CHECK_FALSE(w.bench.history().can_do_again());
    CHECK(standing(w.bench) == before);
    CHECK(seen_on_all_pages(w) == looked);
    // The file keeps that it was taken back and done again, and comes to the same place.
    const auto replay = session::replay(session::to_text(w.bench.log()), "story.jsonl");
    REQUIRE(replay);
    CHECK(replay->history.record().size() == w.bench.history().record().size());
    CHECK(replay->history.actions().size() == w.bench.history().actions().size());
}

}  // namespace

TEST_CASE("shimmed and proved in the job with one key: the notebook has the repair, what it struck out, and the proof" *
          doctest::skip(repeats::sanitized)) {
    Window w;
    const std::string start = standing(w.bench);
    w.bench.view.reduced_motion = true;
    for (int i = 0; i < 20 && w.bench.next().todo != session::Todo::put_shims; ++i) w.type("n");
    REQUIRE(w.bench.next().todo == session::Todo::put_shims);

    // Before the shim: one reading, it holds, and nothing was put right.
    turn_to(w, Leaf::proof);
    CHECK(w.window.record().says("Nothing has been put right yet."));
    CHECK_FALSE(w.window.record().says("No longer holds"));
    REQUIRE(w.bench.notes().size() == 1);
    w.type("b");
    w.type("n");
    REQUIRE(w.bench.next().todo == session::Todo::prove);

    turn_to(w, Leaf::proof);
    CHECK_FALSE(w.window.record().says("Nothing has been put right yet."));
    CHECK(w.window.record().says("Not proved yet"));
    REQUIRE(w.bench.notes().size() == 1);
    CHECK_FALSE(w.bench.notes()[0].holds());
    const std::string shimmed = "No longer holds: other shims were put behind the fence after it.";
    // The readings in order, and what was done: the test, why it no longer holds, then the repair.
    in_order(w, {"1  Five-cut test", shimmed, "Put right: fence off square, by shims."});
    in_order(w, {"What was done", "Test. Fail", shimmed, "Put right: fence off square. Shims behind the fence."});
    CHECK(w.state.notebook.hunt.now(w.bench).button == "Cut the proof");
    w.type("b");

    for (int i = 0; i < 20 && !w.bench.seen().proved; ++i) w.type("n");
    CHECK(w.window.record().says("Proved square"));
    turn_to(w, Leaf::proof);
    CHECK(w.window.record().says("Proved"));
    CHECK_FALSE(w.window.record().says("Not proved yet"));
    CHECK_FALSE(w.window.record().says("Nothing has been put right yet."));
    settle(w);
    CHECK(w.state.notebook.hunt.now(w.bench).heading == "Proved");
    in_order(w, {"1  Five-cut test", shimmed, "Put right: fence off square, by shims.", "2  Five-cut test"});
    in_order(w, {"Test. Fail", shimmed, "Put right: fence off square", "Test. Pass"});
    CHECK(w.bench.notes().back().holds());
    turn_to(w, Leaf::suspects);
    settle(w);
    CHECK(w.state.notebook.hunt.now(w.bench).heading == "Nothing is left to find");
    turn_to(w, Leaf::repairs);
    settle(w);
    CHECK(w.window.record().says("The last test passes, and nothing has to be put right."));
    CHECK_FALSE(w.window.record().says("The fault is there"));
    turn_to(w, Leaf::symptom);
    CHECK(w.window.record().says("Pass: the fence is square within the tolerance"));
    w.type("b");
    to_the_start_and_back(w, start);
}

TEST_CASE(
    "two boards: a proof that failed stands where it was made, struck out by the next repair; all undone and done "
    "again" *
    doctest::skip(repeats::sanitized)) {
    Window w;
    w.bench.open(shipped("two-boards"));
    w.bench.view.reduced_motion = true;
    w.frames(2);
    const std::string start = standing(w.bench);
    w.type("b");
    w.type("n");  // the first test
    REQUIRE(w.bench.notes().size() == 1);
    repair(w, "left runner loose");
    w.type("n");  // the proof
    REQUIRE(session::proof_of(w.bench.seen()) == Proved::failed);
    CHECK(w.window.record().says("Not square yet"));
    const std::string failed = session::verdict_in_short(*w.bench.last_test(), w.bench.view.units);
    in_order(w, {"Put right: left runner loose", "Test. " + failed});
    std::vector<std::string> titles;
    for (const session::Note& note : w.bench.notes())
        titles.push_back(session::words_of(note, titles.size() + 1, w.bench.seen().drawing, w.bench.view.units).title);
    REQUIRE(titles.size() == 2);

    repair(w, "fence bowed");
    CHECK(w.window.record().says("Not proved yet"));
    CHECK(w.window.record().says("Test. " + failed));
    const std::string struck = "No longer holds: \"fence bowed\" was put right after it.";
    in_order(w, {"What was done", "Put right: left runner loose", "Test. " + failed, struck, "Put right: fence bowed"});
    in_order(w, {titles[0], "Put right: left runner loose.", titles[1], struck, "Put right: fence bowed."});
    REQUIRE(w.bench.notes().size() == 2);
    CHECK_FALSE(w.bench.notes()[1].holds());

    // The next proof is written under it, and the job speaks of the same test.
    w.type("n");
    REQUIRE(w.bench.notes().size() == 3);
    const std::string last = session::verdict_in_short(*w.bench.last_test(), w.bench.view.units);
    in_order(w, {"Put right: left runner loose", "Test. " + failed, struck, "Put right: fence bowed", "Test. " + last});
    in_order(w, {titles[0], titles[1], "Put right: fence bowed.", "3  Five-cut test"});
    w.type("b");
    CHECK(w.window.record().says(session::working(*w.bench.last_test(), w.bench.view.units).conclusion));
    w.type("b");
    CHECK(intentions(w.bench) == 5);  // the test, two repairs, two proofs
    to_the_start_and_back(w, start);
}
