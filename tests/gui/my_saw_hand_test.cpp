// "My saw" under a hand that does not know it: keys after a field was left, what is exchanged, what was written down
// wrong, which field has the cursor, and what is seen without scrolling.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "repeats.h"
#include "gui/pages/places.h"
#include "my_saw_page.h"

using namespace offsquare;
using base::Units;
using gui::Key;
using gui::Kind;
using gui::MySheet;
using my_saw_test::DataFolder;
using my_saw_test::Page;
using my_saw_test::today;

namespace {

/// The label of what has the keyboard; empty: nothing.
std::string has_keyboard(const Page& p) {
    const gui::Drawn* d = p.window.record().focused();
    return d == nullptr ? "" : d->label;
}

void enter(Page& p, int times = 1) {
    for (int i = 0; i < times; ++i) p.window.key(Key::enter);
    p.frames(3);
}

saws::StripTest strip_of(double fence, double far) {
    saws::Strip s;
    s.fence_end = {{fence, 0.01, false}};
    s.far_end = {{far, 0.01, false}};
    s.between = base::Typed{305.0, 1.0, false};
    s.span = base::Typed{500.0, 1.0, false};
    s.fell = shop::Side::right;
    return {s};
}

/// Two strips that say the same, with a shim of 0.25 mm behind the left end between them.
void shim_that_did_nothing(Page& p) {
    REQUIRE(p.saw().write(saws::DrawerTyped{{{"brass", 0.10, 0.005, 4}, {"paper", 0.05, 0.005, 2}}}));
    REQUIRE(p.saw().write(strip_of(12.62, 12.01)));
    REQUIRE(p.saw().write(saws::ShimsMoved{{{"shim", 0.25, 0.005}}, {}, {}, {}}));
    REQUIRE(p.saw().write(strip_of(12.62, 12.01)));
    p.rest();
}

}  // namespace

TEST_CASE("from the class view the first screen leads to one's own saw, and the class view waits") {
    Page p;
    p.window.key(Key::escape), p.frames(60);
    p.window.key(Key::n0, {true, false, false}), p.frames(3);
    REQUIRE(p.state.start.open);
    p.type("5");
    REQUIRE(p.bench.view.for_class);
    p.type("0"), p.type("1");
    CHECK(p.saw().open);
    CHECK(p.says("How thick, behind which end?"));
    // The sheet of views offers nothing here that is only seen at the bench.
    p.bench.sheets.settings = true, p.frames(4);
    CHECK(!p.says("Class view"));
    p.window.key(Key::escape), p.frames(3);
    p.window.key(Key::n0, {true, false, false}), p.frames(3);
    p.type("5");
    CHECK(p.bench.view.for_class);
    CHECK(!p.saw().open);
}

TEST_CASE("Enter goes from field to field as Tab does, then to the side that is missing, then to the dark button" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    p.type("12.10"), enter(p, 2);
    p.type("305"), enter(p);
    p.type("12.60"), enter(p, 2);
    p.type("500");
    CHECK(p.saw().draft.between == "305");
    CHECK(p.saw().draft.fence_end[0] == "12.60");
    CHECK(p.saw().draft.span == "500");
    const std::string wanted = "the side where the strip fell is wanted";
    CHECK(p.says(wanted));
    enter(p);
    CHECK(has_keyboard(p) == "left");
    p.window.key(Key::space), p.frames(3);
    CHECK(p.saw().draft.fell == shop::Side::left);
    CHECK(!p.says(wanted));
    p.into("between the shim points [mm]", "500");
    enter(p);
    CHECK(has_keyboard(p) == p.saw().now().button);
    // What is typed next is no command, whatever digits it has.
    for (const char* digit : {"0", "5", "1", "0"}) p.type(digit);
    CHECK(p.saw().open);
    CHECK(!p.state.start.open);
    p.window.key(Key::n0, {true, false, false}), p.frames(3);
    CHECK(p.state.start.open);
}

TEST_CASE(
    "a bare 0 leads back from one's own saw where nothing is typed, and not in the moment after a field was left") {
    Page p;
    p.window.key(Key::escape), p.frames(2);
    p.type("0");
    CHECK(p.saw().open);
    p.frames(90);
    p.type("0");
    CHECK(p.state.start.open);
}

TEST_CASE("two fields exchanged: one button exchanges them, and neither number is lost") {
    Page p;
    p.strip("305", "12.01", "12.62", "500");
    REQUIRE(p.press("right"));
    p.rest();
    REQUIRE(p.says("are the two exchanged?"));
    REQUIRE(p.press("Exchange them"));
    p.rest();
    CHECK(p.saw().draft.far_end[0] == "12.01");
    CHECK(p.saw().draft.between == "305");
    CHECK(!p.says("Is this meant?"));
    // The distance between the shim points is known from before and stands in its field without being typed.
    REQUIRE(p.saw().write_strip(std::nullopt));
    p.frames(2);
    p.saw().draft.far_end[0] = "12.01", p.saw().draft.fence_end[0] = "12.02", p.saw().draft.between = "305";
    saws::Question q;
    q.field = saws::Field::between, q.exchanged_with = saws::Field::span;
    p.frames(2);
    p.saw().take(q);
    CHECK(p.saw().draft.between == "500");
    CHECK(p.saw().draft.span == "305");
}

