// The page "My saw", typed into as a person would, without a display.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <filesystem>

#include "repeats.h"
#include "gui/keep/drafts.h"
#include "my_saw_page.h"
#include "units_shown.h"

using namespace offsquare;
using base::Units;
using gui::Key;
using gui::Kind;
using gui::MySheet;
using my_saw_test::DataFolder;
using my_saw_test::Page;
using my_saw_test::today;

namespace {

namespace fs = std::filesystem;

/// By another road than the program's: the four angles add up, and a shim of t turns the fence by t over the span.
double shim_by_hand(double fence, double far, double between, double span) {
    return span * std::tan(0.25 * std::atan((fence - far) / between));
}

}  // namespace

TEST_CASE("by keyboard alone: one key, five values, and how thick behind which end stands there while one types" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    CHECK(p.says("How thick, behind which end?"));
    p.type("12.10");
    CHECK(p.says("Still to type"));
    CHECK(!p.says("Put "));
    p.tab(2);
    p.type("305"), p.tab();
    p.type("12.60"), p.tab(2);
    p.type("500"), p.tab(2);  // past "left", to "right"
    p.window.key(Key::space);
    p.frames(3);
    const double thick = shim_by_hand(12.60, 12.10, 305.0, 500.0);
    const std::string words = "Put " + base::show_small(thick, Units::metric) + " behind the left end";
    CHECK_MESSAGE(p.says(words), words);
    CHECK(p.saw().answer()->shim->shim_mm.value == doctest::Approx(thick).epsilon(1e-12));
    CHECK(p.says("wider at the fence end"));
    // The answer is the largest thing on the page. It is there before anything is written.
    CHECK(p.saw().sled().entries.empty());
    // The other side, the other end: the same by the mirror.
    REQUIRE(p.press("left"));
    CHECK(p.says("Put " + base::show_small(thick, Units::metric) + " behind the right end"));
    p.rest();
    CHECK(!p.says("Your readings agree with each other."));  // one strip has nothing to agree with
}

TEST_CASE("fields in any order, each as far as it is typed: none is refused because another is not there yet") {
    struct Typed {
        const char* label;
        const char* text;
    };
    const std::array<Typed, 4> fields{{{"between the shim points [mm]", "500"},
                                       {"fence end [mm]", "12.34"},
                                       {"between the two places [mm]", "305"},
                                       {"far end [mm]", "12.9"}}};
    for (std::size_t first = 0; first < fields.size(); ++first) {
        Page p;
        for (std::size_t i = 0; i < fields.size(); ++i) {
            const Typed& field = fields.at((first + i) % fields.size());
            p.into(field.label, field.text);
            CHECK(p.window.record().find("", Kind::error) == nullptr);
            CHECK(!p.says("expected"));
        }
        CHECK(p.says("the side where the strip fell"));
        REQUIRE(p.press("right"));
        CHECK(p.says("behind the right end"));
        for (const std::string key : {"fence.span", "fence.shim", "board.", "caliper."}) CHECK(!p.says(key));
    }
    // What cannot be read is said with the field's name once the hand rests, and stands in nobody's way.
    Page p;
    p.into("far end [mm]", "12.x");
    CHECK(!p.says("The far end: "));
    p.rest();
    CHECK(p.says("The far end: "));
    p.into("far end [mm]", "12.1");
    p.rest();
    CHECK(!p.says("The far end: "));
}

TEST_CASE("a slip is asked about with both readings of it; it is never used, and who insists is not held up" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    p.strip("10.1", "305", "1.02", "500");
    REQUIRE(p.press("right"));
    p.rest();
    REQUIRE(p.says("Is this meant?"));
    CHECK(p.says("10.2 mm was meant"));
    for (const char* end : {"left end", "right end"}) CHECK(!p.says(std::string("behind the ") + end));
    CHECK(p.saw().curve().points.empty());
    p.type("n");  // nothing is written meanwhile
    CHECK(p.saw().sled().entries.empty());
    REQUIRE(p.press("10.2 mm was meant"));
    p.rest();
    CHECK(p.saw().draft.fence_end[0] == "10.2");
    CHECK(!p.says("Is this meant?"));
    // The same, insisted upon.
    p.into("fence end [mm]", "1.02");
    p.rest();
    REQUIRE(p.press("It is meant as it stands"));
    p.rest();
    CHECK(p.saw().strip().fence_end.front().value == 1.02);
    CHECK(!p.says("Is this meant?"));
}

