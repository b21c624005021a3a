// The one strong button, followed to its end in the job and then in the notebook: no dead end, no loop, and no two
// pages that contradict each other.
#include <doctest/doctest.h>

#include <filesystem>
#include <set>

#include <fmt/format.h>

#include "repeats.h"
#include "window_support.h"

using namespace offsquare;
using session::Leaf;
using session::Proved;
using window_test::settle;
using window_test::shipped;
using window_test::Window;

namespace {

/// What a person has before the eyes, and how much is known by then.
struct Screen {
    std::string where;
    session::Now now;
    std::size_t known = 0;
    double progress = 0.0;
    std::string text() const { return fmt::format("{}: {} [{}]", where, now.heading, now.button); }
    /// The same twice: what was pressed brought nothing new.
    std::string key() const { return fmt::format("{}|{}|{}|{}", text(), now.why, known, progress); }
};

/// How much was read and put right. A test that no strip comes of tells that once; cut again it tells nothing new.
std::size_t known(const session::Seen& seen) {
    std::size_t n = seen.checks.size() + seen.repairs.size();
    bool failed_before = false;
    for (const session::Test& test : seen.tests) {
        const bool fails = test.outcome != cut::Outcome::done;
        if (!fails || !failed_before) ++n;
        failed_before = fails;
        n += test.fence_end.size() + test.far_end.size() + (test.worked_out ? 1U : 0U);
    }
    return n;
}

Screen screen_of(const Window& w) {
    const bool notebook = w.state.notebook.hunt.open;
    return {notebook ? std::string(gui::name_of(w.state.notebook.hunt.page)) : "job",
            notebook ? w.state.notebook.hunt.now(w.bench) : w.bench.now(), known(w.bench.seen()),
            w.bench.view.progress};
}

bool half_read(const session::Next& next) {
    return next.todo == session::Todo::read_fence_end || next.todo == session::Todo::read_far_end ||
           next.todo == session::Todo::work_out;
}

/// Job and pages say the same of the saw as it is, whatever page is open.
void pages_agree(Window& w) {
    const session::Seen& seen = w.bench.seen();
    const bool was_open = w.state.notebook.hunt.open;
    const Leaf was = w.state.notebook.hunt.page;
    w.state.notebook.hunt.open = true;
    const auto on = [&](Leaf leaf) {
        w.state.notebook.hunt.page = leaf;
        settle(w);
        return w.state.notebook.hunt.now(w.bench);
    };
    const session::Next job = w.bench.next();
    const bool square = seen.proved;
    CHECK(square == (job.todo == session::Todo::done));

    const session::Now proof = on(Leaf::proof);
    const bool passed = session::proof_of(seen) == Proved::passed;
    CHECK((passed || session::proof_of(seen) == Proved::marked) == square);
    CHECK(w.window.record().says("Not proved yet") == (session::proof_of(seen) == Proved::not_cut));
    CHECK(w.window.record().says("Nothing has been put right yet.") == seen.repairs.empty());
    if (half_read(job)) CHECK(proof.button == session::words_of(job, seen, seen.units).button);

    const session::Now suspects = on(Leaf::suspects);
    CHECK((suspects.heading == "A test is half read") == half_read(job));
    CHECK(suspects.heading != "Weighing the readings…");
    const bool ends =
        suspects.heading == "Nothing is left to find" || suspects.heading == "Nothing has to be put right";
    if (ends) CHECK(proof.heading == "Proved");
    if (proof.heading == "Proved") CHECK(passed);
    if (proof.heading == "Proved") CHECK(suspects.heading != "Put it right");

    on(Leaf::symptom);
    if (seen.last_test() != nullptr && seen.last_test()->verdict)
        CHECK(w.window.record().says(session::verdict_sentence(*seen.last_test(), w.bench.view.units)));
    w.state.notebook.hunt.page = was;
    w.state.notebook.hunt.open = was_open;
    settle(w);
}

struct End {
    bool proved = false;
    bool nothing_new = false;  ///< the same screen as before, and nothing more is known
    int presses = 0;
    std::string last;
};

/// Presses, by key or by mouse, until the proof stands or `most` presses are made. `tell` is called for each screen.
template <class Press, class Tell>
End follow(Window& w, int most, const Press& press, const Tell& tell) {
    std::set<std::string> seen;
    End end;
    bool in_job = true;
    for (; end.presses < most; ++end.presses) {
        settle(w);
        const Screen screen = screen_of(w);
        tell(screen);
        end.last = screen.text();
        end.nothing_new = !seen.insert(screen.key()).second;
        if (end.nothing_new) return end;
        CHECK_FALSE(w.bench.said_is_bad);
        end.proved = session::proof_of(w.bench.seen()) == Proved::passed;
        if (screen.now.button.empty()) {
            if (!in_job || !w.bench.seen().proved) return end;
            w.type("b");  // the job is done; the notebook goes on from there
        } else {
            press(w, screen);
        }
        if (w.state.notebook.hunt.open) in_job = false;
    }
    return end;
}

void by_key(Window& w, const Screen&) { w.type("n"); }

void by_mouse(Window& w, const Screen& screen) {
    // The button's own words stand on it, where the mouse can reach it.
    const gui::Drawn* button = w.window.record().find(screen.now.button, gui::Kind::button);
    REQUIRE_MESSAGE(button != nullptr, screen.now.button);
    CHECK(button->visible);
    CHECK(w.window.click(screen.now.button, gui::Kind::button));
    w.frames(4);
}

}  // namespace

