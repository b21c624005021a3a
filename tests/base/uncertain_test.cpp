// Uncertain values against the worked examples of the GUM (JCGM 100:2008), the NIST/SEMATECH tables and Boost.Math's
// example. GUM results are printed to two or three digits: the tolerance is half of the last printed one unless a line
// says otherwise.
#include "base/uncertain.h"
#include "statistics.h"

#include <doctest/doctest.h>

#include <array>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <random>
#include <vector>

using namespace offsquare::base;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

bool prints_as(double value, double printed, double last_digit) {
    return std::fabs(value - printed) <= 0.5 * last_digit;
}

}  // namespace

TEST_CASE("end gauge budget, JCGM 100:2008, H.1") {
    // l = ls + d - ls (da theta + as dt), nanometres and degrees Celsius; da = 0 and dt = 0, theta = -0.1.
    const double ls = 50000623.0;
    const std::array<Contribution, 6> inputs = {{
        {1.0, 25.0, 18.0},                          // standard
        {1.0, 9.7, 25.6},                           // comparison
        {0.0, u_rectangular(2e-6), infinite},       // expansion: dl/das = -ls dt = 0
        {ls * 0.1, u_rectangular(1e-6), 50.0},      // difference of expansion: dl/dda = -ls theta
        {-ls * 11.5e-6, u_rectangular(0.05), 2.0},  // difference of temperature: dl/ddt = -ls as
        {0.0, 0.41, infinite},                      // temperature: dl/dtheta = -ls da = 0
    }};
    CHECK(prints_as(inputs[3].sensitivity * inputs[3].u, 2.9, 0.1));
    CHECK(prints_as(std::fabs(inputs[4].sensitivity * inputs[4].u), 16.6, 0.1));
    const Uncertain l = combine(ls + 215.0, inputs);
    CHECK(l.value == 50000838.0);
    CHECK(prints_as(l.u, 32.0, 1.0));
    CHECK(std::floor(l.dof) == 16.0);  // the GUM truncates
    CHECK(prints_as(student_quantile(0.995, 16.0), 2.92, 0.01));
    // The GUM multiplies the rounded figures, 2.92 * 32 = 93; with all digits the budget gives
    // 2.92078 * sqrt(625 + 94.09 + 8.334 + 275.528) = 92.50.
    const Interval printed = coverage({l.value, 32.0, 16.0}, 0.99);
    CHECK(prints_as(printed.hi - l.value, 93.0, 1.0));
    CHECK(prints_as(l.value - printed.lo, 93.0, 1.0));
    const Interval full = coverage({l.value, l.u, 16.0}, 0.99);
    CHECK(prints_as(full.hi - l.value, 92.50, 0.01));
}

TEST_CASE("Welch and Satterthwaite, JCGM 100:2008, G.4.1 (from memory)") {
    const std::array<Contribution, 3> inputs = {{{1.0, 0.25, 9.0}, {1.0, 0.57, 4.0}, {1.0, 0.82, 14.0}}};
    const Uncertain y = combine(0.0, inputs);
    CHECK(prints_as(y.u, 1.03, 0.01));
    CHECK(prints_as(y.dof, 19.0, 0.1));
    CHECK(prints_as(student_quantile(0.975, 19.0), 2.09, 0.01));
}

TEST_CASE("mean of twenty temperatures, JCGM 100:2008, 4.4.3 (from memory)") {
    const std::vector<double> t = {96.90,  98.18,  98.25,  98.61,  99.03,  99.49,  99.56,  99.74,  99.89,  100.07,
                                   100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72};
    const Uncertain m = mean_of(t);
    CHECK(prints_as(m.value, 100.14, 0.01));  // the mean is 100.145 to a rounding; the GUM prints it cut
    CHECK(prints_as(m.u * std::sqrt(20.0), 1.49, 0.01));
    CHECK(prints_as(m.u, 0.33, 0.01));
    CHECK(m.dof == 19.0);
}

