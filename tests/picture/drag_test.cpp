// What a drag on the picture means, held to the picture itself: after the action the part is drawn where the mouse let
// it go.
#include "picture/drag.h"

#include <doctest/doctest.h>

#include <cmath>

#include "picture/sessions.h"
#include "shop/truth.h"

using namespace offsquare;
using base::Vec2;
using picture::Drag;
using picture::Handle;
using picture::ViewOptions;

namespace {

ViewOptions set_up() {
    ViewOptions o;
    o.cut = 0;
    o.travel = 0.0;
    o.grips = true;
    return o;
}
/// Of a person who has asked for the truth.
ViewOptions revealing(const session::History& history) {
    ViewOptions o = set_up();
    o.revealed = sessions::revealed(history);
    return o;
}

session::History after(const session::History& before, const Drag& drag) {
    REQUIRE(drag.action.has_value());
    return sessions::run(before.scenario(), {*drag.action});
}

Vec2 place_of(const picture::Picture& p, Handle handle) {
    for (const picture::Item& item : p.items) {
        const auto* dot = std::get_if<picture::Dot>(&item.shape);
        if (dot != nullptr && item.handle == handle) return dot->at;
    }
    FAIL("no mark with this handle");
    return {};
}

/// Lowest and highest x and y of the board as drawn.
struct Extent {
    Vec2 lo{1e9, 1e9}, hi{-1e9, -1e9};
};
Extent board_of(const picture::Picture& p) {
    Extent e;
    for (const picture::Item& item : p.items) {
        const auto* piece = std::get_if<picture::Polygon>(&item.shape);
        if (piece == nullptr || item.handle != Handle::board) continue;
        for (const Vec2& q : piece->points) {
            e.lo = {std::min(e.lo.x, q.x), std::min(e.lo.y, q.y)};
            e.hi = {std::max(e.hi.x, q.x), std::max(e.hi.y, q.y)};
        }
    }
    return e;
}

}  // namespace

TEST_CASE("the board dragged along the fence lies there afterwards, on either side of the blade") {
    for (const char* kept : {"left", "right"}) {
        const session::History before =
            sessions::run(*scenario::with(scenario::built_in(), {{"board.kept", kept}, {"board.first_edge", "0"}}), {});
        for (const double dx : {-4.0, 9.0}) {
            const auto drag = picture::drag_of(before.seen(), set_up(), Handle::board, {dx, 55.0});
            REQUIRE(drag);
            const Extent a = board_of(picture::table_view(before.seen(), set_up()));
            const Extent b = board_of(picture::table_view(after(before, *drag).seen(), set_up()));
            // Whole millimetres on a whole-millimetre trim: exact but for rounding in the picture.
            CHECK(b.lo.x - a.lo.x == doctest::Approx(dx).epsilon(1e-9));
            CHECK(b.hi.x - a.hi.x == doctest::Approx(dx).epsilon(1e-9));
        }
    }
}

TEST_CASE("the free corner sets width and length together, and is one thing to undo") {
    for (const char* kept : {"left", "right"}) {
        const session::History before =
            sessions::run(*scenario::with(scenario::built_in(), {{"board.kept", kept}, {"board.first_edge", "0"}}), {});
        const double outward = std::string(kept) == "left" ? -1.0 : 1.0;
        const auto drag = picture::drag_of(before.seen(), set_up(), Handle::board_corner, {outward * 12.2, -30.4});
        REQUIRE(drag);
        const session::History t = after(before, *drag);
        CHECK(t.seen().drawing.board.width_mm == before.seen().drawing.board.width_mm + 12.0);
        CHECK(t.seen().drawing.board.length_mm == before.seen().drawing.board.length_mm - 30.0);
        const Extent b = board_of(picture::table_view(t.seen(), set_up()));
        CHECK(b.hi.x - b.lo.x == doctest::Approx(t.seen().drawing.board.width_mm));
        CHECK(drag->value.find(base::show_size(t.seen().drawing.board.width_mm, base::Units::metric)) !=
              std::string::npos);
    }
}