TEST_CASE("shim it, prove it: both strips and the shim stand in the log, on the disk, and another window may look on") {
    const DataFolder data;
    {
        Page p(1280, 800, data.path);
        REQUIRE(p.saw().write(saws::DrawerTyped{{{"brass", 0.20, 0.005, 2}, {"paper", 0.10, 0.005, 2}}}));
        p.frames(2);
        p.strip("12.10", "305", "12.60", "500");
        REQUIRE(p.press("right"));
        REQUIRE(p.press("marked"));
        p.rest();
        CHECK(p.says("brass 0.200"));
        p.type("n");
        REQUIRE(p.saw().tests() == 1);
        CHECK(p.says("Now prove it"));
        CHECK(p.saw().draft.untouched());
        CHECK(saws::total_mm(p.saw().standing().left) == doctest::Approx(0.2).epsilon(1e-12));
        // What stays from strip to strip is not asked again.
        CHECK(p.saw().draft.fell == shop::Side::right);
        p.type("12.20"), p.tab(2), p.type("305"), p.tab(), p.type("12.22"), p.tab();
        p.rest();
        CHECK(p.says("Square enough: leave the fence as it is"));
        CHECK(p.says("Before the shims the strip said"));
        p.window.key(Key::n, {true, false, false}), p.frames(3);  // out of the field as well
        CHECK(p.saw().tests() == 2);
        CHECK(p.saw().curve().points.size() == 2);
        CHECK(p.saw().curve().events.size() == 1);
        // Another window on the same sled may look, and is told.
        Page other(1280, 800, data.path);
        CHECK(other.saw().tests() == 2);
        CHECK(other.says("open in another window"));
        CHECK(!other.saw().write(saws::Remark{"from the other window"}));
    }
    Page again(1280, 800, data.path);
    CHECK(again.saw().tests() == 2);
    CHECK(again.saw().why_not_kept().empty());
}

TEST_CASE("without a drawer the sheet asks what was put in, and then the second strip can be typed at once" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    p.strip("12.10", "305", "12.60", "500");
    REQUIRE(p.press("right"));
    p.rest();
    REQUIRE(p.press("It is in: cut and prove (Ctrl N)"));
    REQUIRE(p.state.my_saw.sheets.open == MySheet::what_is_in);
    REQUIRE(p.press("It is in: write it down"));
    p.frames(3);
    CHECK(p.says("Now prove it"));
    p.type("12.20");
    CHECK(p.saw().draft.far_end[0] == "12.20");
}

TEST_CASE("a wrong entry is corrected in its fields, and what was written first stays in the file" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    p.strip("12.10", "305", "12.60", "500");
    REQUIRE(p.press("right"));
    p.rest();
    REQUIRE(p.saw().write_strip(std::nullopt));
    p.frames(3);
    REQUIRE(p.press("today, Test 1"));
    CHECK(p.state.my_saw.sheets.open == MySheet::entry);
    REQUIRE(p.press("Correct its readings"));
    CHECK(p.saw().draft.fence_end[0] == "12.60");
    CHECK(p.saw().draft.corrects == 1);
    p.into("fence end [mm]", "12.16");
    p.rest();
    REQUIRE(p.saw().write_strip(std::nullopt));
    p.frames(3);
    CHECK(p.saw().tests() == 1);
    CHECK(p.saw().sled().entries.size() == 2);
    CHECK(saws::corrected_by(p.saw().sled(), 1) != nullptr);
    // Withdrawn: it counts no more, and stays.
    REQUIRE(p.press("today, Test 1"));
    REQUIRE(p.press("Withdraw it"));
    CHECK(p.saw().tests() == 0);
    CHECK(p.saw().sled().entries.size() == 3);
}

TEST_CASE("a strip that is corrected asks for no shim again, and one whose fields were emptied corrects nothing" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    REQUIRE(p.saw().write(saws::DrawerTyped{{{"brass", 0.20, 0.005, 4}}}));
    p.strip("12.10", "305", "12.60", "500");
    REQUIRE(p.press("right"));
    p.rest();
    p.type("n");
    REQUIRE(saws::total_mm(p.saw().standing().left) == doctest::Approx(0.2).epsilon(1e-12));
    const int test = saws::newest_test(p.saw().sled())->number;
    REQUIRE(p.press("today, Test 1"));
    REQUIRE(p.press("Correct its readings"));
    p.into("far end [mm]", "12.11");
    p.rest();
    CHECK(p.says("Put 0.2"));  // nothing stood behind the fence when it was cut
    REQUIRE(p.press("Write the correction (Ctrl N)"));
    p.frames(3);
    REQUIRE(saws::corrected_by(p.saw().sled(), test) != nullptr);
    CHECK(saws::total_mm(saws::standing_of(p.saw().sled()).left) == doctest::Approx(0.2).epsilon(1e-12));
    CHECK(p.says("Now prove it"));
    // Given up: what is typed next is a test of its own.
    REQUIRE(p.press("today, Test 1"));
    REQUIRE(p.press("Correct its readings"));
    REQUIRE(p.saw().draft.corrects);
    const auto side = p.saw().draft.fell;
    p.saw().draft = {};
    p.saw().draft.fell = side;
    p.saw().draft.corrects = test + 2;
    p.frames(2);
    CHECK(!p.saw().draft.corrects);
}

