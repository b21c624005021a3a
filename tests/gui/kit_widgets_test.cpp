#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "base/quantity.h"
#include "kit_support.h"

using namespace offsquare;
using namespace offsquare::gui;
using kit_test::small_window;

namespace {

/// Runs `draw` inside a page.
Headless::Draw on_page(std::function<void(Kit&)> draw) {
    return [draw = std::move(draw)](Kit& kit) {
        page_begin(kit, "page");
        draw(kit);
        page_end(kit);
    };
}

base::Result<double> length(std::string_view text) {
    return base::parse_length(text, base::LengthUnit::mm).map([](const base::Typed& typed) { return typed.value; });
}

/// A number field with its value, as a panel keeps them.
struct LengthField {
    FieldState state;
    double value_mm = 12.0;
    int commits = 0;

    void draw(Kit& kit) {
        if (const auto typed =
                number_field(kit, "Board", state, base::print_length(value_mm, base::LengthStyle::mm, 1), &length)) {
            value_mm = *typed;
            ++commits;
        }
    }
};

}  // namespace

TEST_CASE("strong button: one click, one press") {
    int presses = 0;
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) { presses += strong_button(kit, "Read again") ? 1 : 0; }));
    REQUIRE(window.click("Read again"));
    window.frames(10);
    CHECK(presses == 1);
    REQUIRE(window.click("Read again"));
    CHECK(presses == 2);
}

TEST_CASE("strong button: pressing on it and letting go elsewhere does nothing") {
    int presses = 0;
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) { presses += strong_button(kit, "Read again") ? 1 : 0; }));
    const Drawn item = *window.record().find("Read again");
    window.drag({item.lo.x + 10.0F, item.lo.y + 10.0F}, {item.hi.x + 100.0F, item.hi.y + 100.0F});
    CHECK(presses == 0);
}

TEST_CASE("a disabled button cannot be clicked nor reached by Tab") {
    int presses = 0;
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) {
        presses += button(kit, "Undo", 0.0F, false) ? 1 : 0;
        presses += strong_button(kit, "Cut", 190.0F, {}, false) ? 1 : 0;
        button(kit, "Other");
    }));
    CHECK_FALSE(window.click("Undo"));
    const Drawn item = *window.record().find("Undo");
    window.click(item.lo.x + 5.0F, item.lo.y + 5.0F);
    CHECK(presses == 0);
    CHECK_FALSE(window.tab_to("Undo"));
    CHECK(window.tab_to("Other"));
}

TEST_CASE("keyboard: Tab reaches every control across cards and fields, Shift+Tab goes back, Space and Enter press") {
    int first = 0;
    int last = 0;
    std::string text;
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) {
        card_begin(kit, "One");
        first += strong_button(kit, "First") ? 1 : 0;
        text_field(kit, "Words", text);
        card_end(kit);
        card_begin(kit, "Two");
        last += button(kit, "Last") ? 1 : 0;
        card_end(kit);
    }));
    REQUIRE(window.tab_to("First"));
    CHECK(first == 0);  // arriving is not pressing
    window.key(Key::tab);
    REQUIRE(window.record().focused() != nullptr);
    CHECK(window.record().focused()->label == "Words");
    window.type("abc");
    window.key(Key::tab);
    REQUIRE(window.record().focused() != nullptr);
    CHECK(window.record().focused()->label == "Last");
    CHECK(text == "abc");
    window.key(Key::space);
    CHECK(last == 1);
    window.key(Key::enter);
    CHECK(last == 2);
    window.key(Key::tab);  // round to the beginning
    CHECK(window.record().focused()->label == "First");
    window.key(Key::tab, {.shift = true});
    CHECK(window.record().focused()->label == "Last");
    CHECK(first == 0);
}

