// Unsaved work: when it is written, who may touch it, how it is offered. The clock is a number that the test chooses.
#include "gui/keep/unsaved.h"

#include <doctest/doctest.h>
#include <sys/wait.h>

#include <algorithm>
#include <chrono>
#include <csignal>

#include "base/scratch.h"
#include "session/next.h"
#include "window_support.h"

using namespace offsquare;
using gui::Bench;
using gui::Unsaved;
using scratch::Folder;
using window_test::Window;

namespace {

std::vector<std::string> files_in(const std::filesystem::path& folder) {
    std::vector<std::string> files;
    std::error_code none;
    for (const auto& entry : std::filesystem::directory_iterator(folder, none)) {
        if (entry.path().extension() == ".jsonl") files.push_back(entry.path().string());
    }
    return files;
}

/// A window that ended without a word, having cut `tests` times.
void left_behind(const std::filesystem::path& state, int tests) {
    Unsaved gone(state);
    Bench bench(scenario::built_in());
    for (int i = 0; i < tests; ++i) REQUIRE(bench.act(session::CutTest{}));
    gone.write(bench);
}

}  // namespace

TEST_CASE(
    "unsaved work is written half a minute after the first change, again after later ones, and taken away by a save") {
    const Folder folder;
    Unsaved unsaved(folder.path);
    Bench bench(scenario::built_in());
    unsaved.tick(bench, 1000.0);
    unsaved.tick(bench, 2000.0);
    CHECK(folder.names().empty());  // nothing was done
    REQUIRE(bench.act(session::CutTest{}));
    unsaved.tick(bench, 2000.0);
    unsaved.tick(bench, 2029.9);
    CHECK(files_in(folder.path).empty());
    unsaved.tick(bench, 2030.0);
    REQUIRE(files_in(folder.path).size() == 1);
    const std::string file = files_in(folder.path).front();
    CHECK(scratch::text_of(file) == session::to_text(bench.log()));
    REQUIRE(bench.act(session::Read{session::End::fence, 0.0}));
    unsaved.tick(bench, 2031.0);
    unsaved.tick(bench, 2060.9);
    CHECK(scratch::text_of(file) != session::to_text(bench.log()));
    unsaved.tick(bench, 2061.0);
    CHECK(scratch::text_of(file) == session::to_text(bench.log()));
    bench.saved();
    unsaved.tick(bench, 2062.0);
    CHECK(folder.names().empty());
    // Undone to the start it can still be done again: that is kept too.
    bench.undo();
    bench.undo();
    unsaved.write(bench);
    REQUIRE(files_in(folder.path).size() == 1);
    const auto kept = session::replay(scratch::text_of(files_in(folder.path).front()), "kept");
    REQUIRE(kept);
    CHECK(kept->history.actions().empty());
    Bench taken_up(scenario::built_in());
    taken_up.take_up(*kept);
    taken_up.redo();
    taken_up.redo();
    CHECK(taken_up.history().actions().size() == 2);
    // A fresh start has nothing to keep.
    bench.start_again();
    unsaved.tick(bench, 2063.0);
    CHECK(folder.names().empty());
}

TEST_CASE("a fresh start is another evening at the same saw: nothing of the last one, and other readings") {
    Bench bench(scenario::built_in());
    const auto readings = [&] {
        for (const session::Action& a : session::proof_intention()) REQUIRE(bench.act(a));
        std::vector<double> all;
        for (const measure::Reading& r : bench.seen().tests.back().fence_end) all.push_back(r.value_mm);
        for (const measure::Reading& r : bench.seen().tests.back().far_end) all.push_back(r.value_mm);
        return all;
    };
    const auto first = readings();
    bench.start_again();
    CHECK(bench.seen().events.empty());
    CHECK(readings() != first);
}

TEST_CASE("work left behind is offered at the next start, taken up whole, and still to be saved") {
    const Folder folder;
    left_behind(folder.path, 2);
    Unsaved unsaved(folder.path);
    REQUIRE(unsaved.offers());
    CHECK(unsaved.when().size() == 5);  // "14:05"
    Bench bench(scenario::built_in());
    REQUIRE(unsaved.take_up(bench));
    CHECK(bench.history().actions().size() == 2);
    CHECK(bench.seen().tests.size() == 2);
    CHECK(bench.unsaved());
    CHECK_FALSE(unsaved.offers());
    CHECK(files_in(folder.path).size() == 1);  // it stays on the disk until it is saved
    bench.saved();
    unsaved.tick(bench, 0.0);
    CHECK(folder.names().empty());
}