TEST_CASE("shims that were written down wrong: their end and their thickness are corrected, the first entry stays") {
    Page p;
    REQUIRE(p.saw().write(strip_of(12.62, 12.01)));
    REQUIRE(p.saw().write(saws::ShimsMoved{{{"brass", 0.127, 0.005}, {"paper", 0.08, 0.005}}, {}, {}, {}}));
    p.frames(3);
    CHECK(p.says("entry 2"));
    REQUIRE(p.press("today, Shim 0.207 mm left"));
    REQUIRE(p.press("right end"));
    p.into("paper, how thick [mm]", "0.1");
    REQUIRE(p.press("Correct it"));
    const saws::Entry* now = saws::corrected_by(p.saw().sled(), 2);
    REQUIRE(now != nullptr);
    const auto& moved = std::get<saws::ShimsMoved>(now->what);
    CHECK(moved.put_left.empty());
    REQUIRE(moved.put_right.size() == 2);
    CHECK(moved.put_right[0] == saws::Piece{"brass", 0.127, 0.005});  // as exact as it was
    CHECK(moved.put_right[1].thickness_mm == 0.1);
    CHECK(p.saw().sled().entries.size() == 3);
    // All emptied: that is a withdrawal, and is said.
    REQUIRE(p.press("today, Shim 0.227 mm right"));
    p.into("brass, how thick [mm]", " "), p.into("paper, how thick [mm]", " ");
    REQUIRE(p.press("Correct it"));
    CHECK(p.says("withdraw it instead"));
    CHECK(p.saw().sled().entries.size() == 3);
}

TEST_CASE("shims are proposed in their sheet only where the page asks for one" * doctest::skip(repeats::sanitized)) {
    Page p;
    REQUIRE(p.saw().write(strip_of(12.30, 12.12)));  // off by less than one strip tells
    p.rest();
    REQUIRE(!p.saw().asks_for_shim());
    p.state.my_saw.sheets.open = MySheet::what_is_in, p.frames(4);
    CHECK(p.state.my_saw.sheets.put.empty());
    p.state.my_saw.sheets.open = MySheet::none, p.frames(4);
    REQUIRE(p.saw().write(strip_of(12.62, 12.01)));
    p.rest();
    REQUIRE(p.saw().asks_for_shim());
    p.state.my_saw.sheets.open = MySheet::what_is_in, p.frames(4);
    CHECK(!p.state.my_saw.sheets.put.empty());
}

TEST_CASE("the drawer is found again once it is typed: its button, and its line in the log with what was typed") {
    Page p;
    REQUIRE(p.saw().write(saws::DrawerTyped{{{"brass", 0.20, 0.005, 2}}}));
    REQUIRE(p.saw().write(saws::SizesTyped{{{"fence.length", "610 mm"}}}));
    p.frames(3);
    CHECK(p.says("Sizes typed: the fence's length 610 mm"));
    REQUIRE(p.press("my drawer"));
    CHECK(p.state.my_saw.sheets.open == MySheet::drawer);
    CHECK(p.state.my_saw.sheets.pieces.front().name == "brass");
    p.window.key(Key::escape), p.frames(3);
    REQUIRE(p.press("today, Drawer typed: 2 of brass 0.200 mm"));
    REQUIRE(p.press("Change the drawer"));
    CHECK(p.state.my_saw.sheets.open == MySheet::drawer);
}

TEST_CASE("with any caliper the row of what seldom changes stays in its card") {
    for (const int wide : {1280, 900}) {
        Page p(wide, 800);
        for (const saws::KnownCaliper& one : saws::known_calipers()) {
            CAPTURE(one.name);
            REQUIRE(p.saw().write(saws::SizesTyped{one.sizes}));
            p.frames(3);
            const gui::Drawn* last = p.window.record().find("my drawer", Kind::button);
            REQUIRE(last != nullptr);
            for (const gui::Drawn& d : p.window.record().items()) {
                if (d.kind == Kind::card && d.label == "Strip") CHECK(last->hi.x <= d.hi.x - 20.0F);
            }
        }
    }
}