TEST_CASE("other units do not change what was typed, and with inches no millimetre is asked for or answered" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    p.strip("12.10", "305", "12.60", "500");
    REQUIRE(p.press("right"));
    const double thick = p.saw().answer()->shim->shim_mm.value;
    p.bench.choose_units(Units::imperial);
    p.frames(3);
    CHECK(p.saw().answer()->shim->shim_mm.value == thick);
    CHECK(p.saw().draft.far_end[0] == "12.10 mm");

    Page in;
    in.bench.choose_units(Units::imperial);
    in.frames(2);
    const auto look = [&](const std::string& where) {
        CAPTURE(where);
        for (const gui::Drawn& d : in.window.record().items()) {
            for (const std::string& text : {d.label, d.value})
                CHECK_MESSAGE(!units_shown::not_chosen(text, Units::imperial), text);
        }
    };
    look("empty");
    in.strip("0.4185", "12 1/16", "0.4510", "27 1/2");
    REQUIRE(in.press("right"));
    in.rest();
    look("typed");
    const double thick_in = shim_by_hand(0.4510, 0.4185, 12.0625, 27.5);
    CHECK(in.says("Put " + base::show_small(25.4 * thick_in, Units::imperial) + " behind the left end"));
    REQUIRE(in.saw().write(saws::DrawerTyped{{{"brass", 0.127, 0.005, 2}}}));
    for (const MySheet sheet : {MySheet::how_to_cut, MySheet::working, MySheet::what_is_in, MySheet::drawer,
                                MySheet::sizes, MySheet::date, MySheet::add, MySheet::another, MySheet::remove}) {
        in.state.my_saw.sheets.all_sizes = true;
        in.state.my_saw.sheets.open = sheet;
        in.frames(3);
        look("sheet " + std::to_string(static_cast<int>(sheet)));
        in.window.key(Key::escape);
        in.frames(2);
    }
    in.state.my_saw.sheets.open = MySheet::checks;
    for (const measure::CheckInfo& check : measure::checks()) {
        in.state.my_saw.checks.check = check.check;
        for (const bool typing : {false, true}) {
            in.state.my_saw.checks.typing = typing;
            in.frames(1);
            look(std::string(check.name));
        }
    }
}

TEST_CASE("another check is typed on the same page, weighed with the strip, and stands in the log" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    p.strip("12.10", "305", "12.60", "500");
    REQUIRE(p.press("right"));
    p.rest();
    REQUIRE(p.saw().write_strip(std::nullopt));
    p.frames(3);
    p.state.my_saw.checks.check = measure::Check::fence_straightedge;
    REQUIRE(p.press("Checks"));
    REQUIRE(p.press("Type what was read"));
    REQUIRE(p.press("Write it down"));
    CHECK(p.says("Still to type"));
    std::vector<std::string>& texts = p.state.my_saw.checks.texts();
    for (std::string& text : texts) text = "0.05";
    p.frames(2);
    REQUIRE(p.press("Write it down"));
    if (p.says("write it down once more")) REQUIRE(p.press("Write it down"));
    CHECK(p.saw().sled().entries.size() == 2);
    p.window.key(Key::escape);
    p.rest();
    CHECK(p.says("Straightedge on the fence"));
}

TEST_CASE("the page in small windows and large ones, empty, typed and crowded: nothing is cut or covered" *
          doctest::skip(repeats::sanitized)) {
    for (const auto& [wide, high] :
         {std::pair{1280, 800}, std::pair{1920, 1080}, std::pair{1366, 768}, std::pair{1280, 720}, std::pair{900, 700},
          std::pair{640, 400}, std::pair{450, 350}}) {
        const int width = wide, height = high;  // clang 14 captures no structured binding
        CAPTURE(width);
        Page p(width, height);
        p.nothing_is_cut(static_cast<float>(width));
        REQUIRE(p.saw().write(saws::DrawerTyped{{{"brass", 0.20, 0.005, 2}, {"paper", 0.08, 0.005, 3}}}));
        for (int i = 0; i < 8; ++i) REQUIRE(p.saw().write(saws::PutRight{std::nullopt, "slots waxed"}));
        p.saw().draft.far_end = {"12.10", "12.11", "12.10"};
        p.saw().draft.fence_end = {"12.60", "12.61", ""};
        p.saw().draft.between = "305";
        p.saw().draft.span = "500";
        p.saw().draft.fell = shop::Side::right;
        p.rest();
        p.nothing_is_cut(static_cast<float>(width));
        CHECK(p.saw().answer()->shim);
        // Written down, and something does not fit it: the most that the column of the answer can hold.
        REQUIRE(p.saw().write_strip(std::nullopt));
        p.saw().draft.far_end = {"12.10", "12.11", "12.10"};
        p.saw().draft.fence_end = {"11.20", "11.20", ""};
        p.saw().draft.between = "305";
        p.rest();
        while (!p.saw().questions().empty()) p.saw().is_meant(p.saw().questions().front()), p.rest();
        p.nothing_is_cut(static_cast<float>(width));
        if (width < 900) continue;  // it scrolls
        const gui::Drawn* next = p.window.record().find(p.saw().now().button, Kind::button);
        REQUIRE(next != nullptr);
        const gui::Drawn* card = nullptr;
        for (const gui::Drawn& d : p.window.record().items()) {
            if (d.kind == Kind::card && d.label.starts_with("Now")) card = &d;
        }
        REQUIRE(card != nullptr);
        CHECK(next->hi.y <= card->hi.y);
    }
}

