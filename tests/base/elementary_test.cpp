// Our elementary functions against 50-digit arithmetic (Boost.Multiprecision cpp_bin_float), and against laws that they
// must keep.
#include "base/elementary.h"
#include "repeats.h"

#include <doctest/doctest.h>

#include <boost/multiprecision/cpp_bin_float.hpp>
#include <cmath>
#include <functional>
#include <limits>
#include <random>

namespace {

using offsquare::base::atan_of;
using offsquare::base::cos_of;
using offsquare::base::exp_of;
using offsquare::base::log_of;
using offsquare::base::sin_of;
using offsquare::base::tan_of;
using Wide = boost::multiprecision::cpp_bin_float_50;

constexpr double promised_ulp = 4.0;  // elementary.h
constexpr double reached_ulp =
    2.0;  // of single calls; the worst that was seen is 1.85 (tangent), so a lost bit of a constant shows

/// How far `got` is from `exact`, in units in the last place of the double nearest to `exact`.
double ulps(double got, const Wide& exact) {
    const double nearest = std::fabs(static_cast<double>(exact));
    const double unit = std::nextafter(nearest, std::numeric_limits<double>::infinity()) - nearest;
    return static_cast<double>(abs(Wide(got) - exact) / Wide(unit));
}

struct Worst {
    double ulp = 0.0;
    double where = 0.0;
    void see(double u, double x) {
        if (!(u <= ulp)) *this = {u, x};
    }
};

using Ours = std::function<double(double)>;
using Exact = std::function<Wide(const Wide&)>;

/// The worst case over n points drawn evenly from [lo, hi], ends included.
Worst worst_over(const Ours& ours, const Exact& exact, double lo, double hi, int n = repeats::of(4000, 600)) {
    std::mt19937_64 engine(20240611);
    std::uniform_real_distribution<double> draw(lo, hi);
    Worst worst;
    for (int i = 0; i < n; ++i) {
        const double x = i == 0 ? lo : i == 1 ? hi : draw(engine);
        worst.see(ulps(ours(x), exact(Wide(x))), x);
    }
    return worst;
}

/// The same over magnitudes spread evenly in powers of ten, both signs.
Worst worst_over_decades(const Ours& ours, const Exact& exact, double low_power, double high_power,
                         bool both_signs = true) {
    std::mt19937_64 engine(977);
    std::uniform_real_distribution<double> draw(low_power, high_power);
    Worst worst;
    for (int i = 0; i < repeats::of(4000, 600); ++i) {
        const double x = (both_signs && i % 2 == 1 ? -1.0 : 1.0) * std::pow(10.0, draw(engine));
        worst.see(ulps(ours(x), exact(Wide(x))), x);
    }
    return worst;
}

Wide wide_sin(const Wide& x) { return sin(x); }
Wide wide_cos(const Wide& x) { return cos(x); }
Wide wide_tan(const Wide& x) { return tan(x); }
Wide wide_atan(const Wide& x) { return atan(x); }
Wide wide_exp(const Wide& x) { return exp(x); }
Wide wide_log(const Wide& x) { return log(x); }

void check(const char* what, const Worst& worst) {
    INFO(what, ": worst ", worst.ulp, " ulp at ", worst.where);
    CHECK(worst.ulp <= reached_ulp);
}

}  // namespace

TEST_CASE("sine, cosine and tangent hold their promise over small angles, one turn and the whole stated range") {
    for (const double half_range : {1e-3, 0.8, 7.0, 1e5}) {
        CAPTURE(half_range);
        check("sin", worst_over(sin_of, wide_sin, -half_range, half_range));
        check("cos", worst_over(cos_of, wide_cos, -half_range, half_range));
        check("tan", worst_over(tan_of, wide_tan, -half_range, half_range));
    }
    check("sin", worst_over_decades(sin_of, wide_sin, -300.0, 5.0));
    check("cos", worst_over_decades(cos_of, wide_cos, -300.0, 5.0));
    check("tan", worst_over_decades(tan_of, wide_tan, -300.0, 5.0));
}

TEST_CASE("beside every kind of multiple of a quarter turn the reduction keeps its digits") {
    // The doubles nearest to n*pi/2 leave a rest of 1e-17 to 1e-11; a reduction with a short pi would return noise.
    const Wide quarter = boost::multiprecision::atan(Wide(1)) * 2;
    Worst s;
    Worst c;
    Worst t;
    for (int n = 1; n < 63661; n += n < 200 ? 1 : 37) {
        const double x = static_cast<double>(quarter * n);
        for (const double at : {x, std::nextafter(x, 0.0), -x}) {
            s.see(ulps(sin_of(at), sin(Wide(at))), at);
            c.see(ulps(cos_of(at), cos(Wide(at))), at);
            t.see(ulps(tan_of(at), tan(Wide(at))), at);
        }
    }
    check("sin", s);
    check("cos", c);
    check("tan", t);
}