TEST_CASE("the true fence dragged by its end is turned by the drag over the factor, shims or not") {
    for (const bool shimmed : {false, true}) {
        for (const double dy : {-6.0, 14.0}) {
            std::vector<session::Action> actions;
            if (shimmed) actions.push_back(session::PutThickness{shim::At::left, 0.1});
            const session::History before = sessions::run(scenario::built_in(), actions);
            // One factor that suits both.
            const auto view = [](const session::History& history) {
                ViewOptions o = revealing(history);
                o.exaggeration = 100.0;
                return o;
            };
            const auto drag = picture::drag_of(before.seen(), view(before), Handle::fence_end, {3.0, dy});
            REQUIRE(drag);
            actions.push_back(*drag->action);
            const session::History t = sessions::run(scenario::built_in(), actions);
            // The other road: the mark on the picture made afterwards moved as the mouse did. The skew is rounded to
            // 0.01 mrad: 0.005 mrad * 100 * 530 mm = 0.27 mm.
            const Vec2 a = place_of(picture::table_view(before.seen(), view(before)), Handle::fence_end);
            const Vec2 b = place_of(picture::table_view(t.seen(), view(t)), Handle::fence_end);
            CHECK(std::abs(b.y - a.y - dy) < 0.3);
            // And by hand: the slope changes by dy over the arm from the right shim point, divided by the factor; tan x
            // = x to 1 in 500 at 0.08.
            const auto& fence = before.seen().drawing.fence;
            const double arm = -0.5 * fence.length_mm - fence.shim_right_x_mm;
            const double change = both_sides::truth_of(t).fence_skew_rad - both_sides::truth_of(before).fence_skew_rad;
            CHECK(std::abs(change * 100.0 - dy / arm) < 0.001);
        }
    }
}

TEST_CASE("nobody turns what they may not see, and a fence is never dragged off the page") {
    const session::History t = sessions::run(scenario::built_in(), {});
    CHECK_FALSE(picture::drag_of(t.seen(), set_up(), Handle::fence_end, {0.0, 5.0}));
    for (const picture::Item& item : picture::table_view(t.seen(), set_up()).items)
        CHECK(item.handle != Handle::fence_end);
    const auto far = picture::drag_of(t.seen(), revealing(t), Handle::fence_end, {0.0, 5000.0});
    REQUIRE(far);
    CHECK(std::abs(both_sides::truth_of(after(t, *far)).fence_skew_rad) < 0.02);
}

TEST_CASE("the blade's end dragged up raises the blade by the circle") {
    const session::History before = sessions::run(scenario::built_in(), {});
    const auto drag = picture::drag_of(before.seen(), set_up(), Handle::blade_end, {0.0, 8.0});
    REQUIRE(drag);
    const shop::Blade blade = after(before, *drag).seen().drawing.blade;
    CHECK(blade.height_mm > before.seen().drawing.blade.height_mm);
    // The chord by Euclid III.35: (c/2)^2 = h (D - h). Height in whole mm: the half chord off by at most 0.5 * (D/2 -
    // h)/(c/2) mm.
    const double half = std::sqrt(blade.height_mm * (blade.diameter_mm - blade.height_mm));
    const double wanted = 0.5 * shop::chord_mm(before.seen().drawing.blade) + 8.0;
    CHECK(std::abs(half - wanted) <= 0.5 * (0.5 * blade.diameter_mm - blade.height_mm + 1.0) / half + 0.01);
}

TEST_CASE("nothing moved means nothing to do, and during the cuts the board is not set up") {
    const session::History t = sessions::run(scenario::built_in(), {session::CutTest{}});
    for (const Handle h : {Handle::board, Handle::board_corner, Handle::blade_end, Handle::fence_end,
                           Handle::left_shim_point, Handle::right_shim_point}) {
        const auto drag = picture::drag_of(t.seen(), revealing(t), h, {});
        REQUIRE(drag);
        CHECK_FALSE(drag->action);
        CHECK_FALSE(drag->value.empty());
        CHECK_FALSE(drag->ghost.empty());
    }
    ViewOptions cut = revealing(t);
    cut.cut = 3;
    for (const Handle h : {Handle::board, Handle::board_corner, Handle::blade_end, Handle::fence_end})
        CHECK_FALSE(picture::drag_of(t.seen(), cut, h, {5.0, 5.0}));
}

TEST_CASE("in inches a drag goes by sixteenths") {
    const session::History t = sessions::run(scenario::built_in(), {});
    ViewOptions o = set_up();
    o.units = base::Units::imperial;
    const auto drag = picture::drag_of(t.seen(), o, Handle::board, {5.0, 0.0});
    REQUIRE(drag);
    // 8 + 5 = 13 mm is 8.19 sixteenths.
    CHECK(drag->value == "1/2 in");
    CHECK(after(t, *drag).seen().drawing.board.trim_mm == doctest::Approx(12.7).epsilon(1e-9));
}
