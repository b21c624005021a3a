// The first screen: its doors, what one can go on with, the cases; the way to it and back, with nothing lost.
#include <doctest/doctest.h>

#include <algorithm>

#include "base/scratch.h"
#include "gui/pages/places.h"
#include "gui/pages/start_parts.h"
#include "saws/logs.h"
#include "session/next.h"
#include "window_support.h"

using namespace offsquare;
using gui::Doorway;
using gui::Kind;
using scratch::Folder;
using window_test::is_whole;
using window_test::Window;

namespace {

/// A window as it is when the program starts without a file, with a folder for what is left.
struct Start {
    Folder folder;
    gui::Unsaved unsaved{folder / "state"};
    Window w;
    explicit Start(int width = 1280, int height = 800) : w(width, height) {
        w.state.files.unsaved = &unsaved;
        w.state.start.results = lesson::Results(folder / "data");
        w.state.start.open = w.state.start.was_open = true;
        w.frames(4);
    }
    bool at_start() const { return w.window.record().says("What would you like to do?"); }
    bool says(const char* words) const { return w.window.record().says(words); }
    bool door(std::size_t i) { return w.press(std::string(gui::words_of(gui::doorways.at(i)).title).c_str()); }
    /// By its key; out of a field, with Ctrl.
    void back() {
        const gui::Drawn* focused = w.window.record().focused();
        if (focused != nullptr && focused->kind == Kind::field) w.window.key(gui::Key::n0, {true, false, false});
        else w.type("0");
        w.frames(4);
        REQUIRE(at_start());
    }
};

constexpr const char* the_mark = "To the first screen";

std::string quoted(const char* name) { return lesson::in_quotes(lesson::find_case(name)->scenario.complaint); }

std::vector<std::string> cases_on(const Start& s) {
    std::vector<std::string> found;
    for (const gui::Drawn& d : s.w.window.record().items()) {
        for (const lesson::Case& c : lesson::cases()) {
            if (d.kind == Kind::button && d.label == lesson::in_quotes(c.scenario.complaint)) found.push_back(c.name);
        }
    }
    return found;
}

}  // namespace

TEST_CASE("the first screen is whole in windows of every size: doors, cases, and no words cut") {
    for (const auto& [wide, high] :
         {std::pair{1280, 800}, std::pair{1920, 1080}, std::pair{900, 700}, std::pair{640, 480}, std::pair{460, 600}}) {
        const int width = wide, height = high;  // clang 14 captures no structured binding
        CAPTURE(width);
        Start s(width, height);
        REQUIRE(s.at_start());
        for (std::size_t i = 0; i < gui::doorways.size(); ++i) {
            const gui::DoorWords words = gui::words_of(gui::doorways.at(i));
            const gui::Drawn* door = s.w.window.record().find(words.title, Kind::button);
            REQUIRE(door != nullptr);
            CHECK(door->value == std::to_string(i + 1));
            const bool said = std::any_of(
                s.w.window.record().items().begin(), s.w.window.record().items().end(), [&](const gui::Drawn& d) {
                    return d.kind == Kind::text && d.label == words.sentence && d.lo.x >= door->lo.x &&
                           d.hi.x <= door->hi.x && d.lo.y >= door->lo.y && d.hi.y <= door->hi.y;
                });
            CHECK_MESSAGE(said, words.title);
        }
        CHECK(cases_on(s).size() >= 8);
        for (const gui::Drawn& d : s.w.window.record().items()) {
            CHECK_MESSAGE(!d.cut, d.label);
            if (d.kind != Kind::button) continue;
            CHECK_MESSAGE(d.hi.x - d.lo.x >= 24.0F, d.label);
            CHECK_MESSAGE(d.hi.y - d.lo.y >= 24.0F, d.label);
            CHECK_MESSAGE(d.hi.x <= static_cast<float>(width), d.label);
            CHECK_MESSAGE(d.lo.x >= 0.0F, d.label);
        }
        // At the usual size all of it is seen without scrolling.
        if (width == 1280) is_whole(s.w, 1280.0F, 800.0F);
    }
}