TEST_CASE("keyboard: the control that has it shows a ring in the colour of reading") {
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) { button(kit, "Undo"); }));
    const Rgba ring = window.kit().theme.rgba(Role::read);
    const auto pixels = [&] {
        const Image image = window.image();
        int count = 0;
        for (std::size_t i = 0; i < image.rgba.size(); i += 4) {
            count += image.rgba[i] == ring.r && image.rgba[i + 1] == ring.g && image.rgba[i + 2] == ring.b ? 1 : 0;
        }
        return count;
    };
    CHECK(pixels() == 0);
    REQUIRE(window.tab_to("Undo"));
    const Drawn item = *window.record().find("Undo");
    // At least its four sides without the corners, one pixel thick.
    CHECK(pixels() > static_cast<int>(2.0F * (item.hi.x - item.lo.x)));
}

TEST_CASE("number field: “0,4mm” goes through the project's parser") {
    LengthField field;
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) { field.draw(kit); }));
    CHECK(window.record().find("Board")->value == "12.0 mm");
    REQUIRE(window.click("Board"));
    window.type("0,4mm");
    CHECK(field.commits == 0);  // not while typing
    window.key(Key::enter);
    CHECK(field.commits == 1);
    CHECK(field.value_mm == doctest::Approx(0.4).epsilon(1e-12));
    CHECK(window.record().find("Board")->value == "0.4 mm");
}

TEST_CASE("number field: a bad value stays in the box with its message beneath, and changes nothing") {
    LengthField field;
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) { field.draw(kit); }));
    REQUIRE(window.click("Board"));
    window.type("1/0");
    window.key(Key::enter);
    CHECK(field.commits == 0);
    CHECK(field.value_mm == 12.0);
    const auto problem = length("1/0");
    REQUIRE_FALSE(problem);
    const Drawn* error = window.record().find(problem.error().message, Kind::error);
    REQUIRE(error != nullptr);
    CHECK(error->lo.y >= window.record().find("Board")->hi.y);
    CHECK(window.record().find("Board")->value == "1/0");

    REQUIRE(window.click("Board"));
    window.type("20");
    window.key(Key::tab);  // leaving commits as Enter does
    CHECK(field.value_mm == 20.0);
    CHECK(window.record().find(problem.error().message) == nullptr);
}

TEST_CASE("number field: Escape takes back what was typed, also after an error") {
    LengthField field;
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) { field.draw(kit); }));
    REQUIRE(window.click("Board"));
    window.type("99");
    window.key(Key::escape);
    CHECK(field.value_mm == 12.0);
    CHECK(window.record().find("Board")->value == "12.0 mm");
    REQUIRE(window.click("Board"));
    window.type("x");
    window.key(Key::enter);
    CHECK_FALSE(field.state.error.empty());
    REQUIRE(window.click("Board"));
    window.key(Key::escape);
    CHECK(field.state.error.empty());
    CHECK(window.record().find("Board")->value == "12.0 mm");
    CHECK(field.commits == 0);
}

TEST_CASE("shortcut: a letter works in either case, but not while a field or a sheet has the keyboard") {
    int fired = 0;
    bool sheet = false;
    std::string text;
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) {
        text_field(kit, "Words", text);
        fired += typed(U'r') ? 1 : 0;
        if (sheet_begin(kit, "Keys", sheet)) {
            paragraph(kit, "R reads again.");
            sheet_end(kit);
        }
    }));
    window.type("r");
    window.type("R");
    window.type("x");
    CHECK(fired == 2);
    REQUIRE(window.click("Words"));
    window.type("r");
    CHECK(fired == 2);
    CHECK(text == "r");
    window.key(Key::enter);
    sheet = true;
    window.frames(5);
    window.type("r");
    CHECK(fired == 2);
}