TEST_CASE("of several works left behind the one that was written last is offered first") {
    using namespace std::chrono_literals;
    for (const bool longer_is_older : {false, true}) {
        const Folder folder;
        left_behind(folder.path, 1);
        left_behind(folder.path, 2);
        const auto files = files_in(folder.path);
        REQUIRE(files.size() == 2);
        const auto longer = std::max_element(files.begin(), files.end(), [](const auto& a, const auto& b) {
            return scratch::text_of(a).size() < scratch::text_of(b).size();
        });
        const auto now = std::filesystem::last_write_time(*longer);
        for (const std::string& file : files)
            std::filesystem::last_write_time(file, (file == *longer) == longer_is_older ? now - 1h : now);
        Unsaved unsaved(folder.path);
        Bench bench(scenario::built_in());
        REQUIRE(unsaved.take_up(bench));
        CHECK(bench.history().actions().size() == (longer_is_older ? 1 : 2));
    }
}

TEST_CASE("thrown away, it is gone; the next older is offered then") {
    const Folder folder;
    {
        Unsaved a(folder.path), b(folder.path);  // two windows at once
        Bench one(scenario::built_in()), two(scenario::built_in());
        REQUIRE(one.act(session::CutTest{}));
        REQUIRE(two.act(session::CutTest{}));
        REQUIRE(two.act(session::CutTest{}));
        a.write(one);
        b.write(two);
        CHECK(files_in(folder.path).size() == 2);    // each has its own
        CHECK_FALSE(Unsaved(folder.path).offers());  // a third window leaves them alone
        one.saved();
        a.tick(one, 0.0);
        REQUIRE(files_in(folder.path).size() == 1);
        CHECK(scratch::text_of(files_in(folder.path).front()) == session::to_text(two.log()));
        REQUIRE(one.act(session::CutTest{}));
        a.write(one);
    }
    Unsaved next(folder.path);
    REQUIRE(next.offers());
    next.throw_away();
    REQUIRE(next.offers());
    CHECK(files_in(folder.path).size() == 1);
    next.throw_away();
    CHECK_FALSE(next.offers());
    CHECK(folder.names().empty());
}

TEST_CASE("a program that is killed leaves its work to the next one, and no sooner") {
    const Folder folder;
    int ready[2];
    REQUIRE(::pipe(ready) == 0);
    const pid_t child = ::fork();
    if (child == 0) {
        Unsaved unsaved(folder.path);
        Bench bench(scenario::built_in());
        bench.act(session::CutTest{});
        unsaved.write(bench);
        if (::write(ready[1], "x", 1) != 1) ::_exit(1);
        for (;;) ::pause();
    }
    char c = 0;
    REQUIRE(::read(ready[0], &c, 1) == 1);
    CHECK(files_in(folder.path).size() == 1);
    CHECK_FALSE(Unsaved(folder.path).offers());
    ::kill(child, SIGKILL);
    REQUIRE(::waitpid(child, nullptr, 0) == child);
    CHECK(Unsaved(folder.path).offers());
    ::close(ready[0]);
    ::close(ready[1]);
}

TEST_CASE("what a kill left of a half-written file is taken away at the next start, and nobody else's") {
    const Folder folder;
    left_behind(folder.path, 1);
    for (const char* name : {"unsaved-1-0.jsonl.1.part", "recent.1.part", "unsaved-1-0.jsonl.part"})
        scratch::write(folder / name, "x");
    scratch::Names before = folder.names();
    const Unsaved unsaved(folder.path);
    CHECK(unsaved.offers());
    before.erase("unsaved-1-0.jsonl.1.part");
    CHECK(folder.names() == before);
}

TEST_CASE("work that cannot be read is kept under another name and not offered for ever") {
    const Folder folder;
    left_behind(folder.path, 1);
    const std::string file = files_in(folder.path).front();
    scratch::write(file, "not a session\n");
    Unsaved unsaved(folder.path);
    REQUIRE(unsaved.offers());
    Bench bench(scenario::built_in());
    const auto taken = unsaved.take_up(bench);
    REQUIRE_FALSE(taken);
    CHECK(taken.error().message.find(file + ".kept") != std::string::npos);
    CHECK_FALSE(unsaved.offers());
    CHECK_FALSE(Unsaved(folder.path).offers());
    CHECK(scratch::text_of(file + ".kept") == "not a session\n");
    CHECK(bench.history().actions().empty());
}