TEST_CASE("a case says its owner's sentence, what it may cost and what became of it, in the person's units") {
    Start s;
    const gui::Drawn* one = s.w.window.record().find(quoted("no-two-agree"));
    REQUIRE(one != nullptr);
    CHECK(one->value == "60 min, 200 mm; new");
    s.w.type("u");
    CHECK(s.says("60 min, 7 7/8 in"));
    s.w.state.start.results.note("no-two-agree", {lesson::Became::proved, 41.0, 160.0});
    s.w.state.start.results.note("burns-but-square", {lesson::Became::failed, 90.0, 160.0});
    s.w.frames(2);
    CHECK(s.w.window.record().find(quoted("no-two-agree"))->value == "60 min, 7 7/8 in; proved in 41 min");
    CHECK(s.says("not proved"));
    CHECK(s.says(("1 of " + std::to_string(lesson::cases().size()) + " proved").c_str()));
    REQUIRE(s.w.press("show all"));
    CHECK(cases_on(s).size() == lesson::cases().size());
    REQUIRE(s.w.press("show fewer"));
    CHECK(cases_on(s).size() < lesson::cases().size());
}

TEST_CASE("where not all cases have room, proved ones give way, but for two") {
    lesson::Results results;
    const auto all = lesson::cases();
    for (std::size_t i = 0; i < 5; ++i) results.note(all[i].name, {lesson::Became::proved, 10.0, 0.0});
    const auto shown = gui::cases_shown(results, 8);
    REQUIRE(shown.size() == 8);
    CHECK(shown[0] == &all[3]);
    CHECK(shown[1] == &all[4]);
    CHECK(shown[2] == &all[5]);
    CHECK(gui::cases_shown(results, 99).size() == all.size());
}

TEST_CASE("each door opens something by mouse, by its key and by Tab and Enter, and nothing is empty") {
    constexpr std::array<const char*, 5> behind{"Checks", "Make the five cuts", "What the owner says",
                                                "Show and set the hidden errors myself", "Is the fence square?"};
    for (std::size_t i = 0; i < gui::doorways.size(); ++i) {
        CAPTURE(i);
        Start s;
        REQUIRE(s.door(i));
        CHECK(s.says(behind[i]));
        CHECK_FALSE(s.at_start());
        s.back();
        s.w.type(std::to_string(i + 1).c_str());
        CHECK(s.says(behind[i]));
        s.back();
        REQUIRE(s.w.window.tab_to(gui::words_of(gui::doorways.at(i)).title));
        s.w.window.key(gui::Key::enter);
        s.w.frames(4);
        CHECK(s.says(behind[i]));
    }
}

TEST_CASE("the mark stands at the top left of every page and leads back; what stood there goes on where it was") {
    struct Page {
        const char* keys;
        const char* says;
    };
    for (const Page& page :
         {Page{"2", "Make the five cuts"}, Page{"2s", "The saw on this bench"}, Page{"2b", "What does a test say?"},
          Page{"2h", "Cut five like this"}, Page{"5", "Is the fence square?"}, Page{"2n", "Cut 1 of 5"}}) {
        for (const auto& [wide, high] : {std::pair{1280, 800}, std::pair{900, 700}}) {
            CAPTURE(page.keys);
            Start s(wide, high);
            for (const char key : std::string(page.keys)) s.w.type(std::string(1, key).c_str());
            REQUIRE(s.says(page.says));
            const gui::Drawn* at = s.w.window.record().find(the_mark);
            REQUIRE(at != nullptr);
            CHECK(at->lo.x < 40.0F);
            CHECK(at->lo.y < 30.0F);
            REQUIRE(s.w.press(the_mark));
            CHECK(s.at_start());
            s.w.window.key(gui::Key::escape);
            s.w.frames(4);
            CHECK(s.says(page.says));
        }
    }
}

TEST_CASE("behind the first screen the bench waits: no key reaches it") {
    Start s;
    s.w.type("2");
    s.w.type("n");
    s.back();
    const std::size_t changes = s.w.bench.changes();
    for (const char* key : {"n", "r", "b", "h", "s", "t", "c", "p"}) s.w.type(key);
    s.w.window.key(gui::Key::z, {true, false, false});
    s.w.frames(2);
    CHECK(s.at_start());
    CHECK(s.w.bench.changes() == changes);
    CHECK_FALSE(s.w.bench.view.reveal);
    CHECK_FALSE(s.w.state.notebook.hunt.open);
    REQUIRE(s.w.press("View"));
    CHECK(s.says("Paper"));
    CHECK_FALSE(s.says("Show the truth"));
}

TEST_CASE("at the very start Escape has nowhere to go, and nothing is offered to go on with") {
    Start s;
    s.w.window.key(gui::Key::escape);
    s.w.frames(3);
    CHECK(s.at_start());
    CHECK_FALSE(s.says("Go on where you were"));
}

