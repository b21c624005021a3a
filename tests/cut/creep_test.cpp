// A board that slides along the fence while it is cut, held to the fence that would do the same and to a point's way.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "contact/draws.h"
#include "cut/first_order.h"
#include "cut/five_cut.h"
#include "cut/strip_ends.h"
#include "shop/truth.h"

using namespace offsquare;
using cut::alike, cut::Grain;
using shop::Drawing, shop::Side, shop::Truth;

TEST_CASE("a board that creeps is cut off square by just that, and a strip by four times that") {
    Draws r(3501);
    for (int n = 0; n < 60; ++n) {
        CAPTURE(n);
        Drawing d;
        d.board.kept = r.coin() ? Side::left : Side::right;
        Truth t;
        t.board_creep_rad = r.between(-2e-3, 2e-3);
        t.fence_skew_rad = r.coin() ? r.between(-1e-3, 1e-3) : 0.0;
        t.blade_toe_rad = r.coin() ? r.between(-3e-3, 3e-3) : 0.0;
        const double corner = t.fence_skew_rad + std::atan(t.board_creep_rad);
        const double kept = d.board.kept == Side::left ? corner : -corner;
        const auto test = cut::five_cut(d, t, {});
        REQUIRE(test.outcome == cut::Outcome::done);
        // Rounding, and what the moments of entering the chord leave out (cut/kerf.h).
        for (std::size_t i = 0; i < 4; ++i) CHECK(std::abs(test.cuts[i].corner_rad - kept) < 1e-9);
        const auto ends = cut::ends_of(*test.strip);
        const double taper = ends.fence_end_mm - ends.far_end_mm;
        CHECK(std::abs(taper - ends.length_mm * std::tan(4.0 * corner) * (d.board.kept == Side::left ? 1.0 : -1.0)) <
              1e-6);
    }
}

TEST_CASE("a board that creeps, all roads: the short, the bare, the long and the first order") {
    Draws r(3502);
    for (int n = 0; n < 60; ++n) {
        CAPTURE(n);
        Drawing d;
        d.board.kept = r.coin() ? Side::left : Side::right;
        Truth t;
        t.board_creep_rad = r.between(-1e-3, 1e-3);
        t.fence_skew_rad = r.between(-5e-4, 5e-4);
        t.blade_toe_rad = r.coin() ? r.between(-1e-3, 1e-3) : 0.0;
        const auto chances = alike({1.0, 0.0});
        const auto long_road = cut::ends_of(*cut::five_cut_each(d, t, {}, chances).strip);
        const auto straight = cut::straight_strip_ends(d, t, {}, chances);
        const auto bare = cut::bare_strip_ends(d, t, {}, chances);
        const auto first = cut::first_order_strip(d, t, {}, chances);
        REQUIRE(straight);
        REQUIRE(bare);
        REQUIRE(first);
        REQUIRE(first->ends);
        const auto taper = [](const cut::StripEnds& e) { return e.fence_end_mm - e.far_end_mm; };
        CHECK(std::abs(straight->fence_end_mm - long_road.fence_end_mm) < 1e-9);
        CHECK(std::abs(straight->far_end_mm - long_road.far_end_mm) < 1e-9);
        CHECK(std::abs(bare->far_end_mm - long_road.far_end_mm) < 1e-9);
        // What is left is of the second order in the turn that four corners add up to, over the board.
        const double four = 4.0 * (std::abs(t.board_creep_rad) + std::abs(t.fence_skew_rad));
        CHECK(std::abs(taper(*first->ends) - taper(long_road)) < four * four * d.board.length_mm);
    }
}

TEST_CASE("a creeping board's face, point by point: the leftmost that the blade comes while the board slides by") {
    Draws r(3503);
    for (int n = 0; n < 20; ++n) {
        Drawing d;
        Truth t;
        t.board_creep_rad = r.between(-2e-3, 2e-3);
        t.blade_toe_rad = r.between(-3e-3, 3e-3);
        const auto test = cut::first_cuts(d, t, {}, alike({1.0, 0.0}), 1);
        REQUIRE(test.cuts_made == 1);
        const double half = 0.5 * shop::chord_mm(d.blade);
        for (const double Y : {0.0, 100.0, 300.0}) {
            double leftmost = 1e9;
            for (int i = 0; i <= 20000; ++i) {
                // A point of the blade's left side, and where the board stands when height Y is beside it.
                const double along = -half + 2.0 * half * i / 20000.0;
                const double x = -0.5 * d.blade.kerf_mm * std::cos(t.blade_toe_rad) - along * std::sin(t.blade_toe_rad);
                const double y = -0.5 * d.blade.kerf_mm * std::sin(t.blade_toe_rad) + along * std::cos(t.blade_toe_rad);
                const double s = y - Y;
                leftmost = std::min(leftmost, x - t.board_creep_rad * s);
            }
            CHECK(std::abs(cut::x_at(test.cuts[0].kerf.left, Y) - leftmost) < 1e-6);
        }
    }
}
