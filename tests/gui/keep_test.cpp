// What is kept between starts: settings, window size, recent files, and the list of them in the chooser.
#include "gui/keep/keep.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <sys/stat.h>

#include "base/scratch.h"
#include "window_support.h"

using namespace offsquare;
using gui::Keep;
using gui::Paths;
using scratch::Folder;
using window_test::Window;

namespace {

base::Folders folders_in(const Folder& folder) {
    return {folder.path / "config", folder.path / "state", folder.path / "data"};
}

}  // namespace

TEST_CASE("settings: every combination is written and read back the same") {
    using System = base::Units::System;
    for (const std::optional<System> units :
         {std::optional<System>(), std::optional(System::metric), std::optional(System::imperial)}) {
        for (const auto scheme : {picture::Scheme::light, picture::Scheme::dark}) {
            for (const float scale : {0.0F, 0.75F, 1.25F, 3.0F}) {
                for (const bool still : {false, true}) {
                    // Angles go with the rest: one of the two for each motion is enough.
                    const auto angles = still ? base::Units::Angles::mrad : base::Units::Angles::slope;
                    const gui::Settings s{units, scheme, scale, still, angles};
                    CHECK(gui::settings_from(gui::to_text(s)) == s);
                    gui::View view;
                    gui::apply(s, view);
                    CHECK(gui::settings_of(view) == s);
                }
            }
        }
    }
}

TEST_CASE("settings and window size: what is not understood is as if it were not there") {
    const gui::Settings standard;
    for (const char* text : {"", "units", "units = furlongs\npaper = green\nscale = 90\nreduced motion = perhaps\n",
                             "scale = nan\n", "scale = 1e999\n", "angles = grads\n", "= = =\n\n\n", "\xff\xfe\n"}) {
        CAPTURE(text);
        CHECK(gui::settings_from(text) == standard);
    }
    CHECK(gui::settings_from("a later setting = 7\npaper = dark\n").scheme == picture::Scheme::dark);
    CHECK(gui::window_size_from("width = 1600\nheight = 900\n") == gui::WindowSize{1600, 900});
    CHECK(gui::window_size_from("width = -5\nheight = 100000\n") == gui::WindowSize{});
    CHECK(gui::window_size_from("width = 1600\n") == gui::WindowSize{1600, 800});
}

TEST_CASE("recent files: the newest first, each once, eight at most, absolute paths only") {
    Paths recent;
    for (int i = 1; i <= 9; ++i) recent = gui::with_newest(std::move(recent), "/f/" + std::to_string(i));
    REQUIRE(recent.size() == 8);
    CHECK(recent.front() == "/f/9");
    CHECK(recent.back() == "/f/2");
    recent = gui::with_newest(std::move(recent), "/f/5");
    CHECK(recent.size() == 8);
    CHECK(recent[0] == "/f/5");
    CHECK(recent[1] == "/f/9");
    CHECK(gui::recent_from(gui::to_text(recent)) == recent);
    CHECK(gui::recent_from("relative\n/whole\n\n") == Paths{"/whole"});
    CHECK(gui::with_newest({}, "/two\nlines").empty());
}

TEST_CASE("what one start writes, the next one reads") {
    const Folder folder;
    scratch::write(folder / "saw.toml", "");
    scratch::write(folder / "gone.toml", "");
    {
        Keep first(folders_in(folder));
        first.settings_are({base::Units::imperial, picture::Scheme::dark, 1.5F, true});
        first.window_is({1600, 900});
        first.opened(folder / "saw.toml");
        Keep beside(folders_in(folder));  // another window at the same time
        beside.opened(folder / "gone.toml");
        CHECK(first.recent() == Paths{folder / "gone.toml", folder / "saw.toml"});
        CHECK(first.trouble().empty());
    }
    std::filesystem::remove(folder / "gone.toml");
    Keep next(folders_in(folder));
    CHECK(next.settings() == gui::Settings{base::Units::imperial, picture::Scheme::dark, 1.5F, true});
    CHECK(next.window_size() == gui::WindowSize{1600, 900});
    CHECK(next.recent() == Paths{folder / "saw.toml"});
    CHECK(next.sessions_folder() == folder / "data/sessions");
    CHECK(std::filesystem::is_directory(folder / "data/sessions"));
    CHECK(std::filesystem::exists(folder / "state/window"));
    CHECK(std::filesystem::exists(folder / "config/settings"));
}