TEST_CASE("the one strong button leads from the first cut to the proof: by keys, and by the mouse alike" *
          doctest::skip(repeats::sanitized)) {
    std::string ends[2];
    for (const bool mouse : {false, true}) {
        CAPTURE(mouse);
        Window w;
        w.bench.view.reduced_motion = true;
        const End end = follow(w, 40, mouse ? by_mouse : by_key, [&](const Screen&) {
            if (!mouse) pages_agree(w);
        });
        CHECK_MESSAGE(end.proved, end.last);
        CHECK_FALSE(end.nothing_new);
        ends[mouse ? 1 : 0] = session::to_text(w.bench.log());
    }
    CHECK(ends[0] == ends[1]);
}

TEST_CASE("where both ends are shimmed, and where the face is marked, it leads to the proof through the notebook" *
          doctest::skip(repeats::sanitized)) {
    for (const std::string name : {"square-by-noon", "step-in-the-face"}) {
        CAPTURE(name);
        Window w;
        w.bench.view.reduced_motion = true;
        w.bench.open(shipped(name));
        const End end = follow(w, 60, by_key, [&](const Screen&) { pages_agree(w); });
        CHECK_MESSAGE(end.proved, end.last);
        CHECK_FALSE(end.nothing_new);
        CHECK(w.state.notebook.hunt.page == Leaf::proof);
    }
}

// Minutes of work, so it is run by hand: test_gui --no-skip -tc="every shipped case*"
TEST_CASE("every shipped case: the one button leads to the proof" * doctest::skip(true)) {
    for (const auto& file : std::filesystem::directory_iterator(OFFSQUARE_SOURCE_DIR "/scenarios")) {
        const std::string name = file.path().stem().string();
        CAPTURE(name);
        Window w;
        w.bench.view.reduced_motion = true;
        w.bench.open(shipped(name));
        std::string way;
        const End end = follow(w, 150, by_key, [&](const Screen& s) {
            pages_agree(w);
            way += fmt::format("\n   {:3} {}", s.known, s.text());
        });
        MESSAGE(fmt::format("{}: {} after {} presses and {} minutes{}", name, end.proved ? "proved" : "NOT PROVED",
                            end.presses, w.bench.seen().minutes, way));
        CHECK_MESSAGE(end.proved, end.last);
    }
}