TEST_CASE("slider: arrows, Page and Home keys move it and keep the keyboard; the mouse drags it onto whole steps") {
    double value = 0.0;
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) {
        button(kit, "Before");
        slider(kit, "cut", value, 0.0, 5.0, 0.5, "now", 6);
        button(kit, "After");
    }));
    REQUIRE(window.tab_to("cut"));
    window.key(Key::right);
    window.key(Key::right);
    CHECK(value == doctest::Approx(1.0));
    window.key(Key::left);
    CHECK(value == doctest::Approx(0.5));
    window.key(Key::end);
    CHECK(value == 5.0);
    window.key(Key::right);  // no further
    CHECK(value == 5.0);
    window.key(Key::home);
    CHECK(value == 0.0);
    CHECK(window.record().focused()->label == "cut");
    const Drawn item = *window.record().find("cut");
    const float y = (item.lo.y + item.hi.y) / 2.0F;
    window.drag({item.lo.x + 60.0F, y}, {item.lo.x + 0.5F * (item.hi.x - item.lo.x), y});
    CHECK(value > 1.0);
    CHECK(value < 4.0);
    CHECK(std::abs(value * 2.0 - std::round(value * 2.0)) < 1e-9);
    window.drag({item.lo.x + 300.0F, y}, {item.hi.x + 200.0F, y});
    CHECK(value == 5.0);
}

TEST_CASE("chip: chosen is told by more than colour, and pressing is told once") {
    bool chosen = false;
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) {
        if (chip(kit, "a", "brass", "0.003", chosen, {.count = 2})) chosen = !chosen;
    }));
    const Drawn before = *window.record().find("brass 0.003", Kind::chip);
    CHECK_FALSE(before.selected);
    CHECK(before.value == "×2");
    const Image plain = window.image();
    REQUIRE(window.click("brass 0.003"));
    window.mouse_move(600.0F, 400.0F);
    CHECK(chosen);
    CHECK(window.record().find("brass 0.003")->selected);
    const Image marked = window.image();
    // In shades of grey the two still differ much at the tick, which sticks out over the upper left corner, where the
    // plain chip has nothing.
    const auto grey = [](Rgba c) { return (int{c.r} + int{c.g} + int{c.b}) / 3; };
    const int x = static_cast<int>(before.lo.x) - 2;
    const int y = static_cast<int>(before.lo.y) + 2;
    CHECK(grey(plain.at(x, y)) - grey(marked.at(x, y)) > 60);
}

TEST_CASE("choice and check: a click changes them once; choosing what is chosen changes nothing") {
    int units = 0;
    int changes = 0;
    bool on = false;
    const std::vector<std::string> words{"mm", "inch"};
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) {
        changes += choice(kit, "units", words, units, 200.0F) ? 1 : 0;
        check(kit, "Show the true skew", on);
    }));
    REQUIRE(window.click("inch"));
    CHECK(units == 1);
    REQUIRE(window.click("inch"));
    CHECK(changes == 1);
    REQUIRE(window.click("Show the true skew"));
    CHECK(on);
    REQUIRE(window.tab_to("Show the true skew"));
    window.key(Key::space);
    CHECK_FALSE(on);
}

TEST_CASE("steps: each is told with its state, and each can be pressed") {
    const std::vector<Step> steps{{"Set up", StepState::done}, {"Cut", StepState::present}, {"Read", StepState::later}};
    int pressed_step = -1;
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) {
        if (const int step = step_bar(kit, steps); step >= 0) pressed_step = step;
    }));
    CHECK(window.record().find("Set up", Kind::step)->value == "done");
    CHECK(window.record().find("Cut", Kind::step)->value == "present");
    CHECK(window.record().find("Read", Kind::step)->value == "later");
    REQUIRE(window.click("Read"));
    CHECK(pressed_step == 2);
    REQUIRE(window.tab_to("Set up"));
    window.key(Key::enter);
    CHECK(pressed_step == 0);
    const float drawn = window.record().find("Read")->hi.x - window.record().find("Set up")->lo.x;
    CHECK(drawn == doctest::Approx(step_bar_width(window.kit(), steps)));
}

TEST_CASE("sheet: takes the keyboard from the page, gives it back, and closes by Escape and by its cross") {
    bool open = false;
    int under = 0;
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) {
        under += button(kit, "Under") ? 1 : 0;
        if (sheet_begin(kit, "Cautions", open)) {
            paragraph(kit, "Unplug the saw.");
            button(kit, "Understood");
            sheet_end(kit);
        }
    }));
    open = true;
    window.frames(20);
    CHECK(window.record().says("Unplug the saw."));
    CHECK_FALSE(window.tab_to("Under"));
    CHECK(window.tab_to("Understood"));
    const Drawn* beneath = window.record().find("Under");
    window.click(beneath->lo.x + 3.0F, beneath->lo.y + 3.0F);
    CHECK(under == 0);
    window.key(Key::escape);
    CHECK_FALSE(open);
    CHECK_FALSE(window.record().says("Unplug the saw."));
    open = true;
    window.frames(20);
    REQUIRE(window.click("Close"));
    CHECK_FALSE(open);
    open = true;
    window.frames(20);
    open = false;  // by the panel itself
    window.frames(3);
    CHECK_FALSE(window.record().says("Unplug the saw."));
    REQUIRE(window.click("Under"));
    CHECK(under == 1);
}