TEST_CASE("nowhere to keep things: said once, and all goes on") {
    const Folder folder;
    scratch::write(folder / "a file", "");
    const auto nowhere = [&](const base::Folders& folders, const char* why) {
        Keep keep(folders);
        CHECK(keep.settings() == gui::Settings{});
        CHECK(keep.trouble().empty());  // nothing is lost yet
        keep.settings_are({std::nullopt, picture::Scheme::dark, 0.0F, false});
        keep.opened("/x");
        const std::string trouble = keep.trouble();
        CAPTURE(trouble);
        CHECK(trouble.find(why) != std::string::npos);
        keep.window_is({900, 900});
        CHECK(keep.sessions_folder().empty());
        CHECK(keep.trouble().empty());
        CHECK(keep.recent().empty());
    };
    nowhere({}, "HOME is not set");
    nowhere({folder.path / "a file/x", folder.path / "a file/x", folder.path / "a file/x"}, "cannot be made");
}

TEST_CASE("the person's units stay when another scenario is opened; else each scenario shows its own") {
    const auto inch = scenario::load(OFFSQUARE_SOURCE_DIR "/scenarios/inch-shop-sled.toml");
    REQUIRE(inch);
    gui::Bench bench(scenario::built_in());
    CHECK(bench.view.units == base::Units::metric);
    bench.open(inch->scenario);
    CHECK(bench.view.units == base::Units::imperial);
    bench.choose_units(base::Units::metric);
    bench.open(inch->scenario);
    CHECK(bench.view.units == base::Units::metric);
}

TEST_CASE("Ctrl O and a name typed at once open a file, and letters typed on are no commands") {
    const Folder folder;
    std::filesystem::copy_file(OFFSQUARE_SOURCE_DIR "/scenarios/inch-shop-sled.toml", folder / "saw.toml");
    Window w;
    const std::string title = w.bench.scenario().title;
    w.window.key(gui::Key::o, {true, false, false});
    w.window.type(std::string(folder / "saw.toml"));
    w.window.key(gui::Key::enter);
    const bool light = w.bench.view.scheme == gui::Scheme::light;
    w.window.type("nundth");  // next, units, next, dark, truth, push
    w.frames(4);
    CHECK_FALSE(w.state.files.chooser.is_open());
    CHECK(w.bench.scenario().title != title);
    CHECK(w.bench.seen().tests.empty());
    CHECK((w.bench.view.scheme == gui::Scheme::light) == light);
    CHECK_FALSE(w.bench.view.reveal);
    CHECK_FALSE(w.state.push.pushing.open);
    w.frames(40);
    w.type("d");
    CHECK((w.bench.view.scheme == gui::Scheme::light) != light);
}

TEST_CASE("Ctrl Q ends from everywhere: from the page, a field that is typed in, and a sheet") {
    for (const char* where : {"", "s", "?", "o"}) {
        CAPTURE(where);
        Window w;
        if (*where == 'o') w.window.key(gui::Key::o, {true, false, false});
        else w.type(where);
        if (*where == 's') {
            const auto& all = w.window.record().items();
            const auto field =
                std::find_if(all.begin(), all.end(), [](const gui::Drawn& d) { return d.kind == gui::Kind::field; });
            REQUIRE(field != all.end());
            w.window.click((field->lo.x + field->hi.x) / 2.0F, (field->lo.y + field->hi.y) / 2.0F);
        }
        w.frames(4);
        CHECK_FALSE(w.state.window.wants_close);
        w.window.key(gui::Key::q, {true, false, false});
        CHECK(w.state.window.wants_close);
    }
}

TEST_CASE("recent files stand at the top of the chooser and are opened with the keyboard alone") {
    const Folder folder;
    const std::string saw = folder / "lately.toml";
    std::filesystem::copy_file(OFFSQUARE_SOURCE_DIR "/scenarios/inch-shop-sled.toml", saw);
    Keep keep(folders_in(folder));
    keep.opened(saw);
    Window w;
    w.state.files.keep = &keep;
    const std::string title = w.bench.scenario().title;
    w.window.key(gui::Key::o, {true, false, false});
    w.frames(6);
    REQUIRE(w.window.record().says("Opened lately"));
    const gui::Drawn* row = w.window.record().find("lately.toml", gui::Kind::list_row);
    REQUIRE(row != nullptr);
    CHECK(row->visible);
    REQUIRE(w.window.tab_to("lately.toml"));
    w.window.key(gui::Key::enter);
    w.frames(6);
    CHECK_FALSE(w.state.files.chooser.is_open());
    CHECK(w.bench.scenario().title != title);
    // With the mouse: one press chooses, the button opens.
    w.press("Open");
    w.frames(4);
    REQUIRE(w.press("lately.toml"));
    REQUIRE(w.press("Open file"));
    CHECK_FALSE(w.state.files.chooser.is_open());
}