TEST_CASE("a sheet that opens has the cursor in its first field, and Enter in its last does what its button does" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    REQUIRE(p.press("another day"));
    CHECK(has_keyboard(p) == "the day");
    p.type("2026-11-20"), enter(p);
    CHECK(p.saw().draft.date == std::chrono::year(2026) / 11 / 20);
    CHECK(p.state.my_saw.sheets.open == MySheet::none);
    // Escape in a field in which nothing was typed is meant for its sheet.
    REQUIRE(p.press("another day"));
    p.window.key(Key::escape), p.frames(4);
    CHECK(p.state.my_saw.sheets.open == MySheet::none);
    CHECK(p.saw().open);

    REQUIRE(p.press("my drawer"));
    p.type("brass"), enter(p), p.type("0.2"), enter(p), p.type("2"), enter(p, 2);
    REQUIRE(p.saw().set_up().drawer_typed);
    CHECK(p.saw().set_up().scenario.drawing.drawer.size() == 1);
    CHECK(p.saw().set_up().scenario.drawing.drawer[0].count == 2);

    REQUIRE(p.press("Add"));
    p.type("slots waxed"), enter(p, 2);
    CHECK(std::holds_alternative<saws::PutRight>(p.saw().sled().entries.back().what));
    CHECK(p.state.my_saw.sheets.open == MySheet::none);

    p.state.my_saw.checks.check = measure::Check::fence_straightedge;
    REQUIRE(p.press("Checks"));
    REQUIRE(p.press("Type what was read"));
    const std::size_t wanted = measure::info(measure::Check::fence_straightedge).readings.size();
    for (std::size_t i = 0; i < wanted; ++i) p.type("0.05"), enter(p);
    if (p.says("write it down once more")) REQUIRE(p.press("Write it down"));
    CHECK(std::holds_alternative<saws::CheckMade>(p.saw().sled().entries.back().what));
    CHECK(p.bench.said == "Written down.");
    CHECK(p.says("Written down: "));
    CHECK(p.says("Straightedge on the fence: "));  // in the log, with what was read
    p.window.key(Key::escape), p.frames(4);

    REQUIRE(p.press("Another saw"));
    p.type("the blue sled"), enter(p, 2);
    CHECK(p.saw().sled().name == "My sled");  // nothing can be kept here: it says so
    CHECK(p.says("no folder"));
}

TEST_CASE("a new sled begins with the cursor in its first field") {
    const DataFolder data;
    Page p(1280, 800, data.path);
    REQUIRE(p.press("Another saw"));
    p.type("the blue sled"), enter(p, 2);
    REQUIRE(p.saw().sled().name == "the blue sled");
    p.frames(6);
    p.type("12.1");
    CHECK(p.saw().draft.far_end[0] == "12.1");
}

TEST_CASE("a correction can be given up, and the strip that was being typed is back" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    REQUIRE(p.saw().write(strip_of(12.62, 12.01)));
    p.frames(2);
    p.into("far end [mm]", "12.3");
    for (const bool by_key : {true, false}) {
        REQUIRE(p.press("today, Test 1"));
        REQUIRE(p.press("Correct its readings"));
        REQUIRE(p.saw().draft.corrects);
        if (by_key) p.window.key(Key::escape), p.frames(3);
        else REQUIRE(p.press("Cancel"));
        CHECK(p.saw().open);
        CHECK(!p.saw().draft.corrects);
        CHECK(p.saw().draft.far_end[0] == "12.3");
        CHECK(p.saw().sled().entries.size() == 1);
    }
    // Written: what waited is back as well.
    REQUIRE(p.press("today, Test 1"));
    REQUIRE(p.press("Correct its readings"));
    p.rest();
    REQUIRE(p.saw().write_strip(std::nullopt));
    CHECK(p.saw().draft.far_end[0] == "12.3");
    CHECK(!p.saw().draft.corrects);
}

TEST_CASE("a shim that did nothing: no readings are praised, no pieces offered, and what to look at is seen at once" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    shim_that_did_nothing(p);
    REQUIRE(p.says("The shim hardly moved the fence"));
    CHECK(!p.says("Your readings agree with each other."));
    CHECK(!p.says("From your drawer"));
    CHECK(!p.says("Other shims"));
    const gui::Drawn *card = nullptr, *words = nullptr;
    for (const gui::Drawn& d : p.window.record().items()) {
        if (d.kind == Kind::card && d.label.starts_with("Now")) card = &d;
        if (d.label.find("between the fence and what") != std::string::npos) words = &d;
    }
    REQUIRE(card != nullptr);
    REQUIRE(words != nullptr);
    CHECK(words->hi.y <= card->hi.y);
}