TEST_CASE("shapes: JCGM 100:2008, 4.4.5 and F.2.2.1 (from memory), and the integrals behind them") {
    CHECK(prints_as(u_rectangular(4.0), 2.3, 0.1));
    CHECK(u_of_step(1.0) == doctest::Approx(0.5 / std::sqrt(3.0)).epsilon(1e-15));
    // Second road: variance as a midpoint sum of x^2 over the density on [-4, 4]; n slices leave a relative error of
    // 1/n^2.
    const int n = 2000;
    double flat = 0.0;
    for (int i = 0; i < n; ++i) {
        const double x = -4.0 + 8.0 * (i + 0.5) / n;
        flat += x * x / 8.0 * (8.0 / n);
    }
    CHECK(u_rectangular(4.0) == doctest::Approx(std::sqrt(flat)).epsilon(1e-6));
}

TEST_CASE("combine keeps its laws") {
    std::mt19937_64 engine(4);
    std::uniform_real_distribution<double> draw(0.1, 3.0);
    for (int round = 0; round < 200; ++round) {
        std::vector<Contribution> in;
        double smallest = infinite;
        double total = 0.0;
        for (int i = 0; i < 4; ++i) {
            in.push_back({draw(engine) - 1.5, draw(engine), std::floor(1.0 + 5.0 * draw(engine))});
            smallest = std::min(smallest, in.back().dof);
            total += in.back().dof;
        }
        const Uncertain y = combine(1.0, in);
        // G.4.1 note: the effective degrees of freedom lie between the smallest and the sum.
        CHECK(y.dof >= smallest * (1.0 - 1e-14));
        CHECK(y.dof <= total * (1.0 + 1e-14));
        // Units: a thousand times smaller, even 1e-90 times smaller, changes nothing but the scale.
        for (const double scale : {1e-3, 1e-90}) {
            std::vector<Contribution> small = in;
            for (Contribution& c : small) c.u *= scale;
            CHECK(combine(1.0, small).u == doctest::Approx(y.u * scale).epsilon(1e-13));
            CHECK(combine(1.0, small).dof == doctest::Approx(y.dof).epsilon(1e-13));
        }
    }
    CHECK(combine(5.0, {}).u == 0.0);
    CHECK(std::isinf(combine(5.0, {}).dof));
    const std::array<Contribution, 1> known = {{{2.0, 0.5, infinite}}};
    CHECK(combine(5.0, known).u == 1.0);
    CHECK(std::isinf(combine(5.0, known).dof));
}

TEST_CASE("Student quantiles, NIST/SEMATECH e-Handbook 1.3.6.7") {
    const std::array<std::array<double, 2>, 6> table = {
        {{1, 12.706}, {2, 4.303}, {3, 3.182}, {5, 2.571}, {10, 2.228}, {20, 2.086}}};
    for (const auto& row : table) {
        CAPTURE(row[0]);
        CHECK(prints_as(student_quantile(0.975, row[0]), row[1], 0.001));
        CHECK(student_quantile(0.025, row[0]) == -student_quantile(0.975, row[0]));
    }
    // Closed forms: one degree of freedom is Cauchy, tan(pi (p - 1/2)); two give (2p-1) sqrt(2/(4p(1-p))).
    const double pi = std::acos(-1.0);
    for (const double p : {0.6, 0.9, 0.975, 0.9995}) {
        CAPTURE(p);
        CHECK(student_quantile(p, 1.0) == doctest::Approx(std::tan(pi * (p - 0.5))).epsilon(1e-9));
        CHECK(student_quantile(p, 2.0) ==
              doctest::Approx((2.0 * p - 1.0) * std::sqrt(2.0 / (4.0 * p * (1.0 - p)))).epsilon(1e-9));
    }
    CHECK(student_quantile(0.5, 3.0) == 0.0);
    // Infinite degrees of freedom are the limit of many: the next term of the expansion is z(z^2+1)/(4 nu),
    // here 2.4e-8.
    CHECK(std::fabs(student_quantile(0.975, infinite) - student_quantile(0.975, 1e8)) < 3e-8);
    CHECK(prints_as(student_quantile(0.975, infinite), 1.96, 0.01));
}

