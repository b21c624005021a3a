// From the strip to the skew: the worked case of the trade, closed forms, two numerical roads to u, the mirror law.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>
#include <vector>

#include <eigen3/Eigen/Dense>

#include "base/random.h"
#include "cut/five_cut.h"
#include "diagnose/five_cut.h"
#include "shop/truth.h"

using namespace offsquare;
using base::Uncertain;
using diagnose::StripReadings;

namespace {

StripReadings strip(double fence_mm, double far_mm, double length_mm, shop::Side side = shop::Side::right) {
    return {{fence_mm, 0.02}, {far_mm, 0.03}, {length_mm, 0.4}, side};
}

double normal(std::uint64_t trial, std::uint32_t which) {
    return base::standard_normal({trial, base::Purpose::test_case, 40, which});
}

}  // namespace

TEST_CASE(
    "the worked case (common practice, no source): 0.617 and 0.587 in, 15.625 in long, 32.75 in between the shim "
    "points") {
    const double in = 25.4;
    const Uncertain skew = diagnose::skew_from_strip(strip(0.617 * in, 0.587 * in, 15.625 * in));
    // (0.617 - 0.587)/4/15.625*32.75 = 0.01572 in first order; printed as 0.0157 in.
    const double shim_in = 32.75 * std::tan(skew.value);
    CHECK(std::abs(shim_in - 0.0157) < 0.00005);
    CHECK(std::abs(shim_in - 0.01572) < 1e-6);
    CHECK(skew.value > 0.0);  // wider at the fence, strip on the right: the left end is too near
}

TEST_CASE("equal ends: no error (common practice)") {
    CHECK(diagnose::skew_from_strip(strip(12.34, 12.34, 320.0)).value == 0.0);
}

TEST_CASE("with a pencil: 12.40 and 12.16 mm, 300 mm apart, 500 mm between the shim points") {
    // By hand: 0.24, a quarter of it 0.06, over 300 mm 0.0002, over 500 mm 0.1. The widths carry rounding errors of
    // 2e-15 mm.
    const auto w = diagnose::pencil_working(strip(12.40, 12.16, 300.0), 500.0);
    CHECK(std::abs(w.difference_mm - 0.24) < 1e-14);
    CHECK(std::abs(w.share_mm - 0.06) < 1e-14);
    CHECK(std::abs(w.per_length - 0.0002) < 1e-16);
    CHECK(std::abs(w.over_span_mm - 0.1) < 1e-14);
    // The other way round, and the side does not count: it is about the strip as it lies there.
    const auto mirrored = diagnose::pencil_working(strip(12.16, 12.40, 300.0, shop::Side::left), 500.0);
    CHECK(mirrored.over_span_mm == -w.over_span_mm);
    // tan(4e)/4 against e: e (1 + 16/3 e^2 + ...), so that 6 e^2 of itself is not reached.
    for (const double e : {1e-4, 1e-3, 0.02}) {
        const auto steep = diagnose::pencil_working(strip(10.0 + 300.0 * std::tan(4.0 * e), 10.0, 300.0), 1.0);
        CHECK(steep.over_span_mm > e * (1.0 + 5.0 * e * e));
        CHECK(steep.over_span_mm < e * (1.0 + 6.0 * e * e));
    }
}

TEST_CASE("500 mm tan(4e) gives e back, values of check-values.md (Euclid I.32)") {
    for (const auto& [e, taper_mm] :
         {std::pair{1e-4, 0.2000000107}, {5e-4, 1.0000013333}, {1e-3, 2.0000106667}, {2e-3, 4.0000853355}}) {
        // The printed taper is good to 5e-11 mm: 2.5e-14 rad.
        CHECK(std::abs(diagnose::skew_from_strip(strip(10.0 + taper_mm, 10.0, 500.0)).value - e) < 3e-14 + 1e-15);
        CHECK(std::abs(diagnose::skew_from_strip(strip(10.0, 10.0 + taper_mm, 500.0)).value + e) < 3e-14 + 1e-15);
    }
}

TEST_CASE("the other side of the blade turns the sign and nothing else") {
    std::mt19937_64 engine(5);
    std::uniform_real_distribution<double> width(8.0, 16.0);
    for (int i = 0; i < 200; ++i) {
        const double a = width(engine);
        const double b = width(engine);
        const Uncertain right = diagnose::skew_from_strip(strip(a, b, 300.0, shop::Side::right));
        const Uncertain left = diagnose::skew_from_strip(strip(a, b, 300.0, shop::Side::left));
        REQUIRE(left.value == -right.value);
        REQUIRE(left.u == right.u);
    }
}

TEST_CASE("a real strip on either side gives the skew that the fence had") {
    for (const double e : {-0.005, -0.0007, 1e-6, 0.0003, 0.004}) {
        for (const shop::Side kept : {shop::Side::left, shop::Side::right}) {
            shop::Drawing drawing;
            drawing.board.kept = kept;
            drawing.board.strip_mm = 14.0;
            shop::Truth truth;
            truth.fence_skew_rad = e;
            const cut::FiveCut five = cut::five_cut(drawing, truth, {});
            REQUIRE(five.strip);
            const cut::Strip& s = *five.strip;
            const StripReadings exact{
                {s.width_at(0.0), 0.0}, {s.width_at(s.length_mm), 0.0}, {s.length_mm, 0.0}, s.side};
            const Uncertain skew = diagnose::skew_from_strip(exact);
            // Widths near 10 mm carry rounding errors near 1e-13 mm after five turns of the board: 1e-15 rad and a few.
            CHECK(std::abs(skew.value - e) < 1e-13);
            CHECK(skew.u == 0.0);
        }
    }
}

