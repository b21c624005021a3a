// Parts dragged on the table with the mouse, each one thing to undo; and the same value typed.
#include <doctest/doctest.h>

#include <cmath>

#include "both_sides.h"
#include "shop/truth.h"
#include "window_support.h"

using namespace offsquare;
using window_test::Window;

namespace {

const gui::Drawn* handle(const Window& w, std::string_view label) {
    const gui::Drawn* found = nullptr;
    for (const gui::Drawn& d : w.window.record().items()) {
        if (d.label == label) found = &d;
    }
    return found;
}

/// Drags the middle of a handle, or a point of it that nothing else covers.
void drag(Window& w, std::string_view label, float dx, float dy, float at_x = 0.5F, float at_y = 0.5F) {
    const gui::Drawn* h = handle(w, label);
    REQUIRE_MESSAGE(h != nullptr, label);
    CHECK_MESSAGE(h->hi.x - h->lo.x >= 24.0F, label);
    CHECK_MESSAGE(h->hi.y - h->lo.y >= 24.0F, label);
    const ImVec2 from{h->lo.x + at_x * (h->hi.x - h->lo.x), h->lo.y + at_y * (h->hi.y - h->lo.y)};
    w.window.mouse_move(from.x, from.y);
    w.frames(1);
    w.window.mouse_button(true);
    w.frames(2);
    for (int i = 1; i <= 6; ++i) {
        w.window.mouse_move(from.x + dx * static_cast<float>(i) / 6.0F, from.y + dy * static_cast<float>(i) / 6.0F);
        w.frames(1);
    }
}

void let_go(Window& w) {
    w.window.mouse_button(false);
    w.frames(4);
}

}  // namespace

TEST_CASE("the free corner of the board is dragged: two sizes, one thing to undo, the value shown on the way") {
    Window w;
    w.type("s");
    const shop::Board before = w.bench.scenario().drawing.board;
    drag(w, "Free corner of the board", -30.0F, 20.0F);
    CHECK(w.bench.history().actions().empty());
    CHECK(w.window.record().says(" mm × "));
    let_go(w);
    const shop::Board after = w.bench.scenario().drawing.board;
    CHECK(after.width_mm > before.width_mm);
    CHECK(after.length_mm < before.length_mm);
    REQUIRE(w.bench.history().actions().size() == 1);
    CHECK(w.bench.stage() == session::Stage::set_up);
    w.window.key(gui::Key::z, {true, false, false});
    w.frames(3);
    CHECK(w.bench.scenario().drawing.board.width_mm == before.width_mm);
    CHECK(w.bench.scenario().drawing.board.length_mm == before.length_mm);
}

TEST_CASE("the board is dragged along the fence, and a mere press changes nothing") {
    Window w;
    w.type("s");
    const double before = w.bench.scenario().drawing.board.trim_mm;
    drag(w, "Board along the fence", 0.0F, 0.0F, 0.3F, 0.4F);
    let_go(w);
    CHECK(w.bench.history().actions().empty());
    drag(w, "Board along the fence", 24.0F, 0.0F, 0.3F, 0.4F);
    CHECK(w.window.record().says("cut off"));
    let_go(w);
    CHECK(w.bench.scenario().drawing.board.trim_mm > before);
    CHECK(w.bench.history().actions().size() == 1);
    // The page did not move with it.
    CHECK(w.bench.view.pan == base::Vec2{});
}

TEST_CASE("the true fence can be turned only by who asked to see it, on the table and in the fields alike") {
    Window w;
    w.type("s");
    CHECK(handle(w, "Left end of the true fence") == nullptr);
    CHECK_FALSE(w.window.record().says("faults"));
    w.type("t");
    CHECK(w.window.record().says("faults"));
    const double before = both_sides::truth_of(w.bench.history()).fence_skew_rad;
    drag(w, "Left end of the true fence", 0.0F, -20.0F);
    CHECK(w.window.record().says("mm in 1 m"));
    let_go(w);
    // Up the page is away from the operator: a smaller skew; 20 pixels at 1 to 3 mm each over the arm of 530 mm, as
    // many times smaller as the picture draws it larger.
    const double drawn = w.bench.exaggeration();
    const double change = both_sides::truth_of(w.bench.history()).fence_skew_rad - before;
    CHECK(change < 0.0);
    CHECK(std::abs(change) < 20.0 / 530.0 / drawn * 3.0);
    CHECK(std::abs(change) > 20.0 / 530.0 / drawn);
    CHECK(w.bench.history().actions().size() == 1);
    REQUIRE(w.press("faults "));
    w.type("t");
    CHECK(handle(w, "Left end of the true fence") == nullptr);
    CHECK_FALSE(w.window.record().says("fence skew"));
}

TEST_CASE("the blade is raised by its end, and the caliper placed along the strip") {
    Window w;
    w.type("s");
    const double before = w.bench.scenario().drawing.blade.height_mm;
    drag(w, "End of the blade", 0.0F, -8.0F);
    CHECK(w.window.record().says("blade height"));
    let_go(w);
    CHECK(w.bench.scenario().drawing.blade.height_mm > before);
    w.window.key(gui::Key::escape);
    w.frames(3);
    w.type("n");
    w.type("n");
    REQUIRE(w.bench.has_strip());
    drag(w, "Caliper, fence end", 0.0F, -20.0F);
    CHECK(w.window.record().says("in from the fence end"));
    let_go(w);
    CHECK(w.bench.in_from_end[0] > 0.0);
    CHECK(w.bench.in_from_end[1] == 0.0);
    // Read where it was put, and not where the other end's stands. Stations count from the fence end.
    w.bench.read(session::End::fence);
    REQUIRE_FALSE(w.bench.seen().tests.back().fence_end.empty());
    CHECK(w.bench.seen().tests.back().fence_end.back().station_mm == w.bench.in_from_end[0]);
}