TEST_CASE("a quantile has ten digits and no more") {
    for (const double dof : {1.0, 2.5, 7.0, 40.0, infinite}) {
        const double t = student_quantile(0.975, dof);
        const double scaled = t * (t >= 10.0 ? 1e8 : 1e9);  // ten significant digits as an integer
        CAPTURE(dof);
        CHECK(std::fabs(scaled - std::round(scaled)) < 1e-5);  // one bit of a number near 1e10 is 2e-6
    }
}

TEST_CASE("small sample of three, worked example of Boost.Math") {
    const Interval i = coverage({37.8, 0.964365 / std::sqrt(3.0), 2.0});
    CHECK(prints_as(i.lo, 35.40438, 0.00001));
    CHECK(prints_as(i.hi, 40.19562, 0.00001));
    const Interval known = coverage({5.0, 0.0, infinite});
    CHECK(known.lo == 5.0);
    CHECK(known.hi == 5.0);
}

TEST_CASE("spread of numbers far from zero, NIST StRD NumAcc3 and NumAcc4") {
    const auto series = [](double base) {
        std::vector<double> v = {base + 0.2};
        for (int i = 0; i < 500; ++i) {
            v.push_back(base + 0.1);
            v.push_back(base + 0.3);
        }
        return v;
    };
    const Uncertain three = mean_of(series(1e6));
    CHECK(three.value == doctest::Approx(1000000.2).epsilon(1e-15));
    CHECK(std::fabs(three.u * std::sqrt(1001.0) - 0.1) <= 0.1 * 1e-9);
    const Uncertain four = mean_of(series(1e7));
    CHECK(four.value == doctest::Approx(10000000.2).epsilon(1e-15));
    CHECK(std::fabs(four.u * std::sqrt(1001.0) - 0.1) <= 0.1 * 1e-7);
}

TEST_CASE("the mean of repeats: order and origin do not matter; too few say so") {
    const std::vector<double> a = {12.01, 12.03, 11.98, 12.02};
    const std::vector<double> b = {11.98, 12.02, 12.03, 12.01};
    CHECK(mean_of(a).value == doctest::Approx(mean_of(b).value).epsilon(1e-15));
    CHECK(mean_of(a).u == doctest::Approx(mean_of(b).u).epsilon(1e-12));
    const std::vector<double> two = {1.0, 3.0};  // s = sqrt 2, u = 1
    CHECK(mean_of(two).value == 2.0);
    CHECK(mean_of(two).u == doctest::Approx(1.0));
    CHECK(mean_of(two).dof == 1.0);
    const std::vector<double> one = {7.0};
    CHECK(mean_of(one).value == 7.0);
    CHECK(std::isinf(mean_of(one).u));  // one reading says nothing about its spread
    CHECK(std::isinf(mean_of({}).u));
}

TEST_CASE("95 % intervals of small samples hold the truth 95 times in 100") {
    // Second road to the whole chain of mean, Student and coverage. 20000 trials: sd of the share is 0.0015; four sd is
    // a false alarm of 6e-5.
    std::mt19937_64 engine(12);
    std::normal_distribution<double> draw(3.0, 0.2);
    int held = 0;
    const int trials = 20000;
    for (int i = 0; i < trials; ++i) {
        const std::array<double, 4> v = {draw(engine), draw(engine), draw(engine), draw(engine)};
        const Interval c = coverage(mean_of(v));
        held += c.lo <= 3.0 && 3.0 <= c.hi ? 1 : 0;
    }
    CHECK(std::fabs(held / static_cast<double>(trials) - 0.95) < 4 * 0.00155);
}
