// Where a tooltip stands: it covers no control, neither its own nor another.
#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "repeats.h"
#include "window_support.h"

using namespace offsquare;
using gui::Box;
using window_test::shipped;
using window_test::Window;

namespace {

bool covers(const Box& a, const Box& b) {
    return a.lo.x < b.hi.x && b.lo.x < a.hi.x && a.lo.y < b.hi.y && b.lo.y < a.hi.y;
}

Box placed(ImVec2 size, const Box& of, const std::vector<Box>& others, ImVec2 screen) {
    const ImVec2 lo = gui::free_place(size, of, others, screen, 6.0F);
    return {lo, {lo.x + size.x, lo.y + size.y}};
}

bool is_control(gui::Kind kind) {
    using gui::Kind;
    return kind == Kind::button || kind == Kind::step || kind == Kind::chip || kind == Kind::field ||
           kind == Kind::slider || kind == Kind::choice || kind == Kind::list_row;
}

/// Every control of the page is pointed at for as long as a tooltip takes. How many tooltips there were.
int point_at_all(Window& w, float width, float height) {
    int tips = 0;
    const std::vector<gui::Drawn> all = w.window.record().items();
    for (const gui::Drawn& d : all) {
        if (!d.visible || !(is_control(d.kind) || d.kind == gui::Kind::other) || d.hi.x > width || d.hi.y > height)
            continue;
        w.window.mouse_move((d.lo.x + d.hi.x) / 2.0F, (d.lo.y + d.hi.y) / 2.0F);
        w.window.frames(30);  // half a second
        const Box* tip = nullptr;
        Box found;
        for (const gui::Drawn& t : w.window.record().items()) {
            if (t.kind == gui::Kind::tooltip) found = {t.lo, t.hi}, tip = &found;
        }
        if (tip == nullptr) continue;
        ++tips;
        CAPTURE(d.label);
        CHECK(tip->lo.x >= 0.0F);
        CHECK(tip->hi.x <= width);
        CHECK(tip->lo.y >= 0.0F);
        CHECK(tip->hi.y <= height);
        for (const gui::Drawn& c : w.window.record().items()) {
            if (c.visible && is_control(c.kind)) CHECK_MESSAGE(!covers(*tip, {c.lo, c.hi}), c.label);
        }
    }
    return tips;
}

}  // namespace

TEST_CASE("tip: below what it speaks of, above it at the lower edge, beside it in a corner that is taken") {
    const Box of{{100, 100}, {200, 130}};
    const Box below = placed({80, 20}, of, {}, {400, 300});
    CHECK(below.lo.y == 136.0F);
    CHECK(below.lo.x == 100.0F);
    const Box low{{100, 270}, {200, 300}};
    CHECK(placed({80, 20}, low, {}, {400, 300}).hi.y == 264.0F);
    // The row beneath is taken from end to end.
    const Box row{{0, 132}, {400, 162}};
    CHECK(placed({80, 20}, of, {row}, {400, 300}).hi.y == 94.0F);
}

TEST_CASE("tip: among random boxes it covers none where a place is free, as a search of every pixel finds") {
    std::mt19937 random(4);
    const auto between = [&](int lo, int hi) {
        return static_cast<float>(std::uniform_int_distribution<int>(lo, hi)(random));
    };
    int free = 0;
    for (int trial = 0; trial < 60; ++trial) {
        const ImVec2 screen{160, 120}, size{between(20, 70), between(10, 40)};
        std::vector<Box> others;
        const int count = static_cast<int>(between(1, 12));
        for (int i = 0; i < count; ++i) {
            const ImVec2 lo{between(0, 130), between(0, 100)};
            others.push_back({lo, {lo.x + between(5, 30), lo.y + between(5, 20)}});
        }
        const Box of = others.front();
        const Box tip = placed(size, of, others, screen);
        const auto covers_any = [&](const Box& b) {
            return std::any_of(others.begin(), others.end(), [&](const Box& o) { return covers(b, o); });
        };
        // Places of which nothing comes nearer than the gap.
        bool room = false;
        for (float y = 0.0F; y <= screen.y - size.y && !room; ++y) {
            for (float x = 0.0F; x <= screen.x - size.x && !room; ++x)
                room = !covers_any({{x - 6.0F, y - 6.0F}, {x + size.x + 6.0F, y + size.y + 6.0F}});
        }
        if (room) CHECK_FALSE(covers_any(tip));
        free += room ? 1 : 0;
        CHECK(tip.lo.x >= 0.0F);
        CHECK(tip.hi.y <= screen.y);
    }
    CHECK(free > 10);
    CHECK(free < 60);
}

TEST_CASE("no tooltip covers a control: notebook and set-up, in a large and in a small window" *
          doctest::skip(repeats::sanitized)) {
    int tips = 0;
    for (const auto& [wide, high] : {std::pair{1280, 800}, std::pair{900, 700}}) {
        const int width = wide, height = high;  // clang 14 captures no structured binding
        if (repeats::sanitized && width > 1000) continue;
        CAPTURE(width);
        Window w(width, height);
        const auto w_px = static_cast<float>(width), h_px = static_cast<float>(height);
        for (int i = 0; i < 5; ++i) w.type("n");
        w.type("b");
        window_test::settle(w);
        w.bench.said_for = 0.0;
        w.frames(2);
        tips += point_at_all(w, w_px, h_px);
        w.type("b");
        w.type("s");
        tips += point_at_all(w, w_px, h_px);
    }
    CHECK(tips > repeats::of(8, 4));
}