TEST_CASE("no place for unsaved work: said once, and what goes aside stays as long as the program runs") {
    const Folder folder;
    scratch::write(folder / "file", "");
    for (const std::filesystem::path& state : {std::filesystem::path(), folder.path / "file/state"}) {
        Unsaved unsaved(state);
        CHECK_FALSE(unsaved.offers());
        Bench bench(scenario::built_in());
        REQUIRE(bench.act(session::CutTest{}));
        unsaved.write(bench);
        CHECK(unsaved.trouble().starts_with("Unsaved work is not kept: "));
        unsaved.write(bench);
        CHECK(unsaved.trouble().empty());
        const auto id = unsaved.set_aside();
        REQUIRE(id);
        REQUIRE(unsaved.left().size() == 1);
        CHECK(unsaved.left().front().so_far.done.starts_with("1 test; "));
        Bench next(scenario::built_in());
        REQUIRE(unsaved.take_up(next, id));
        CHECK(session::to_text(next.log()) == session::to_text(bench.log()));
        CHECK(next.unsaved());
        CHECK_FALSE(unsaved.offers());
    }
}

TEST_CASE("a list of what was left: the newest first, each in plain words, any of them taken up or thrown away") {
    const Folder folder;
    left_behind(folder.path, 3);
    Unsaved unsaved(folder.path);
    Bench bench(scenario::built_in());
    REQUIRE(bench.act(session::CutTest{}));
    unsaved.write(bench);
    REQUIRE(unsaved.set_aside());
    bench.open(scenario::built_in());
    REQUIRE(unsaved.left().size() == 2);
    CHECK(unsaved.left()[0].so_far.done.starts_with("1 test; "));
    CHECK(unsaved.left()[1].so_far.done.starts_with("3 tests; "));
    const std::string called = "“" + scenario::built_in().complaint + "”";
    for (const gui::LeftWork& work : unsaved.left()) CHECK(work.so_far.called == called);
    std::optional<std::uint64_t> aside;
    REQUIRE(unsaved.take_up(bench, unsaved.left()[1].id, &aside));
    CHECK_FALSE(aside);  // nothing had been done on the bench
    CHECK(bench.seen().tests.size() == 3);
    unsaved.throw_away(unsaved.left()[0].id);
    CHECK_FALSE(unsaved.offers());
    CHECK(files_in(folder.path).size() == 1);
    CHECK(unsaved.take_up(bench, 77).has_value());  // nothing of that number: nothing happens
    CHECK(bench.seen().tests.size() == 3);
}

TEST_CASE("in the window: the offer stands above the table, does not hinder, and is answered with the keyboard") {
    const Folder folder;
    left_behind(folder.path, 2);
    Unsaved unsaved(folder.path);
    Window w;
    w.state.files.unsaved = &unsaved;
    w.frames(3);
    REQUIRE(w.window.record().says("Unsaved work from "));
    REQUIRE(w.press("Make the five cuts"));  // the work at hand goes on
    CHECK(w.bench.seen().tests.size() == 1);
    REQUIRE(w.window.tab_to("Restore it"));
    w.window.key(gui::Key::enter);
    w.frames(4);
    CHECK(w.bench.seen().tests.size() == 2);
    // What was begun meanwhile is not lost: now it is the unsaved work that is offered.
    REQUIRE(w.window.record().says("Unsaved work from "));
    REQUIRE(w.press("Throw it away"));
    CHECK_FALSE(w.window.record().says("Unsaved work from "));
    CHECK(files_in(folder.path).size() == 1);
}

TEST_CASE("in the window: opening another file sets unsaved work aside and offers it") {
    const Folder folder;
    std::filesystem::copy_file(OFFSQUARE_SOURCE_DIR "/scenarios/inch-shop-sled.toml", folder / "saw.toml");
    Unsaved unsaved(folder.path / "state");
    Window w;
    w.state.files.unsaved = &unsaved;
    w.frames(3);
    REQUIRE(w.press("Make the five cuts"));
    gui::open_chosen(w.bench, w.state.files, folder / "no such saw.toml");
    CHECK(w.bench.seen().tests.size() == 1);
    CHECK_FALSE(unsaved.offers());
    gui::open_chosen(w.bench, w.state.files, folder / "saw.toml");
    CHECK(w.bench.seen().tests.empty());
    w.frames(3);
    REQUIRE(w.press("Restore it"));
    CHECK(w.bench.seen().tests.size() == 1);
}

TEST_CASE("a session read exactly stays exact in the window") {
    session::Log exact{scenario::built_in(), 1, measure::Precision::exact, {}};
    exact.entries = {session::CutTest{}, session::Read{session::End::fence, 0.0}};
    auto replay = session::replay(session::to_text(exact), "x");
    REQUIRE(replay);
    const double reading = replay->history.seen().tests.back().fence_end.back().value_mm;
    Bench bench(scenario::built_in());
    bench.open(std::move(*replay));
    CHECK(bench.seen().tests.back().fence_end.back().value_mm == reading);
    CHECK(bench.log().precision == measure::Precision::exact);
}
