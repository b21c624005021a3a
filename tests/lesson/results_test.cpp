// What became of the cases, and how it is kept.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include <fcntl.h>
#include <sys/file.h>
#include <sys/wait.h>
#include <unistd.h>

#include "lesson/cases.h"
#include "lesson/results.h"
#include "lesson/so_far.h"
#include "session/next.h"

using namespace offsquare;
using lesson::Became;
using lesson::Result;
using lesson::Results;

namespace {

namespace fs = std::filesystem;

struct Folder {
    fs::path path;
    Folder() {
        std::string name = (fs::temp_directory_path() / "offsquare-cases-XXXXXX").string();
        path = ::mkdtemp(name.data());
    }
    ~Folder() { fs::remove_all(path); }
    std::string text() const {
        std::ostringstream all;
        all << std::ifstream(path / "cases").rdbuf();
        return all.str();
    }
};

session::History begun(const char* name) { return session::History(lesson::find_case(name)->scenario); }

/// The job by what should be done next, as far as it goes.
void do_the_job(session::History& history) {
    for (int i = 0; i < 60; ++i) {
        const session::Next next = session::next_in_job(history.seen());
        if (next.intention.empty()) return;
        REQUIRE(history.act(next.intention));
    }
}

}  // namespace

TEST_CASE("of two results the proof stays, of two proofs the cheaper one, else the newer") {
    const Result open{Became::open, 12.0, 44.0}, later{Became::open, 20.0, 44.0}, failed{Became::failed, 30.0, 90.0};
    const Result dear{Became::proved, 50.0, 90.0}, cheap{Became::proved, 40.0, 90.0};
    const Result quick{Became::proved, 30.0, 300.0};
    CHECK(lesson::kept_of({}, open) == open);
    CHECK(lesson::kept_of(cheap, quick) == cheap);  // quicker, and it cost three times the board
    CHECK(lesson::kept_of(open, {}) == open);
    CHECK(lesson::kept_of(open, later) == later);
    CHECK(lesson::kept_of(failed, open) == open);
    CHECK(lesson::kept_of(open, failed) == failed);
    CHECK(lesson::kept_of(dear, open) == dear);
    CHECK(lesson::kept_of(dear, failed) == dear);
    CHECK(lesson::kept_of(dear, cheap) == cheap);
    CHECK(lesson::kept_of(cheap, dear) == cheap);
    CHECK(lesson::within(cheap, {45.0, 0.0}));
    CHECK_FALSE(lesson::within(dear, {45.0, 0.0}));
    CHECK_FALSE(lesson::within(cheap, {45.0, 80.0}));
    CHECK_FALSE(lesson::within(open, {45.0, 0.0}));
}

TEST_CASE("a case is new, then open, then proved with what it took") {
    session::History history = begun("teaching-saw");
    CHECK(lesson::result_of(history.seen()).became == Became::fresh);
    REQUIRE(history.act(session::CutTest{true}));
    CHECK(lesson::result_of(history.seen()).became == Became::open);
    do_the_job(history);
    REQUIRE(history.seen().proved);
    const Result result = lesson::result_of(history.seen());
    CHECK(result.became == Became::proved);
    CHECK(result.minutes == history.seen().minutes);
    CHECK(lesson::is_fair(history));
}

TEST_CASE("a repair after which the test fails is not proved") {
    session::History history = begun("teaching-saw");
    REQUIRE(history.act(session::Repair{shop::Fault::dust}));
    REQUIRE(history.act(session::proof_intention()));
    REQUIRE(session::proof_of(history.seen()) == session::Proved::failed);
    CHECK(lesson::result_of(history.seen()).became == Became::failed);
}

TEST_CASE("who sets the errors himself has proved nothing") {
    session::History history = begun("teaching-saw");
    REQUIRE(history.act(session::SetValue{"board.width", "300 mm"}));
    CHECK(lesson::is_fair(history));
    REQUIRE(history.act(session::SetValue{"faults.fence_skew", "0"}));
    CHECK_FALSE(lesson::is_fair(history));
}

TEST_CASE("what is noted is there at the next start, and another window's notes stay") {
    Folder folder;
    Results one(folder.path), two(folder.path);
    one.note("two-boards", {Became::open, 12.0, 44.0});
    two.note("teaching-saw", {Became::proved, 24.5, 88.0});
    one.note("two-boards", {Became::proved, 41.0, 210.0});
    CHECK(folder.text() == "teaching-saw = proved, 24.5 min, 88 mm\ntwo-boards = proved, 41 min, 210 mm\n");
    const Results next(folder.path);
    CHECK(next.of("two-boards") == Result{Became::proved, 41.0, 210.0});
    CHECK(next.of("teaching-saw") == Result{Became::proved, 24.5, 88.0});
    CHECK(next.of("needs-oil") == Result{});
    CHECK(one.trouble().empty());
}

TEST_CASE("lines that are not understood are carried along, and a broken file is no trouble") {
    Folder folder;
    std::ofstream(folder.path / "cases") << "format = 7, of a later day\nneeds-oil = open, 12 min, 44 mm\n"
                                            "two-boards = open, -1 min, 3 mm\n\n= =\n";
    Results results(folder.path);
    CHECK(results.of("needs-oil") == Result{Became::open, 12.0, 44.0});
    CHECK(results.of("two-boards") == Result{});
    results.note("teaching-saw", {Became::open, 6.0, 40.0});
    CHECK(folder.text() ==
          "format = 7, of a later day\ntwo-boards = open, -1 min, 3 mm\n= =\n"
          "needs-oil = open, 12 min, 44 mm\nteaching-saw = open, 6 min, 40 mm\n");
}