TEST_CASE("learn the repair is one press away, goes on while it is under way, and begins anew when it is proved") {
    Start s;
    REQUIRE(s.door(1));
    CHECK(s.w.bench.scenario().title == scenario::built_in().title);
    REQUIRE(s.w.press("Make the five cuts"));
    s.back();
    CHECK(s.says("Learn the repair"));
    CHECK(s.says("1 test; "));
    s.w.type("2");
    CHECK(s.w.bench.seen().tests.size() == 1);
    for (int i = 0; i < 40 && !s.w.bench.seen().proved; ++i) s.w.type("n");
    REQUIRE(s.w.bench.seen().proved);
    // It is a lesson, and no case: nothing is proved by it.
    CHECK(s.w.state.start.results.of("teaching-saw").became == lesson::Became::fresh);
    s.back();
    s.w.type("2");
    CHECK(s.w.bench.seen().tests.empty());
    REQUIRE(s.unsaved.left().size() == 1);  // the proved one is kept all the same
}

TEST_CASE("practise opens the notebook on a case that is not proved, keeps what became of it, and goes on with it") {
    Start s;
    REQUIRE(s.door(2));
    REQUIRE(s.w.state.notebook.hunt.open);
    const lesson::Case* first = lesson::case_of(s.w.bench.scenario());
    REQUIRE(first == &lesson::cases().front());
    CHECK(s.says(quoted(first->name.c_str()).c_str()));
    CHECK(s.says("it may cost"));
    s.back();
    CHECK(s.w.state.start.results.of(first->name).became == lesson::Became::fresh);  // looked at, and nothing done
    s.w.type("3");
    REQUIRE(s.w.bench.act(session::MakeCheck{measure::Check::kerf_width}));
    s.w.frames(3);
    CHECK(s.w.state.start.results.of(first->name).became == lesson::Became::open);
    CHECK(lesson::Results(s.folder / "data").of(first->name).became == lesson::Became::open);  // on the disk, too
    // Another case meanwhile: the first waits, and practise takes it up again.
    s.back();
    REQUIRE(s.w.press(quoted(lesson::cases()[1].name.c_str()).c_str()));
    CHECK(lesson::case_of(s.w.bench.scenario()) == &lesson::cases()[1]);
    s.back();
    REQUIRE(s.unsaved.left().size() == 1);
    s.w.type("3");
    CHECK(lesson::case_of(s.w.bench.scenario()) == first);
    CHECK(s.w.bench.seen().checks.size() == 1);
    CHECK(s.w.state.notebook.hunt.open);
    CHECK_FALSE(s.unsaved.offers());
    // Once it is proved the next one is practised.
    s.w.state.start.results.note(first->name, {lesson::Became::proved, 30.0, 60.0});
    s.back();
    s.w.type("3");
    CHECK(lesson::case_of(s.w.bench.scenario()) == &lesson::cases()[1]);
}

TEST_CASE("the end of a job leads on: to the first screen, to the next case, and a fresh start keeps what was done") {
    Start s;
    s.w.type("2");
    for (int i = 0; i < 40 && !s.w.bench.seen().proved; ++i) s.w.type("n");
    REQUIRE(s.w.bench.seen().proved);
    REQUIRE(s.w.press("What next?"));
    CHECK(s.at_start());
    s.w.window.key(gui::Key::escape);
    s.w.frames(4);
    REQUIRE(s.w.press("Start again"));
    CHECK(s.w.bench.seen().tests.empty());
    REQUIRE(s.unsaved.left().size() == 1);
    CHECK(s.unsaved.left().front().so_far.done.ends_with("proved square"));
    s.back();
    gui::open_case(s.w.bench, s.w.state, *lesson::find_case("new-apprentice"));
    REQUIRE(s.w.bench.act(session::proof_intention()));
    for (int i = 0; i < 30 && session::proof_of(s.w.bench.seen()) != session::Proved::passed; ++i)
        REQUIRE(s.w.bench.act(session::next_in_job(s.w.bench.seen()).intention));
    s.w.state.notebook.hunt.page = session::Leaf::proof;
    window_test::settle(s.w);
    REQUIRE(s.w.press("The next case"));
    CHECK(lesson::case_of(s.w.bench.scenario()) == &lesson::cases().front());
    CHECK(s.w.state.notebook.hunt.page == session::Leaf::symptom);
}