TEST_CASE("u by differences: each input moved by itself, the three taken at right angles") {
    std::mt19937_64 engine(6);
    std::uniform_real_distribution<double> width(5.0, 25.0);
    std::uniform_real_distribution<double> length(150.0, 600.0);
    std::uniform_real_distribution<double> u(0.005, 0.05);
    for (int i = 0; i < 300; ++i) {
        const std::array<double, 3> x{width(engine), width(engine), length(engine)};
        const std::array<double, 3> s{u(engine), u(engine), 10.0 * u(engine)};
        const shop::Side side = i % 2 == 0 ? shop::Side::left : shop::Side::right;
        double squares = 0.0;
        for (std::size_t k = 0; k < 3; ++k) {
            const double h = 1e-5 * x[k];
            const auto at = [&](double moved) {
                std::array<double, 3> y = x;
                y[k] += moved;
                return diagnose::skew_from_strip({{y[0], 0.0}, {y[1], 0.0}, {y[2], 0.0}, side}).value;
            };
            const double slope = (at(h) - at(-h)) / (2.0 * h);
            squares += slope * slope * s[k] * s[k];
        }
        // Central differences: error of second order in h/x (1e-10), rounding 1e-16/1e-5.
        REQUIRE(diagnose::skew_from_strip({{x[0], s[0]}, {x[1], s[1]}, {x[2], s[2]}, side}).u ==
                doctest::Approx(std::sqrt(squares)).epsilon(1e-8));
    }
}

TEST_CASE("u by Monte Carlo, in the way of JCGM 101:2008") {
    const StripReadings r{{13.2, 0.03},
                          {12.1, 0.02},
                          {310.0, 6.0},
                          shop::Side::left};  // a rough tape, so that the third input counts as well
    const Uncertain skew = diagnose::skew_from_strip(r);
    constexpr int trials = 100000;
    double sum = 0.0;
    double squares = 0.0;
    for (std::uint64_t i = 0; i < trials; ++i) {
        const StripReadings drawn{{13.2 + 0.03 * normal(i, 0), 0.0},
                                  {12.1 + 0.02 * normal(i, 1), 0.0},
                                  {310.0 + 6.0 * normal(i, 2), 0.0},
                                  shop::Side::left};
        const double d = diagnose::skew_from_strip(drawn).value - skew.value;
        sum += d;
        squares += d * d;
    }
    const double mean = sum / trials;
    // A sample's standard deviation has a relative one of 1/sqrt(2n) = 0.0022; second-order terms of the length add
    // 2*(6/310)^2 = 0.0007 at most.
    CHECK(std::sqrt(squares / trials - mean * mean) / skew.u == doctest::Approx(1.0).epsilon(4.5 * 0.0022 + 0.0007));
}

TEST_CASE("the law of design.md: a caliper of u at each end is span*sqrt(2)*u/(4L) at the shim") {
    const Uncertain skew = diagnose::skew_from_strip({{12.0, 0.02}, {12.0, 0.02}, {320.0, 0.5}, shop::Side::right});
    CHECK(500.0 * skew.u == doctest::Approx(500.0 * std::sqrt(2.0) * 0.02 / (4.0 * 320.0)).epsilon(1e-12));
}

TEST_CASE("degrees of freedom: two ends of few, Welch-Satterthwaite for equal parts") {
    // Two independent inputs of equal u with nu degrees of freedom each: u^4 doubles to four parts against two, so 2 nu
    // (GUM G.4.1).
    const Uncertain skew =
        diagnose::skew_from_strip({{12.0, 0.02, 4.0}, {12.0, 0.02, 4.0}, {320.0, 0.0}, shop::Side::right});
    CHECK(skew.dof == doctest::Approx(8.0).epsilon(1e-12));
    CHECK(std::isinf(diagnose::skew_from_strip(strip(12.0, 12.0, 320.0)).dof));
}

TEST_CASE("the mean of tests against linear algebra") {
    // Mean = J x with J = (1/n ... 1/n); variance J V J' with V the inputs' covariance (GUM 5.1.2 in matrix form).
    std::mt19937_64 engine(7);
    std::normal_distribution<double> value(0.0, 5e-4);
    std::uniform_real_distribution<double> spread(1e-5, 1e-4);
    for (Eigen::Index n = 1; n <= 12; ++n) {
        std::vector<Uncertain> tests;
        Eigen::VectorXd x(n);
        Eigen::MatrixXd v = Eigen::MatrixXd::Zero(n, n);
        for (Eigen::Index i = 0; i < n; ++i) {
            x(i) = value(engine);
            const double u = spread(engine);
            v(i, i) = u * u;
            tests.push_back({x(i), u});
        }
        const Eigen::RowVectorXd j = Eigen::RowVectorXd::Constant(n, 1.0 / static_cast<double>(n));
        const Uncertain mean = diagnose::average(tests);
        CHECK(mean.value == doctest::Approx(x.mean()).epsilon(1e-12));
        CHECK(mean.u == doctest::Approx(std::sqrt((j * v * j.transpose())(0, 0))).epsilon(1e-12));
    }
}

TEST_CASE("the mean of one test is that test") {
    const std::vector<Uncertain> one{{3e-4, 2e-5, 7.0}};
    const Uncertain mean = diagnose::average(one);
    CHECK(mean.value == 3e-4);
    CHECK(mean.u == doctest::Approx(2e-5).epsilon(1e-14));
    CHECK(mean.dof == doctest::Approx(7.0).epsilon(1e-12));
}