TEST_CASE("a list that is there and cannot be read is not written over, and that is said") {
    const Folder data;
    std::ofstream(data.path / "cases") << "two-boards = proved, 40 min, 90 mm\n" << std::string((1U << 20U) + 1, '\n');
    const std::string before = data.text();
    Results results(data.path);
    results.note("needs-oil", {Became::open, 12.0, 44.0});
    CHECK(data.text() == before);
    CHECK(!results.trouble().empty());
}

TEST_CASE("what waits because another window is at the file is written when that one is done") {
    Folder folder;
    const int fd = ::open((folder.path / "cases.lock").c_str(), O_RDWR | O_CREAT, 0600);
    REQUIRE(::flock(fd, LOCK_EX) == 0);
    Results results(folder.path);
    results.note("two-boards", {Became::open, 1.0, 0.0});
    CHECK(folder.text().empty());
    CHECK(results.of("two-boards").became == Became::open);
    ::close(fd);
    results.settle();
    CHECK(folder.text() == "two-boards = open, 1 min, 0 mm\n");
    CHECK(results.trouble().empty());
}

TEST_CASE("where nothing can be kept it is said once") {
    Results nowhere;
    nowhere.note("two-boards", {Became::open, 1.0, 0.0});
    CHECK(nowhere.of("two-boards").became == Became::open);
    CHECK(nowhere.trouble().empty());
    Folder folder;
    std::ofstream(folder.path / "file") << "no folder";
    Results blocked(folder.path / "file" / "below");
    blocked.note("two-boards", {Became::open, 1.0, 0.0});
    CHECK(blocked.trouble().find("is not kept") != std::string::npos);
    blocked.note("two-boards", {Became::open, 2.0, 0.0});
    CHECK(blocked.trouble().empty());
}

TEST_CASE("killed at any moment while it notes, the file is whole") {
    Folder folder;
    for (int i = 0; i < 40; ++i) {
        const pid_t child = ::fork();
        if (child == 0) {
            Results results(folder.path);
            for (int minutes = 1;; ++minutes)
                results.note(minutes % 2 == 0 ? "two-boards" : "needs-oil",
                             {Became::open, static_cast<double>(minutes), 1.0});
        }
        ::usleep(static_cast<useconds_t>(1000 + 700 * i));
        ::kill(child, SIGKILL);
        ::waitpid(child, nullptr, 0);
        const std::string text = folder.text();
        const bool whole = text.empty() || text.ends_with(" mm\n");
        CHECK_MESSAGE(whole, text);
    }
    Results results(folder.path);
    results.note("teaching-saw", {Became::open, 5.0, 1.0});
    CHECK(results.trouble().empty());
    CHECK(Results(folder.path).of("teaching-saw").became == Became::open);
    CHECK(Results(folder.path).of("two-boards").became == Became::open);
}

TEST_CASE("work so far in one line, the same from the session and from its file") {
    session::History history = begun("two-boards");
    CHECK(lesson::so_far(history).called == "“A short board is square, a long one is not.”");
    CHECK(lesson::so_far(history).done == "nothing done yet");
    REQUIRE(history.act(session::CutTest{true}));
    REQUIRE(history.act(session::MakeCheck{measure::Check::square_on_cut}));
    REQUIRE(history.act(session::MakeCheck{measure::Check::kerf_width}));
    REQUIRE(history.take_back());
    const lesson::SoFar now = lesson::so_far(history);
    CHECK(now.done.starts_with("1 test, 1 check; "));
    CHECK(now.done.find(" of 120 min spent; nothing put right yet") != std::string::npos);
    const auto log = session::read_log(session::to_text(session::log_of(history)), "kept");
    REQUIRE(log);
    const lesson::SoFar kept = lesson::so_far(*log);
    CHECK(kept.called == now.called);
    CHECK(now.done.starts_with(kept.done));
    CHECK(session::standing(log->entries).size() == history.actions().size());
}

TEST_CASE("every kept session can be outlined, and what stands in it is what a replay does") {
    for (const auto& file : fs::directory_iterator(OFFSQUARE_SOURCE_DIR "/tests/session/kept")) {
        if (file.path().extension() != ".jsonl") continue;
        CAPTURE(file.path().string());
        std::ostringstream text;
        text << std::ifstream(file.path()).rdbuf();
        const auto log = session::read_log(text.str(), "kept");
        REQUIRE(log);
        double minutes = 0.0;
        for (const session::Action& action : session::standing(log->entries))
            minutes += session::cost_of(action).minutes;
        if (log->entries.size() > 12) continue;  // a replay takes its time: the short ones are enough
        const auto replay = session::replay(text.str(), "kept");
        REQUIRE(replay);
        CHECK(replay->history.actions().size() == session::standing(log->entries).size());
        CHECK(minutes == doctest::Approx(replay->history.seen().minutes).epsilon(1e-12));
    }
}
