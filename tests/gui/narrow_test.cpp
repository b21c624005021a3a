// Windows of other sizes: nothing is covered, cut or out of reach, and the next step is seen without scrolling.
#include <doctest/doctest.h>

#include "repeats.h"

#include <array>

#include "window_support.h"

using namespace offsquare;
using window_test::Window;

namespace {

bool is_control(const gui::Drawn& d) {
    return d.kind == gui::Kind::button || d.kind == gui::Kind::step || d.kind == gui::Kind::field ||
           d.kind == gui::Kind::chip || d.kind == gui::Kind::slider || d.kind == gui::Kind::choice;
}

bool covers(const gui::Drawn& a, const gui::Drawn& b) {
    constexpr float slack = 0.5F;  // neighbours may share an edge
    return a.lo.x + slack < b.hi.x && b.lo.x + slack < a.hi.x && a.lo.y + slack < b.hi.y && b.lo.y + slack < a.hi.y;
}

/// Cards and the page's own controls: apart, and inside the width. What scrolls inside a card may lie under its edge.
void nothing_is_covered(const Window& w, float width) {
    std::vector<gui::Drawn> controls;
    std::vector<gui::Drawn> cards;
    for (const gui::Drawn& d : w.window.record().items()) {
        if (d.kind == gui::Kind::card) cards.push_back(d);
        else if (is_control(d) && d.visible) controls.push_back(d);
        if (d.label != w.bench.scenario().title) CHECK_MESSAGE(!d.cut, d.label);  // the whole is in its tooltip
    }
    for (const auto* list : {&cards, &controls}) {
        for (std::size_t i = 0; i < list->size(); ++i) {
            const gui::Drawn& a = (*list)[i];
            CHECK_MESSAGE(a.lo.x >= 0.0F, a.label);
            CHECK_MESSAGE(a.hi.x <= width, a.label);
            for (std::size_t j = i + 1; j < list->size(); ++j) {
                const bool apart = !covers(a, (*list)[j]) || list == &controls;
                CHECK_MESSAGE(apart, a.label << " / " << (*list)[j].label);
            }
        }
    }
    // The header's steps and buttons, one by one.
    for (const gui::Drawn& a : controls) {
        for (const gui::Drawn& b : controls) {
            const bool both_in_header = &a != &b && a.hi.y <= 100.0F && b.hi.y <= 100.0F;
            if (both_in_header) CHECK_MESSAGE(!covers(a, b), a.label << " / " << b.label);
        }
    }
}

const gui::Drawn* next_button(const Window& w) {
    const std::string words = w.bench.now().button;
    return words.empty() ? nullptr : w.window.record().find(words, gui::Kind::button);
}

}  // namespace

TEST_CASE("in small windows nothing is covered or cut, and the next step is seen without scrolling" *
          doctest::skip(repeats::sanitized)) {
    // The second ends square with a marked face: the most words and buttons that a proof can have.
    for (const std::string name : {"teaching-saw", "panel-sled"}) {
        for (const auto& [wide, high] : {std::pair{1024, 768}, std::pair{900, 700}, std::pair{800, 600},
                                         std::pair{960, 540}, std::pair{1280, 720}, std::pair{1366, 768}}) {
            const int width = wide, height = high;  // clang 14 captures no structured binding
            CAPTURE(name);
            CAPTURE(width);
            Window w(width, height);
            w.bench.open(window_test::shipped(name));
            w.frames(2);
            bool ended = false;
            for (int step = 0; step < 32 && !ended; ++step) {
                CAPTURE(step);
                ended = w.bench.seen().proved;
                w.bench.said_for = 0.0;
                w.frames(2);
                nothing_is_covered(w, static_cast<float>(width));
                if (const gui::Drawn* next = next_button(w)) {
                    CHECK(next->visible);
                    CHECK(next->hi.y <= static_cast<float>(height));
                }
                if (!ended) w.type("n");
            }
            CHECK(w.bench.seen().proved);
            w.type("s");
            nothing_is_covered(w, static_cast<float>(width));
        }
    }
}

TEST_CASE(
    "at twice the size on 900 x 700, which is 450 x 350, no words stand under a button and no step is out of reach") {
    Window w(450, 350);
    w.bench.open(window_test::shipped("panel-sled"));
    const auto look = [&] {
        w.bench.said_for = 0.0;
        w.frames(3);
        int steps = 0;
        for (const gui::Drawn& control : w.window.record().items()) {
            if (!is_control(control) || !control.visible) continue;
            steps += control.kind == gui::Kind::step ? 1 : 0;
            CHECK_MESSAGE(control.hi.x <= 450.0F, control.label);
            for (const gui::Drawn& words : w.window.record().items()) {
                if (words.kind == gui::Kind::text && words.visible)
                    CHECK_MESSAGE(!covers(control, words), control.label << " / " << words.label);
            }
        }
        CHECK(steps >= 5);
    };
    for (int i = 0; i < 8; ++i) {
        look();
        w.type("n");
    }
    for (const char* page : {"h", "b", "s"}) {
        w.type(page);
        window_test::settle(w);
        look();
    }
}

TEST_CASE("a laptop's height holds the whole working and what was chosen from the drawer without scrolling") {
    for (const auto& [wide, high] : {std::pair{1280, 720}, std::pair{1366, 768}, std::pair{1280, 800}}) {
        const int width = wide, height = high;  // clang 14 captures no structured binding
        CAPTURE(height);
        Window w(width, height);
        for (int i = 0; i < 20 && w.bench.seen().stage != session::Stage::shim; ++i) w.type("n");
        REQUIRE(w.bench.seen().stage == session::Stage::shim);
        w.bench.said_for = 0.0;
        w.frames(3);
        const session::Test& test = *w.bench.last_test();
        const auto inside = [&](const std::string& words, const char* title) {
            const gui::Drawn* text = w.window.record().find(words, gui::Kind::text);
            const gui::Drawn* card = nullptr;
            for (const gui::Drawn& d : w.window.record().items()) {
                if (d.kind == gui::Kind::card && d.label.starts_with(title)) card = &d;
            }
            REQUIRE_MESSAGE(text != nullptr, words);
            REQUIRE_MESSAGE(card != nullptr, title);
            CHECK_MESSAGE(text->hi.y <= card->hi.y, words);
        };
        inside(session::working(test, base::Units::metric).because, "Working");
        inside(session::stack_line(test, base::Units::metric), "Shims");
    }
}
