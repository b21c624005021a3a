// The blade's slot in the table as a chord.
#include "shop/drawing.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace offsquare;

namespace {

shop::Blade blade(double diameter_mm, double height_mm) { return {diameter_mm, height_mm, 3.2}; }

}  // namespace

TEST_CASE("chord of a circle segment, values of check-values.md (Machinery's Handbook segment table, from memory)") {
    // Printed to six decimals: half of the last digit.
    CHECK(std::abs(shop::chord_mm(blade(250.0, 60.0)) - 213.541565) < 5e-7);
    CHECK(std::abs(shop::chord_mm(blade(250.0, 25.0)) - 150.0) < 5e-7);
    CHECK(std::abs(shop::chord_mm(blade(254.0, 30.0)) - 163.951212) < 5e-7);
    CHECK(std::abs(shop::chord_mm(blade(300.0, 75.0)) - 259.807621) < 5e-7);
}

TEST_CASE("chord from the angle at the centre: a second road") {
    // The chord of angle 2a in a circle of radius R is 2 R sin a, where R cos a = R - h. A few rounding errors of
    // 1e-13.
    for (int i = 1; i <= 60; ++i) {
        const double a = i * (3.14159265358979323846 / 2.0) / 61.0;
        const double radius = 90.0 + i;
        const double height = radius * (1.0 - std::cos(a));
        CHECK(shop::chord_mm(blade(2.0 * radius, height)) ==
              doctest::Approx(2.0 * radius * std::sin(a)).epsilon(1e-11));
    }
}

TEST_CASE("a blade that is down has no slot") { CHECK(shop::chord_mm(blade(250.0, 0.0)) == 0.0); }

TEST_CASE("runners on the sled and over the table, by hand") {
    shop::Sled sled;
    sled.depth_mm = 420.0;
    sled.fence_from_rear_mm = 60.0;
    sled.runner_length_mm = 400.0;
    // The base's middle lies 210 mm before its rear edge, the face 60: the middle is at 150, the ends 200 to both
    // sides.
    CHECK(shop::runner_middle_mm(sled) == 150.0);
    const shop::RunnerReach all = shop::runner_reach(sled);
    CHECK(all.rear == -50.0);
    CHECK(all.front == 350.0);
    CHECK(all.middle() == 150.0);
    // A table of 560 mm. With the face at y = 0 the front ends stand 70 mm over it; at -600 they stand 250 mm before
    // the middle, 30 mm in; at -629.5 half a millimetre is in, which holds nothing.
    CHECK(shop::over_table(all, 280.0, 0.0).rear == -50.0);
    CHECK(shop::over_table(all, 280.0, 0.0).front == 280.0);
    const auto part = shop::guided_part(all, 280.0, -600.0);
    REQUIRE(part);
    CHECK(part->rear == 320.0);
    CHECK(part->front == 350.0);
    CHECK_FALSE(shop::guided_part(all, 280.0, -629.5));
    CHECK(shop::guided_part(all, 280.0, -629.0));
    CHECK(shop::over_table(all, 280.0, -700.0).front < shop::over_table(all, 280.0, -700.0).rear);
}

TEST_CASE("the span is the distance between the shim points, wherever the blade stands") {
    shop::Fence fence;
    fence.shim_left_x_mm = -123.0;
    fence.shim_right_x_mm = 345.5;
    CHECK(fence.span_mm() == 468.5);
}