TEST_CASE("every control is a target of at least 24 pixels both ways (WCAG 2.2, 2.5.8)") {
    Headless window(small_window());
    bool on = false;
    double value = 0.0;
    int chosen = 0;
    std::string text;
    const std::vector<std::string> words{"a", "b"};
    const std::vector<Step> steps{{"A", StepState::later}};
    window.frame(on_page([&](Kit& kit) {
        button(kit, "x");
        link(kit, "y");
        check(kit, "z", on);
        chip(kit, "c", "a", "1", false, {.width = 10.0F, .height = 10.0F});
        slider(kit, "s", value, 0.0, 1.0, 0.1);
        choice(kit, "k", words, chosen, 20.0F);
        step_bar(kit, steps);
        text_field(kit, "f", text, {.width = 60.0F});
        list_row(kit, "row", "", false);
        hot_area(kit, "handle", {4.0F, 4.0F});
    }));
    int controls = 0;
    for (const Drawn& item : window.record().items()) {
        if (item.kind == Kind::text) continue;
        ++controls;
        CAPTURE(item.label);
        CHECK(item.hi.x - item.lo.x >= 24.0F);
        CHECK(item.hi.y - item.lo.y >= 24.0F);
    }
    CHECK(controls == 11);
}

TEST_CASE("card: as high as its content, and no text leaves it") {
    Headless window(small_window());
    int lines = 2;
    window.frame(on_page([&](Kit& kit) {
        card_begin(kit, "Working", {.width = 300.0F});
        working_row(kit, "a very long name that would run into the figures beside it", "0.4310 − 0.4185", "0.0125 in");
        for (int i = 0; i < lines; ++i)
            paragraph(
                kit,
                "give or take 0.0012 in (95 %): the strip is wider at the fence, so the left end sits too near you.");
        card_end(kit);
    }));
    window.frames(2);
    const Drawn first = *window.record().find("Working", Kind::card);
    lines = 4;
    window.frames(3);
    const Drawn second = *window.record().find("Working", Kind::card);
    CHECK(second.hi.y > first.hi.y + 60.0F);
    for (const Drawn& item : window.record().items()) {
        CAPTURE(item.label);
        CHECK(item.lo.x >= second.lo.x);
        CHECK(item.hi.x <= second.hi.x);
        CHECK(item.hi.y <= second.hi.y);
    }
}

TEST_CASE("toast and tooltip: as wide as their words, and seen") {
    Headless window(small_window());
    window.frame(on_page([&](Kit& kit) {
        button(kit, "Undo");
        tooltip(kit, "Takes back the last action.");
        toast_line(kit, "Saved to teaching-saw.toml.", Role::good);
    }));
    window.frames(3);
    const Drawn* toast = window.record().find("Saved to teaching-saw.toml.", Kind::toast);
    REQUIRE(toast != nullptr);
    CHECK(toast->hi.x - toast->lo.x > 150.0F);
    CHECK(toast->hi.y - toast->lo.y < 60.0F);
    CHECK(toast->hi.y <= 480.0F);
    CHECK(window.record().find("Takes back the last action.", Kind::tooltip) == nullptr);
    const Drawn* undo = window.record().find("Undo");
    window.mouse_move((undo->lo.x + undo->hi.x) / 2.0F, (undo->lo.y + undo->hi.y) / 2.0F);
    window.frames(60);  // a second at rest
    CHECK(window.record().find("Takes back the last action.", Kind::tooltip) != nullptr);
}