TEST_CASE("where there is little room the pieces and what they leave stand whole, and no words touch a button" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    REQUIRE(p.saw().write(saws::DrawerTyped{{{"brass", 0.10, 0.005, 4}, {"paper", 0.05, 0.005, 2}}}));
    p.into("far end [mm]", "12.01"), p.into("between the two places [mm]", "305");
    p.into("fence end [mm]", "12.62"), p.into("between the shim points [mm]", "500");
    REQUIRE(p.press("right"));
    p.rest();
    const gui::Drawn *card = nullptr, *sum = nullptr, *practise = nullptr;
    for (const gui::Drawn& d : p.window.record().items()) {
        if (d.kind == Kind::card && d.label.starts_with("Now")) card = &d;
        if (d.label.starts_with("= 0.250 mm, leaves")) sum = &d;
        if (d.label.starts_with("With your sizes")) practise = &d;
    }
    REQUIRE(card != nullptr);
    REQUIRE(sum != nullptr);
    CHECK(sum->hi.y < card->hi.y);
    const gui::Drawn* make = p.window.record().find("Make one", Kind::button);
    REQUIRE(practise != nullptr);
    REQUIRE(make != nullptr);
    CHECK(practise->hi.y + 6.0F <= make->lo.y);
}

TEST_CASE("one check is proposed on the whole page, and the names of the checks stand whole" *
          doctest::skip(repeats::sanitized)) {
    Page p;
    REQUIRE(p.saw().write(strip_of(12.62, 12.01)));
    p.rest();
    REQUIRE(p.saw().besides());
    REQUIRE(p.saw().besides()->check);
    REQUIRE(p.press("Show how"));
    const std::string proposed(measure::info(*p.saw().besides()->check).title);
    CHECK(!p.says("Next: "));
    const gui::Drawn* row = nullptr;
    for (const gui::Drawn& d : p.window.record().items()) {
        if (d.kind == Kind::list_row && d.value == "proposed") row = &d;
    }
    REQUIRE(row != nullptr);
    CHECK(row->label == proposed);
    for (const measure::CheckInfo& check : measure::checks()) {
        const gui::Drawn* one = p.window.record().find(check.title, Kind::list_row);
        if (one != nullptr) CHECK_MESSAGE(!one->cut, check.title);
    }
}

TEST_CASE("each sled in the units that its log was begun in, until units are chosen; half a strip means what it did" *
          doctest::skip(repeats::sanitized)) {
    const DataFolder data;
    const saws::Store store(data.path);
    {
        auto inches = store.make("inches", "", Units::imperial);
        REQUIRE(inches);
        auto with = saws::added(inches->sled, strip_of(12.62, 12.01), today, today);
        REQUIRE(with);
        REQUIRE(store.save(*inches, *with));
    }
    Page p(1280, 800, data.path);
    CHECK(p.says("far end [in]"));
    p.type("0.476");
    REQUIRE(p.saw().make("millimetres", ""));
    p.frames(3);
    CHECK(p.says("far end [in]"));  // a new one is begun in the units that are seen
    REQUIRE(p.saw().switch_to("inches"));
    p.frames(3);
    CHECK(p.saw().draft.far_end[0] == "0.476");
    CHECK(p.saw().strip().far_end[0].value == doctest::Approx(12.0904).epsilon(1e-12));  // 25.4 mm in an inch, by hand
    // Back at the bench its own units are back; who chooses has chosen, of every sled.
    gui::lead_back(p.bench, p.state), p.frames(3);
    CHECK(p.bench.view.units == Units::metric);
    p.type("1");
    CHECK(p.bench.view.units == Units::imperial);
    p.bench.choose_units(Units::metric);
    p.frames(3);
    CHECK(p.says("far end [mm]"));
    CHECK(p.saw().strip().far_end[0].value == doctest::Approx(12.0904).epsilon(1e-12));
}

TEST_CASE("the log shows whole rows, also where there is room for one only" * doctest::skip(repeats::sanitized)) {
    for (const int high : {800, 830, 900, 1080}) {
        CAPTURE(high);
        Page p(1280, high);
        for (int i = 0; i < 12; ++i) REQUIRE(p.saw().write(saws::PutRight{std::nullopt, "slots waxed"}));
        REQUIRE(p.saw().write(strip_of(12.62, 12.01)));
        p.rest();
        const gui::Drawn *list = nullptr, *first = nullptr, *last = nullptr;
        for (const gui::Drawn& d : p.window.record().items()) {
            if (d.kind == Kind::card && d.label == "What was done to it") list = &d;
            if (d.kind != Kind::other || !d.visible || !d.label.starts_with("today, ")) continue;
            if (first == nullptr) first = &d;
            last = &d;
        }
        REQUIRE(list != nullptr);
        REQUIRE(last != nullptr);
        CHECK(last->label.starts_with("today, Test 1"));
        CHECK(last->hi.y <= list->hi.y);
        // Below the head of the card, where the list begins: what is above it is hidden there.
        const float top = list->lo.y + 44.0F;
        const float hidden = top - first->lo.y;
        const bool whole = hidden <= 0.0F || hidden >= 20.0F;  // of a row of 24 only its air is left
        CHECK_MESSAGE(whole, hidden);
    }
}
