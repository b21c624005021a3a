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

TEST_CASE("the span is the distance between the shim points, wherever the blade stands") {
    shop::Fence fence;
    fence.shim_left_x_mm = -123.0;
    fence.shim_right_x_mm = 345.5;
    CHECK(fence.span_mm() == 468.5);
}
