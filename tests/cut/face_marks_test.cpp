// What a cut leaves to be seen, against the turned rectangle of the blade drawn by hand.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "contact/draws.h"
#include "cut/face_marks.h"
#include "repeats.h"
#include "shop/truth.h"

using namespace offsquare;
using cut::FaceMarks;
using shop::Side;

namespace {

struct Point {
    double x = 0.0, y = 0.0;
};
Point turned(double x, double y, double angle) {
    return {std::cos(angle) * x - std::sin(angle) * y, std::sin(angle) * x + std::cos(angle) * y};
}

double chord_of(const shop::Blade& b) {
    // Half the chord and the height of the blade's centre below the table are the legs of a right triangle under the
    // radius.
    const double radius = 0.5 * b.diameter_mm, below = radius - b.height_mm;
    return 2 * std::sqrt(radius * radius - below * below);
}

FaceMarks marks_of_cut(const shop::Drawing& d, const shop::Truth& t, std::size_t number = 0) {
    const auto test = cut::five_cut(d, t, {}, {1.0, 0.0});
    REQUIRE(test.cuts_made > static_cast<int>(number));
    return cut::marks_of(d, t, test.cuts[number]);
}

}  // namespace

TEST_CASE("a whole pass leaves no step, whatever the toe; the kerf and the heel tell of it") {
    for (const double toe : {-5e-3, -1e-3, -2e-4, 0.0, 2e-4, 2.4e-4, 1e-3, 5e-3}) {
        for (const double height : {25.0, 60.0, 110.0}) {
            shop::Drawing d;
            d.blade.height_mm = height;
            shop::Truth t;
            t.blade_toe_rad = toe;
            t.fence_skew_rad = 7e-4;
            const FaceMarks m = marks_of_cut(d, t, 2);
            CHECK(m.step_mm == 0.0);
            CHECK(m.kerf_mm ==
                  doctest::Approx(3.2 * std::cos(toe) + chord_of(d.blade) * std::abs(std::sin(toe))).epsilon(1e-10));
            CHECK(std::abs(m.heel_depth_mm - chord_of(d.blade) * std::abs(std::sin(toe))) <=
                  250 * std::pow(std::abs(toe), 3));
            // Rear against front by more than the twentieth of a millimetre that can be seen; no case stands nearer to
            // it than a thousandth.
            CHECK(m.heel_marks == (chord_of(d.blade) * std::abs(std::sin(toe)) > 0.05));
            CHECK(m.bevel_rad == 0.0);
        }
    }
}

TEST_CASE("the rear teeth cut one face again, on the piece to whose side their end of the blade stands out") {
    for (const double toe : {-4e-3, -1e-3, 1e-3, 4e-3}) {
        for (const Side kept : {Side::left, Side::right}) {
            CAPTURE(toe);
            shop::Drawing d;
            d.board.kept = kept;
            shop::Truth t;
            t.blade_toe_rad = toe;
            // The board comes from below: the front teeth stand at the near end of the blade, the rear ones at the far.
            const double half = 0.5 * chord_of(d.blade);
            const bool rear_left = turned(-1.6, half, toe).x < turned(-1.6, -half, toe).x;
            const bool rear_right = turned(1.6, half, toe).x > turned(1.6, -half, toe).x;
            REQUIRE(rear_left != rear_right);
            const FaceMarks m = marks_of_cut(d, t);
            REQUIRE(m.heel_on);
            CHECK(*m.heel_on == (rear_left ? Side::left : Side::right));
        }
    }
    CHECK_FALSE(marks_of_cut({}, {}).heel_on);
}

TEST_CASE("a tilted blade's kerf is as wide as its plate where that passes the table") {
    for (const double tilt : {-0.05, -0.01, 0.02, 0.05}) {
        shop::Drawing d;
        shop::Truth t;
        t.blade_tilt_rad = tilt;
        // Two sides of the plate, leaning; each followed down to the table by hand.
        const auto at_table = [&](double side) {
            const Point above = turned(side, 50.0, -tilt);
            const Point below = turned(side, -50.0, -tilt);
            return above.x + (below.x - above.x) * above.y / (above.y - below.y);
        };
        CHECK(marks_of_cut(d, t).kerf_mm == doctest::Approx(at_table(1.6) - at_table(-1.6)).epsilon(1e-12));
        CHECK(marks_of_cut(d, t).kerf_mm > 3.2);
    }
}