TEST_CASE("a case that is proved in the job is proved, and one whose errors were looked at is not") {
    for (const bool looks : {false, true}) {
        CAPTURE(looks);
        Start s;
        REQUIRE(s.w.press("show all"));
        REQUIRE(s.w.press(quoted("new-apprentice").c_str()));
        if (looks) {
            s.w.type("t");
            s.w.type("t");
        }
        REQUIRE(s.w.bench.act(session::proof_intention()));
        for (int i = 0; i < 30 && session::proof_of(s.w.bench.seen()) != session::Proved::passed; ++i)
            REQUIRE(s.w.bench.act(session::next_in_job(s.w.bench.seen()).intention));
        s.w.frames(3);
        const auto became = s.w.state.start.results.of("new-apprentice").became;
        CHECK(became == (looks ? lesson::Became::fresh : lesson::Became::proved));
    }
}

TEST_CASE("what if shows the errors, and no other door does after it") {
    Start s;
    REQUIRE(s.door(3));
    CHECK(s.w.bench.view.reveal);
    CHECK(s.w.bench.view.looking_at == session::Stage::set_up);
    CHECK(s.w.state.set_up.group == "faults");
    REQUIRE(s.w.bench.act(session::SetValue{"faults.fence_skew", "1 mm/m"}));
    s.w.bench.view.looking_at = session::Stage::set_up;  // as the field has it
    s.back();
    s.w.type("2");
    CHECK_FALSE(s.w.bench.view.reveal);
    CHECK_FALSE(s.w.bench.view.looking_at);
    s.back();
    // It is called what it is, and not by the case on whose saw it was turned.
    CHECK(s.w.window.record().find("What if", Kind::text) != nullptr);
    REQUIRE(s.w.press("Go on"));
    CHECK(s.w.bench.view.reveal);
    CHECK(s.w.bench.view.looking_at == session::Stage::set_up);
    CHECK(s.w.state.start.results.of("teaching-saw").became == lesson::Became::fresh);
}

TEST_CASE("my saw stands in front of the bench, which waits, and what is half typed waits too") {
    Start s;
    s.w.type("2n");
    const std::size_t done = s.w.bench.history().record().size();
    s.back();
    REQUIRE(s.door(0));
    CHECK(s.says("How thick, behind which end?"));
    s.w.type("12.34");  // the first field has the cursor
    CHECK(s.w.state.my_saw.saw.draft.far_end[0] == "12.34");
    s.back();
    s.w.window.key(gui::Key::escape);  // back to where it was left
    s.w.frames(4);
    CHECK(s.w.state.my_saw.saw.open);
    CHECK(s.w.state.my_saw.saw.draft.far_end[0] == "12.34");
    REQUIRE(s.w.press(the_mark));
    CHECK(s.at_start());
    s.w.type("2");
    CHECK_FALSE(s.w.state.my_saw.saw.open);
    CHECK(s.w.bench.history().record().size() == done);
}

TEST_CASE("work that another door put aside goes on where it stood, on a disk that takes nothing too") {
    for (const bool disk : {true, false}) {
        CAPTURE(disk);
        Start s;
        gui::Unsaved nowhere{std::filesystem::path()};
        if (!disk) s.w.state.files.unsaved = &nowhere;
        s.w.type("3");
        REQUIRE(s.w.bench.act(session::MakeCheck{measure::Check::kerf_width}));
        s.w.state.notebook.hunt.page = session::Leaf::checks;
        const std::string before = session::to_text(s.w.bench.log());
        s.back();
        s.w.type("2");
        s.w.type("n");
        const std::string job = session::to_text(s.w.bench.log());
        s.back();
        CHECK(s.says("1 check; "));
        // The bench comes first, then what was left.
        const std::vector<gui::GoOnLine> lines = gui::lines_to_go_on(s.w.bench, s.w.state);
        REQUIRE(lines.size() == 2);
        gui::follow(s.w.bench, s.w.state, lines[1].with);
        s.w.frames(3);
        CHECK(session::to_text(s.w.bench.log()) == before);
        CHECK(s.w.state.notebook.hunt.open);
        CHECK(s.w.state.notebook.hunt.page == session::Leaf::checks);
        s.back();
        REQUIRE(s.says("Discard"));
        gui::follow(s.w.bench, s.w.state, gui::lines_to_go_on(s.w.bench, s.w.state)[1].with);
        CHECK(session::to_text(s.w.bench.log()) == job);
        CHECK_FALSE(s.w.state.notebook.hunt.open);
    }
}