TEST_CASE("the tangent of a set-up error is right to a few ulp") {
    // tan x = x + x^3/3 + 2x^5/15 + ...: at 4e-6 the last bit is worth 8.5e-22; the second term, 2.1e-17, is 25 000 of
    // it, and the third, 1.4e-28, does not show.
    CHECK(ulps(tan_of(4e-6), Wide(4e-6) + Wide(4e-6) * Wide(4e-6) * Wide(4e-6) / 3) <= promised_ulp);
    CHECK(tan_of(4e-6) > 4e-6);
    // Four corners of a quadrilateral: 500 mm * tan(4 e), Euclid I.32 (check-values "four corners"), printed to ten
    // decimals.
    CHECK(500.0 * tan_of(4e-4) == doctest::Approx(0.2000000107).epsilon(3e-10));
    CHECK(500.0 * tan_of(2e-3) == doctest::Approx(1.0000013333).epsilon(1e-10));
    CHECK(500.0 * tan_of(4e-3) == doctest::Approx(2.0000106667).epsilon(5e-11));
    CHECK(500.0 * tan_of(8e-3) == doctest::Approx(4.0000853355).epsilon(3e-11));
}

TEST_CASE("arc tangent holds its promise for every size of slope") {
    check("atan", worst_over(atan_of, wide_atan, -1.0, 1.0));
    check("atan", worst_over(atan_of, wide_atan, -40.0, 40.0));
    check("atan", worst_over_decades(atan_of, wide_atan, -300.0, 300.0));
    Worst seams;  // where the table switches, and every table point
    for (int k = 0; k <= 64; ++k) {
        for (const double x : {k / 32.0, std::nextafter(k / 32.0, 9.0), std::nextafter(k / 32.0, -9.0)}) {
            seams.see(ulps(atan_of(x), atan(Wide(x))), x);
            if (k > 0) seams.see(ulps(atan_of(1.0 / x), atan(Wide(1.0 / x))), 1.0 / x);
        }
    }
    check("atan at the seams", seams);
    const double largest = std::numeric_limits<double>::max();
    CHECK(ulps(atan_of(largest), atan(Wide(largest))) <= promised_ulp);
}

TEST_CASE("exponential and logarithm hold their promise, also beside 0 and beside 1") {
    check("exp", worst_over(exp_of, wide_exp, -1.0, 1.0));
    check("exp", worst_over(exp_of, wide_exp, -700.0, 700.0));
    check("exp", worst_over_decades(exp_of, wide_exp, -20.0, 2.8));
    check("log", worst_over(log_of, wide_log, 0.5, 2.0));
    check("log", worst_over(log_of, wide_log, 1.0 - 1e-6, 1.0 + 1e-6));
    check("log", worst_over_decades(log_of, wide_log, -307.0, 308.0, false));
    for (const double x :
         {std::nextafter(1.0, 0.0), std::nextafter(1.0, 2.0), std::sqrt(0.5), std::nextafter(std::sqrt(0.5), 0.0)}) {
        CAPTURE(x);
        CHECK(ulps(log_of(x), log(Wide(x))) <= promised_ulp);
    }
}

TEST_CASE("far below, the exponential is nothing, and never anything else") {
    // Densities of what is dozens of deviations off are asked for without a guard. e^-700 is 1e-304.
    CHECK(exp_of(-700.0) > 0.0);
    for (const double x : {-700.1, -745.2, -800.0, -1500.0, -1e6, -1e300, -std::numeric_limits<double>::infinity()}) {
        CAPTURE(x);
        CHECK(exp_of(x) == 0.0);
    }
}

TEST_CASE("exact points and mirror laws") {
    CHECK(sin_of(0.0) == 0.0);
    CHECK(cos_of(0.0) == 1.0);
    CHECK(tan_of(0.0) == 0.0);
    CHECK(atan_of(0.0) == 0.0);
    CHECK(exp_of(0.0) == 1.0);
    CHECK(log_of(1.0) == 0.0);
    std::mt19937_64 engine(5);
    std::uniform_real_distribution<double> draw(-1e5, 1e5);
    for (int i = 0; i < 2000; ++i) {
        const double x = draw(engine);
        CAPTURE(x);
        CHECK(sin_of(-x) == -sin_of(x));
        CHECK(cos_of(-x) == cos_of(x));
        CHECK(tan_of(-x) == -tan_of(x));
        CHECK(atan_of(-x) == -atan_of(x));
        // Pythagoras: each square carries at most 2 * 4 ulp of at most 1, so the sum at most 16 * 1.1e-16.
        CHECK(std::fabs(sin_of(x) * sin_of(x) + cos_of(x) * cos_of(x) - 1.0) <= 16 * 1.2e-16);
    }
}

TEST_CASE("known triangles") {
    // Angle of repose, statics (check-values): atan 0.25 = 14.036 deg, atan 0.40 = 21.801 deg, printed to three
    // decimals.
    const double deg = 45.0 / atan_of(1.0);
    CHECK(std::fabs(atan_of(0.25) * deg - 14.036) <= 0.0005);
    CHECK(std::fabs(atan_of(0.40) * deg - 21.801) <= 0.0005);
    // 3-4-5: the two acute angles make a right angle; Machin 1706: pi/4 = 4 atan(1/5) - atan(1/239).
    CHECK(ulps(atan_of(3.0 / 4.0) + atan_of(4.0 / 3.0), atan(Wide(1)) * 2) <= promised_ulp);
    CHECK(ulps(4.0 * atan_of(0.2) - atan_of(1.0 / 239.0), atan(Wide(1))) <= 2 * promised_ulp);
}