TEST_CASE("a saw like mine: my sizes on the bench, its errors hidden, and another one at the next press" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    REQUIRE(p.saw().write(saws::SizesTyped{{{"fence.length", "610 mm"}}}));
    p.strip("12.10", "305", "12.60", "500");
    REQUIRE(p.press("right"));
    p.rest();
    REQUIRE(p.press("Make one"));
    CHECK(!p.saw().open);
    CHECK(p.bench.scenario().drawing.fence.length_mm == 610.0);
    CHECK(p.bench.scenario().drawing.fence.span_mm() == doctest::Approx(500.0).epsilon(1e-12));
    CHECK(p.bench.seen().tests.size() == 0);
    const std::string first = session::to_text(p.bench.log());
    p.type("m");
    REQUIRE(p.press("Make one"));
    CHECK(session::to_text(p.bench.log()) != first);
    // What was typed waits on its page.
    p.type("m");
    CHECK(p.saw().draft.far_end[0] == "12.10");
}

TEST_CASE("a strip that is half typed waits: behind another sled, and between starts") {
    const DataFolder data;
    Page p(1280, 800, data.path);
    p.strip("12.10", "305", "", "500");
    REQUIRE(p.press("left"));
    const gui::StripDraft typed = p.saw().draft;
    REQUIRE(p.saw().make("the blue sled", "cabinet saw"));
    p.frames(2);
    CHECK(p.saw().draft.untouched());
    gui::DraftKeep(data.path).follow(p.saw().drafts(), 0.0, true);
    const gui::DraftKeep kept(data.path);
    CHECK(kept.found().size() == 1);
    CHECK(kept.found().at("My sled") == typed);
    // The text and back, with everything that a draft can hold; what is not understood is left out.
    gui::StripDraft all = typed;
    all.fence_end = {"12.3", "12 1/3 in", "x = y"};
    all.marked = false;
    all.brushed = true;
    all.date = today;
    all.corrects = 7;
    const gui::Drafts drafts{{"a", all}, {"b = c", typed}};
    CHECK(gui::drafts_from(gui::drafts_text(drafts)) == drafts);
    CHECK(gui::drafts_from("nonsense\nfar end 1 = 3\nsled = a\nwhat = 2\n") == gui::Drafts{{"a", {}}});
}

TEST_CASE("printed: the page, the log and the steps are files where the person says" *
          doctest::skip(repeats::sanitized)) {
    const DataFolder data;
    Page p(1280, 800, data.path);
    p.strip("12.10", "305", "12.60", "500");
    REQUIRE(p.press("right"));
    p.rest();
    REQUIRE(p.saw().write_strip(std::nullopt));
    p.frames(2);
    fs::create_directories(data.path / "out");
    struct Wanted {
        const char* button;
        const char* file;
    };
    for (const auto& [button, file] :
         {Wanted{"A page to hang beside the saw (PDF)", "page.pdf"}, Wanted{"The log as a table (CSV)", "log.csv"},
          Wanted{"All of it for a program (JSON)", "all.json"}, Wanted{"How to cut a strip (text)", "steps.txt"}}) {
        const std::string path = (data.path / "out" / file).string();
        CAPTURE(path);
        REQUIRE(p.press("Print"));
        REQUIRE(p.press(button));
        p.into("File name", path.c_str());
        REQUIRE(p.press("Save file"));
        CHECK(fs::file_size(path) > 100);
        CHECK(p.bench.said == std::string("Saved ") + file + " in " + (data.path / "out").string() + ".");
        CHECK(p.window.record().find(p.bench.said, Kind::toast) != nullptr);
    }
}