TEST_CASE("work of an earlier start is offered on the first screen, taken up, or thrown away") {
    Start s;
    {
        gui::Unsaved gone(s.folder / "state");
        gui::Bench bench(lesson::find_case("two-boards")->scenario);
        REQUIRE(bench.act(session::MakeCheck{measure::Check::kerf_width}));
        gone.write(bench);
    }
    gui::Unsaved again(s.folder / "state");
    s.w.state.files.unsaved = &again;
    s.w.frames(2);
    CHECK(s.says("Go on where you were"));
    CHECK(s.says(quoted("two-boards").c_str()));
    CHECK(s.says("unsaved, "));
    REQUIRE(s.w.press("Go on"));
    CHECK(s.w.bench.seen().checks.size() == 1);
    CHECK(s.w.state.notebook.hunt.open);  // a hunt goes on in the notebook
    CHECK(s.w.bench.unsaved());
    s.back();
    s.w.type("2");
    s.back();
    REQUIRE(s.w.press("Discard"));
    CHECK_FALSE(s.says("Go on where you were"));
}

TEST_CASE("files of late are called by what they are, never by their names") {
    Start s;
    base::Folders folders{s.folder / "config", s.folder / "keep", s.folder / "data"};
    gui::Keep keep(folders);
    s.w.state.files.keep = &keep;
    gui::Bench bench(lesson::find_case("two-boards")->scenario);
    REQUIRE(bench.act(session::MakeCheck{measure::Check::kerf_width}));
    scratch::write(s.folder / "fence-bowed-0.3.jsonl", session::to_text(bench.log()));
    scratch::write(s.folder / "broken-runner.jsonl", "no session");
    keep.opened(s.folder / "fence-bowed-0.3.jsonl");
    keep.opened(s.folder / "broken-runner.jsonl");
    s.w.state.start.files_known = false;
    s.w.frames(3);
    CHECK(s.says(quoted("two-boards").c_str()));
    CHECK(s.says("1 check; "));
    CHECK(s.says("from its file"));
    CHECK_FALSE(s.says("bowed"));
    CHECK_FALSE(s.says("broken-runner"));
    REQUIRE(s.w.press("Go on"));
    CHECK(s.w.bench.seen().checks.size() == 1);
    CHECK_FALSE(s.w.bench.unsaved());
    CHECK(s.w.state.notebook.hunt.open);
    s.back();
    // It stands on the bench now, and is not offered twice.
    CHECK(gui::lines_to_go_on(s.w.bench, s.w.state).size() == 1);
}

TEST_CASE("a sled of one's own stands where one was, by its name and its log, and goes on from there") {
    Start s;
    s.w.state.my_saw.saw.today_is(logs::today);
    {
        saws::Store store(s.folder / "data");
        for (saws::Sled sled : {logs::blue_sled(), logs::blue_sled()}) {
            if (!store.list().empty()) sled.name = "the old sled";
            auto held = store.make(sled.name, sled.saw, sled.units);
            REQUIRE(held);
            REQUIRE(store.save(*held, sled));
        }
    }
    s.w.state.my_saw.saw.keep_in(s.folder / "data");
    s.w.state.start.files_known = false;
    s.w.frames(3);
    CHECK(s.says("My saw: the blue sled"));
    CHECK(s.says("My saw: the old sled"));
    CHECK(s.says("2 tests since 3 March, the last one passed; slots waxed after it"));
    for (const gui::GoOnLine& line : gui::lines_to_go_on(s.w.bench, s.w.state)) {
        gui::follow(s.w.bench, s.w.state, line.with);
        s.w.frames(3);
        CHECK(s.w.state.my_saw.saw.open);
        CHECK("My saw: " + s.w.state.my_saw.saw.sled().name == line.so_far.called);
        CHECK_FALSE(s.at_start());
        s.w.window.key(gui::Key::n0, {true, false, false});
        s.w.frames(4);
        REQUIRE(s.at_start());
    }
}

TEST_CASE("Ctrl 0 leads back out of a field, and what was typed there is taken") {
    Start s;
    s.w.type("2");
    s.w.type("s");
    REQUIRE(s.w.press("board "));
    REQUIRE(s.w.press("width [mm]"));
    s.w.window.key(gui::Key::a, {true, false, false});
    s.w.type("310");  // with a 0 in it, which is typed and leads nowhere
    CHECK_FALSE(s.at_start());
    s.w.window.key(gui::Key::n0, {true, false, false});
    s.w.frames(4);
    CHECK(s.at_start());
    CHECK(s.w.bench.seen().drawing.board.width_mm == 310.0);
}