TEST_CASE("a push that stops short leaves a step, on the side where the toe leads out only") {
    for (const double toe : {1e-3, 4e-3, -1e-3}) {
        for (const double stop : {-60.0, -20.0, 0.0, 50.0, 100.0}) {
            for (const Side kept : {Side::left, Side::right}) {
                shop::Drawing d;
                d.sled.stop_y_mm = stop;
                d.board.kept = kept;
                shop::Truth t;
                t.blade_toe_rad = toe;
                // At the fence the blade has passed only as far as y = stop. On the side where the far corner of the
                // blade reaches furthest out, it would still have come.
                const double half = 0.5 * chord_of(d.blade), side = kept == Side::left ? -1.6 : 1.6;
                const Point far = turned(side, half, toe), near = turned(side, -half, toe);
                const double outward = kept == Side::left ? -1.0 : 1.0;
                const double there = near.x + (far.x - near.x) * (stop - near.y) / (far.y - near.y);
                const double step = outward * (far.x - near.x) > 0 ? outward * (far.x - there) : 0.0;
                CHECK(std::abs(marks_of_cut(d, t).step_mm - step) < 1e-9);
                if (kept == Side::left && toe > 0) CHECK(step > 0.005);
            }
        }
    }
    shop::Drawing d;
    shop::Truth t;
    t.blade_toe_rad = 1e-3;
    d.sled.stop_y_mm =
        -60;  // (106.77 + 60) * 1e-3, in a case of our own as long as the one of 0.198 mm in physics.md is
    CHECK(marks_of_cut(d, t).step_mm == doctest::Approx(0.16677).epsilon(1e-3).scale(0));
    d.sled.stop_y_mm = 107.5;  // just past the chord
    CHECK(marks_of_cut(d, t).step_mm == 0.0);
}

TEST_CASE(
    "on guides that turn the sled the step is the face with the stop less the face without, and no part of a curve") {
    Draws r(3301);
    double most = 0.0;
    int nothing = 0;
    for (int n = 0; n < repeats::of(150, 20); ++n) {
        CAPTURE(n);
        shop::Drawing d;
        d.board.kept = r.coin() ? Side::left : Side::right;
        shop::Truth t;
        t.left_play_mm = t.right_play_mm = 0.4;
        t.runner_bend_mm = r.coin() ? r.between(-0.3, 0.3) : 0.0;
        t.slot_splay_rad = r.coin() ? r.between(-4e-4, 4e-4) : 0.0;
        t.blade_toe_rad = r.coin() ? r.between(-1e-3, 1e-3) : 0.0;
        const auto whole = cut::five_cut(d, t, {}, {1.0, 0.0});
        d.sled.stop_y_mm = r.between(-90.0, 100.0);
        const auto stopped = cut::five_cut(d, t, {}, {1.0, 0.0});
        if (whole.cuts_made < 1 || stopped.cuts_made < 1) continue;
        const auto at_the_fence = [&](const cut::FiveCut& test) {
            const cut::Kerf& kerf = test.cuts[0].kerf;
            return d.board.kept == Side::left ? kerf.left.front().x : kerf.right.front().x;
        };
        const double step = std::abs(at_the_fence(stopped) - at_the_fence(whole));
        // The two sleds are looked at in other places of the same curve, which has 33 points: up to a thirtieth of it.
        CHECK(std::abs(cut::marks_of(d, t, stopped.cuts[0]).step_mm - step) < 1e-3 + std::abs(t.runner_bend_mm) / 25.0);
        most = std::max(most, step);
        nothing += step < 1e-6 ? 1 : 0;
    }
    CHECK(most > 0.05);
    CHECK(nothing > repeats::of(20, 2));
}

TEST_CASE("tilt, run-out and toe leave every corner untouched after a whole pass, and show elsewhere") {
    shop::Drawing d;
    shop::Truth t;
    t.fence_skew_rad = -6e-4;
    const auto plain = cut::five_cut(d, t, {}, {1.0, 0.0});
    t.blade_tilt_rad = 0.02;
    t.blade_runout_mm = 0.3;
    t.blade_toe_rad = 3e-3;
    const auto bad = cut::five_cut(d, t, {}, {1.0, 0.0});
    for (std::size_t i = 0; i < 5; ++i) CHECK(std::abs(bad.cuts[i].corner_rad - plain.cuts[i].corner_rad) < 1e-12);
    const FaceMarks m = cut::marks_of(d, t, bad.cuts[1]);
    CHECK(m.bevel_rad == 0.02);
    CHECK(m.kerf_mm ==
          doctest::Approx(3.5 / std::cos(0.02) * std::cos(3e-3) + chord_of(d.blade) * std::sin(3e-3)).epsilon(1e-10));
}
