// Poses against complex numbers: turning by an angle is multiplication by a unit complex number.
#include "base/frame.h"

#include <doctest/doctest.h>

#include <complex>
#include <random>

using namespace offsquare::base;

namespace {

using Complex = std::complex<double>;

Complex as_complex(Vec2 v) { return {v.x, v.y}; }
bool near(Vec2 a, Complex b, double tolerance) { return std::abs(as_complex(a) - b) <= tolerance; }

}  // namespace

TEST_CASE("a quarter turn counter-clockwise takes right to forward") {
    const Turn quarter = turn_to({0.0, 5.0});
    CHECK(quarter * Vec2{1.0, 0.0} == Vec2{0.0, 1.0});
    CHECK(left_of({1.0, 0.0}) == Vec2{0.0, 1.0});
    CHECK(cross({1.0, 0.0}, {0.0, 1.0}) > 0.0);
    CHECK(dot({3.0, 4.0}, {3.0, 4.0}) == 25.0);
    CHECK(norm({3.0, 4.0}) == 5.0);
    CHECK(unit({0.0, -2.0}) == Vec2{0.0, -1.0});
}

TEST_CASE("poses compose like dominoes and undo themselves") {
    std::mt19937_64 engine(31);
    std::uniform_real_distribution<double> draw(-1000.0, 1000.0);
    for (int i = 0; i < 500; ++i) {
        const Complex turn_ab = std::polar(1.0, draw(engine));
        const Complex turn_bc = std::polar(1.0, draw(engine));
        const Pose X_AB{{turn_ab.real(), turn_ab.imag()}, {draw(engine), draw(engine)}};
        const Pose X_BC{{turn_bc.real(), turn_bc.imag()}, {draw(engine), draw(engine)}};
        const Vec2 p_CQ{draw(engine), draw(engine)};
        const Complex expected = as_complex(X_AB.p) + turn_ab * (as_complex(X_BC.p) + turn_bc * as_complex(p_CQ));
        // A dozen roundings of numbers up to 4000: 12 * 4000 * 1.1e-16 is 5e-12 mm.
        CHECK(near((X_AB * X_BC) * p_CQ, expected, 1e-11));
        CHECK(near(X_AB * (X_BC * p_CQ), expected, 1e-11));
        CHECK(near(X_AB.back() * (X_AB * p_CQ), as_complex(p_CQ), 1e-11));
    }
}
