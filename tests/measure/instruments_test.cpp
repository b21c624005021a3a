// Instruments against the GUM's shapes, EA-4/02 S10, DIN 862, and against the spread of many readings.
//
// Statistics: all seeds are fixed, so a test either always passes or always fails. Bounds are 4.5 standard deviations
// of the statistic: for a correct program, one choice of seeds in 150,000 would be a false alarm.
#include "measure/instruments.h"
#include "statistics.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <charconv>
#include <cmath>
#include <random>
#include <string>
#include <vector>

using namespace offsquare;
using measure::Place;
using measure::Precision;

namespace {

constexpr double far_out = 4.5;  // standard deviations
constexpr int many = 20000;

double read_one(const shop::Caliper& c, double true_mm, const Place& place, double zero_mm = 0.0) {
    return measure::read_caliper(c, zero_mm, true_mm, 0.0, place, Precision::real).value_mm;
}

Place place_of(int seed, std::uint32_t test = 1, std::uint32_t end = 0, std::uint32_t repeat = 0) {
    return {static_cast<std::uint64_t>(seed), test, end, repeat};
}

/// The same caliper without an error that all its places share: what is tested is that of a place.
shop::Caliper each_place_alone(shop::Caliper c) {
    c.cancels = 0.0;
    return c;
}

/// Widths that lie anywhere between two steps.
std::vector<double> widths(int n) {
    std::mt19937_64 engine(99);
    std::vector<double> all;
    for (int i = 0; i < n; ++i) all.push_back(12.0 + 0.5 * static_cast<double>(engine() >> 11U) * 0x1p-53);
    return all;
}

double mean_of(const std::vector<double>& x) {
    double sum = 0.0;
    for (const double v : x) sum += v;
    return sum / static_cast<double>(x.size());
}

double rms(const std::vector<double>& x) {
    double sum = 0.0;
    for (const double v : x) sum += v * v;
    return std::sqrt(sum / static_cast<double>(x.size()));
}

/// Errors of one reading at each of many seeds.
std::vector<double> errors(const shop::Caliper& c, std::uint32_t test, std::uint32_t end, std::uint32_t repeat,
                           int first_seed = 0) {
    const auto w = widths(many);
    std::vector<double> e;
    for (int i = 0; i < many; ++i)
        e.push_back(read_one(c, w[static_cast<std::size_t>(i)], place_of(first_seed + i, test, end, repeat)) -
                    w[static_cast<std::size_t>(i)]);
    return e;
}

/// The decimal number `steps * step` as the nearest double, by the text of its digits alone.
double decimal(long steps, long step_in_1e6) {
    const std::string text = std::to_string(steps * step_in_1e6) + "e-6";
    double v = 0.0;
    std::from_chars(text.data(), text.data() + text.size(), v);
    return v;
}

}  // namespace

TEST_CASE("a display shows whole steps, each the double nearest to its decimal") {
    for (const auto& [whole, millionths] : {std::pair{0.01, 10000L},
                                            {0.02, 20000L},
                                            {0.05, 50000L},
                                            {0.1, 100000L},
                                            {0.001, 1000L},
                                            {0.0127, 12700L},
                                            {0.0254, 25400L},
                                            {0.396875, 396875L}}) {
        const double step = whole;  // clang 14 captures no structured binding
        const shop::Caliper c{"c", step, 0.0, 0.0, 0};
        for (long k = 1; k <= 5000; ++k) {
            // A third of a step off, either way, must be rounded away.
            const double near_mm = (static_cast<double>(k) + (k % 2 == 0 ? 0.33 : -0.33)) * step;
            CAPTURE(step);
            CAPTURE(k);
            REQUIRE(read_one(c, near_mm, place_of(1)) == decimal(k, millionths));
        }
    }
}

TEST_CASE("exact readings are the truth: no step, no noise, no zero error, no uncertainty") {
    const shop::Caliper c{"c", 0.05, 0.05, 0.03, 5};
    const measure::Reading r = measure::read_caliper(c, 0.7, 12.34567890123, 41.0, place_of(3), Precision::exact);
    CHECK(r.value_mm == 12.34567890123);
    CHECK(r.u_mm == 0.0);
    CHECK(r.station_mm == 41.0);
    const measure::Reading t = measure::read_tape({0.5, 0.5}, 320.123456, place_of(3), Precision::exact);
    CHECK(t.value_mm == 320.123456);
    CHECK(measure::tape_value({0.5, 0.5}, t, Precision::exact).u == 0.0);
    const std::vector<measure::Reading> both{r, r};
    const base::Uncertain mean = measure::mean_of_repeats(c, both, Precision::exact);
    CHECK(mean.value == 12.34567890123);
    CHECK(mean.u == 0.0);
}

TEST_CASE("a reading carries its station and depends on its place alone") {
    const shop::Caliper c;
    const measure::Reading a = measure::read_caliper(c, 0.0, 12.0, 7.5, place_of(5, 2, 1, 3), Precision::real);
    read_one(c, 13.0, place_of(6));
    const measure::Reading b = measure::read_caliper(c, 0.0, 12.0, 7.5, place_of(5, 2, 1, 3), Precision::real);
    CHECK(a.station_mm == 7.5);
    CHECK(a.value_mm == b.value_mm);
    CHECK(a.u_mm == b.u_mm);
}

TEST_CASE("vernier caliper budget, EA-4/02 S10 (from memory)") {
    // Half widths: 25 um for reading to a step of 0.05 mm, 50 um mechanical; thermal 2.0 um and block 0.46 um standard.
    // Published: u 33 um with the parts rounded to 15 and 29; unrounded 32.3. Trapezoid with edge 0.33: k = 1.83, U =
    // 0.06 mm.
    // The scale is calibrated there: what is mechanical changes from place to place.
    const shop::Caliper c = each_place_alone({"vernier", 0.05, 0.05, 0.0, 0});
    const double u = measure::read_caliper(c, 0.0, 150.1, 0.0, place_of(1), Precision::real).u_mm;
    const double whole = std::sqrt(u * u + 0.002 * 0.002 + 0.00046 * 0.00046);
    CHECK(whole > 0.0320);
    CHECK(whole < 0.0335);
    // 95 of 100 errors stay within the published U = 1.83 * u: the errors really have the trapezoid's shape. Closed
    // form for edges at 25 and 75 um: the density is 1/100 per um up to 25 and falls to 0 at 75, so (75
    // - 1.83*32.275)^2/5000 = 0.0507 lies outside. Standard deviation over 20,000: 0.0016.
    const auto e = errors(c, 1, 0, 0);
    const auto within = std::count_if(e.begin(), e.end(), [&](double x) { return std::abs(x) <= 1.83 * u; });
    CHECK(std::abs(static_cast<double>(within) / many - 0.9493) < far_out * 0.00156);
    // No error beyond both half widths together.
    CHECK(std::all_of(e.begin(), e.end(), [](double x) { return std::abs(x) <= 0.075 + 1e-12; }));
}

TEST_CASE("limits of DIN 862 as half widths of a rectangle (numbers as quoted in check-values.md)") {
    // GUM 4.4.5: half width over sqrt(3). 50 um up to 300 mm for a step of 0.05; 20 um at 50 to 100 mm for a step of
    // 0.01 (step 2.9 um besides).
    const shop::Caliper coarse = each_place_alone({"c", 0.05, 0.05, 0.0, 0});
    const shop::Caliper fine = each_place_alone({"c", 0.01, 0.02, 0.0, 0});
    CHECK(measure::read_caliper(coarse, 0, 12, 0, place_of(1), Precision::real).u_mm ==
          doctest::Approx(std::hypot(0.0288675, 0.0144338)).epsilon(1e-5));
    CHECK(measure::read_caliper(fine, 0, 12, 0, place_of(1), Precision::real).u_mm ==
          doctest::Approx(std::hypot(0.0115470, 0.00288675)).epsilon(1e-5));
}

TEST_CASE("limits of error grow with the length as the rows of DIN 862 do (numbers as quoted in check-values.md)") {
    // Steps of 0.01 and 0.02 mm: 20 um at 50 and 100 mm, 30 um from 200 to 600. Of 0.05 and 0.1: 50 um to 300 mm, then
    // 60, 70, 80 um at 400, 500, 600.
    for (const double step : {0.01, 0.02}) {
        const shop::Caliper fine{"c", step, 0.02, 0.01, 0};
        for (const auto& [length, um] :
             {std::pair{0.0, 20.0}, {50.0, 20.0}, {100.0, 20.0}, {200.0, 30.0}, {600.0, 30.0}})
            CHECK(shop::caliper_limit_mm(fine, length) == doctest::Approx(um * 1e-3).epsilon(1e-12));
    }
    for (const double step : {0.05, 0.1}) {
        const shop::Caliper coarse{"c", step, 0.05, 0.01, 0};
        for (const auto& [length, um] :
             {std::pair{0.0, 50.0}, {300.0, 50.0}, {400.0, 60.0}, {500.0, 70.0}, {600.0, 80.0}})
            CHECK(shop::caliper_limit_mm(coarse, length) == doctest::Approx(um * 1e-3).epsilon(1e-12));
    }
    // A reading over a longer piece errs by as much more: ratio of two spreads of a caliper without noise, of which
    // each has a relative standard deviation of 0.0055 at most.
    const shop::Caliper fine{"c", 0.0, 0.02, 0.0, 0};
    std::vector<double> of_long;
    for (int i = 0; i < many; ++i) of_long.push_back(read_one(fine, 250.0, place_of(i)) - 250.0);
    CHECK(std::abs(rms(of_long) / rms(errors(fine, 1, 0, 0)) - 1.5) < far_out * 1.5 * 0.0055 * std::sqrt(2.0));
    CHECK(std::all_of(of_long.begin(), of_long.end(), [](double x) { return std::abs(x) <= 0.030 + 1e-12; }));
}

TEST_CASE("one caliper in one session: most of its error is the same at both ends of a strip") {
    // Without noise and steps: e = a + b, a uniform within 3/4 of the limits and one for the session, b uniform within
    // 1/4 and one for the place. Closed forms: of one reading limit*sqrt((9/16 + 1/16)/3), of a difference
    // limit*sqrt(2/3)/4, triangular and so within half of the limits; correlation of two places 9/10.
    const double limit = 0.04;
    const shop::Caliper c{"c", 0.0, limit, 0.0, 0};
    const auto here = errors(c, 1, 0, 0), there = errors(c, 1, 1, 0), later = errors(c, 5, 7, 0);
    std::vector<double> apart;
    for (std::size_t i = 0; i < here.size(); ++i) apart.push_back(here[i] - there[i]);
    CHECK(rms(here) == doctest::Approx(limit * std::sqrt(10.0 / 48.0)).epsilon(far_out * 0.005).scale(0));
    CHECK(rms(apart) == doctest::Approx(limit * std::sqrt(2.0 / 3.0) / 4.0).epsilon(far_out * 0.006).scale(0));
    const auto most = [](const std::vector<double>& x) {
        double m = 0.0;
        for (const double v : x) m = std::max(m, std::abs(v));
        return m;
    };
    CHECK(most(here) <= limit + 1e-12);
    CHECK(most(here) > 0.95 * limit);
    CHECK(most(apart) <= 0.5 * limit + 1e-12);
    for (const auto& other : {there, later}) {
        // (1 - r^2)/sqrt(n) is one standard deviation of a correlation.
        CHECK(std::abs(statistics::correlation(here, other) - 0.9) < far_out * 0.19 / std::sqrt(double(many)));
    }
    // Two sessions have two calipers.
    CHECK(std::abs(statistics::correlation(here, errors(c, 1, 0, 0, 1000000))) < far_out / std::sqrt(double(many)));
    // And u says both: of one reading, and of an end of a strip, of which two make the difference.
    const measure::Reading one = measure::read_caliper(c, 0.0, 12.0, 0.0, place_of(1), Precision::real);
    CHECK(one.u_mm == doctest::Approx(limit * std::sqrt(10.0 / 48.0)).epsilon(1e-12).scale(0));
    CHECK(measure::mean_of_repeats(c, std::span(&one, 1), Precision::real).u ==
          doctest::Approx(limit / 4.0 / std::sqrt(3.0)).epsilon(1e-12).scale(0));
}

TEST_CASE("u of one reading is the spread of readings over 20,000 seeds") {
    // The root mean square of n errors of kurtosis k has a relative standard deviation of sqrt((k-1)/(4n)); k <= 3
    // here, for t with 19 degrees of freedom 3 + 6/15: sqrt(2.4/80000) = 0.0055.
    for (const shop::Caliper& c : {shop::Caliper{"digital", 0.01, 0.03, 0.01, 0},
                                   {"vernier", 0.05, 0.05, 0.02, 0},
                                   {"noisy", 0.01, 0.005, 0.04, 0},
                                   {"coarse step", 0.5, 0.01, 0.01, 0},
                                   {"twenty readings", 0.01, 0.005, 0.04, 20}}) {
        const double u = measure::read_caliper(c, 0.0, 12.0, 0.0, place_of(1), Precision::real).u_mm;
        CAPTURE(c.name);
        CHECK(rms(errors(c, 1, 0, 0)) / u == doctest::Approx(1.0).epsilon(far_out * 0.0055));
    }
}

TEST_CASE("the tape: spread, limits and steps") {
    const shop::Tape tape{0.5, 0.5};
    std::vector<double> e;
    double u = 0.0;
    for (int i = 0; i < many; ++i) {
        const double true_mm = 300.0 + 0.731 * (i % 977);
        const measure::Reading r = measure::read_tape(tape, true_mm, place_of(i), Precision::real);
        REQUIRE(r.value_mm * 2.0 == std::round(r.value_mm * 2.0));
        e.push_back(r.value_mm - true_mm);
        u = measure::tape_value(tape, r, Precision::real).u;
    }
    CHECK(u == doctest::Approx(std::sqrt(0.25 / 3.0 + 0.25 / 12.0)));  // rectangle and step, GUM F.2.2.1
    CHECK(rms(e) / u == doctest::Approx(1.0).epsilon(far_out * 0.005));
    CHECK(std::all_of(e.begin(), e.end(), [](double x) { return std::abs(x) <= 0.75 + 1e-9; }));
}

TEST_CASE("the zero error shifts every reading and leaves the difference alone") {
    const shop::Caliper c{"c", 0.01, 0.03, 0.01, 10};
    std::vector<double> shift;
    std::vector<double> change_of_difference;
    for (int i = 0; i < many; ++i) {
        const double a = read_one(c, 12.3, place_of(i, 1, 0), 0.137) - read_one(c, 12.3, place_of(i, 1, 0));
        const double b = read_one(c, 11.9, place_of(i, 1, 1), 0.137) - read_one(c, 11.9, place_of(i, 1, 1));
        REQUIRE(std::abs(a - 0.137) < 0.01);  // by a step at most, since only rounding comes between
        shift.push_back(a);
        change_of_difference.push_back(a - b);
    }
    // What rounding adds is less than a step, so its mean over 20,000 has a standard deviation below 0.01/sqrt(20000) =
    // 7e-5.
    CHECK(std::abs(mean_of(shift) - 0.137) < far_out * 7.1e-5);
    CHECK(std::abs(mean_of(change_of_difference)) < far_out * 1e-4);
    // A zero error of whole steps moves each reading by exactly that.
    CHECK(read_one(c, 12.3, place_of(8), 0.04) - read_one(c, 12.3, place_of(8)) ==
          doctest::Approx(0.04).epsilon(1e-12));
}

TEST_CASE("repeats at one place share the error within the limits but not the noise") {
    const shop::Caliper limit_only{"c", 0.0, 0.05, 0.0, 0};
    for (int i = 0; i < 200; ++i) {
        const double first = read_one(limit_only, 12.0, place_of(i, 1, 3, 0));
        REQUIRE(read_one(limit_only, 12.0, place_of(i, 1, 3, 1)) == first);
        REQUIRE(read_one(limit_only, 12.0, place_of(i, 1, 4, 0)) != first);
        REQUIRE(read_one(limit_only, 12.0, place_of(i, 2, 3, 0)) != first);
    }
    // With noise of the same variance, two repeats share half of it: correlation 1/2. Its standard deviation is below
    // (1 - 1/4)/sqrt(n).
    const shop::Caliper both = each_place_alone({"c", 1e-6, 0.03 * std::sqrt(3.0), 0.03, 0});
    CHECK(std::abs(statistics::correlation(errors(both, 1, 3, 0), errors(both, 1, 3, 1)) - 0.5) <
          far_out * 0.75 / std::sqrt(static_cast<double>(many)));
}

TEST_CASE("tests, places, repeats and seeds draw from streams of their own") {
    // Uncorrelated samples: r has a standard deviation of 1/sqrt(n). Squares too, so that a shared spread would show.
    const shop::Caliper noise{"c", 1e-6, 0.0, 0.03, 0};
    const shop::Caliper limit = each_place_alone({"c", 1e-6, 0.03, 0.0, 0});
    const double bound = far_out / std::sqrt(static_cast<double>(many));
    for (const shop::Caliper& c : {noise, limit}) {
        const auto here = errors(c, 1, 0, 0);
        for (const auto& there : {errors(c, 2, 0, 0), errors(c, 1, 1, 0), errors(c, 2, 1, 0), errors(c, 1, 0, 0, 1),
                                  errors(c, 1, 0, 0, 1000000)}) {
            CHECK(std::abs(statistics::correlation(here, there)) < bound);
            std::vector<double> a;
            std::vector<double> b;
            for (std::size_t i = 0; i < here.size(); ++i) {
                a.push_back(here[i] * here[i]);
                b.push_back(there[i] * there[i]);
            }
            CHECK(std::abs(statistics::correlation(a, b)) < bound);
        }
    }
    CHECK(std::abs(statistics::correlation(errors(noise, 1, 0, 0), errors(noise, 1, 0, 1))) < bound);
    CHECK(std::abs(statistics::correlation(errors(noise, 1, 0, 0), errors(limit, 1, 0, 0))) <
          bound);  // noise and limit at the same place
}

TEST_CASE("repeatability known from few readings: over seeds the noise is Student's t, within one seed it is normal") {
    const int n = 5;
    const shop::Caliper c{"c", 1e-7, 0.0, 0.02, n};
    // Kolmogorov: sqrt(N)*D beyond 2.7 has a probability of 2*exp(-2*2.7^2) = 1e-6.
    std::vector<double> t;
    for (const double e : errors(c, 1, 0, 0)) t.push_back(e / 0.02);
    std::sort(t.begin(), t.end());
    const boost::math::students_t student(n - 1);
    double worst = 0.0;
    for (int i = 0; i < many; ++i) {
        const double p = boost::math::cdf(student, t[static_cast<std::size_t>(i)]);
        worst = std::max({worst, p - static_cast<double>(i) / many, (i + 1.0) / many - p});
    }
    CHECK(std::sqrt(static_cast<double>(many)) * worst < 2.7);
    // The same statistic must see that it is not normal: t of 4 degrees of freedom lies 0.05 away from a normal of sd 1
    // in the flanks.
    double against_normal = 0.0;
    for (int i = 0; i < many; ++i)
        against_normal =
            std::max(against_normal,
                     std::abs(0.5 * std::erfc(-t[static_cast<std::size_t>(i)] / std::sqrt(2.0)) - (i + 0.5) / many));
    CHECK(std::sqrt(static_cast<double>(many)) * against_normal > 2.7);
    // One seed, one caliper: its noise has one spread of its own, kurtosis 3 (standard deviation sqrt(24/n)), and two
    // seeds have two spreads.
    std::vector<double> of_one;
    std::vector<double> of_other;
    for (std::uint32_t k = 0; k < 4000; ++k) {
        of_one.push_back(read_one(c, 12.0, place_of(17, 1, 0, k)) - 12.0);
        of_other.push_back(read_one(c, 12.0, place_of(18, 1, 0, k)) - 12.0);
    }
    double fourth = 0.0;
    for (const double e : of_one) fourth += std::pow(e / rms(of_one), 4) / 4000.0;
    CHECK(std::abs(fourth - 3.0) < far_out * std::sqrt(24.0 / 4000.0));
    CHECK(std::abs(rms(of_one) / rms(of_other) - 1.0) > 0.05);
}

TEST_CASE("u of noise known from few readings, JCGM 101:2008, 6.4.9 (from memory): the spread of t") {
    // Variance of t: nu/(nu-2) (Boost.Math). Below three degrees of freedom: the u whose 1.96-fold is the t table's
    // half width (e-Handbook 1.3.6.7.2).
    for (const int n : {4, 5, 6, 10, 20, 200}) {
        const shop::Caliper c{"c", 0.0, 0.0, 0.02, n};
        const double u = measure::read_caliper(c, 0.0, 12.0, 0.0, place_of(1), Precision::real).u_mm;
        CHECK(u ==
              doctest::Approx(0.02 * std::sqrt(boost::math::variance(boost::math::students_t(n - 1)))).epsilon(1e-12));
    }
    for (const auto& [n, t975] : {std::pair{2, 12.706}, {3, 4.303}}) {
        const shop::Caliper c{"c", 0.0, 0.0, 0.02, n};
        CHECK(measure::read_caliper(c, 0.0, 12.0, 0.0, place_of(1), Precision::real).u_mm * 1.960 ==
              doctest::Approx(0.02 * t975).epsilon(3e-4).scale(0));
    }
}

TEST_CASE("the mean of repeats: noise shrinks, the limits stay, and u tells the truth about it") {
    const shop::Caliper digital = each_place_alone({"digital", 0.01, 0.03, 0.01, 0});
    const shop::Caliper quiet =
        each_place_alone({"quiet", 0.05, 0.05, 0.005, 0});  // all repeats round alike: the step does not average out
    const auto w = widths(many);
    for (const shop::Caliper& c : {digital, quiet}) {
        for (const std::uint32_t n : {1U, 2U, 4U, 16U}) {
            std::vector<double> e;
            double u = 0.0;
            for (int i = 0; i < many; ++i) {
                std::vector<measure::Reading> repeats;
                for (std::uint32_t k = 0; k < n; ++k)
                    repeats.push_back(measure::read_caliper(c, 0.0, w[static_cast<std::size_t>(i)], 0.0,
                                                            place_of(i, 1, 0, k), Precision::real));
                const base::Uncertain mean = measure::mean_of_repeats(c, repeats, Precision::real);
                e.push_back(mean.value - w[static_cast<std::size_t>(i)]);
                u = mean.u;
            }
            CAPTURE(c.name);
            CAPTURE(n);
            // Statistics 0.005 as above. Where repeats are said to round alike, some of the step averages out all the
            // same: u may claim too much there, up to the step's whole share (a fifth of the variance: a tenth of u),
            // but never too little.
            const bool rounds_alike = c.name == "quiet" && n > 1;
            CHECK(rms(e) < u * (1.0 + far_out * 0.005));
            CHECK(rms(e) > u * (rounds_alike ? 0.9 : 1.0 - far_out * 0.005));
        }
    }
    // However many repeats: never below the limits' own share.
    const std::vector<measure::Reading> hundreds(1000, measure::Reading{0.0, 12.0, 0.0});
    const double least = measure::mean_of_repeats(digital, hundreds, Precision::real).u;
    CHECK(least >= 0.03 / std::sqrt(3.0));
    CHECK(least < 1.01 * 0.03 / std::sqrt(3.0));
}

TEST_CASE("the mean is the mean, and one reading keeps its own uncertainty") {
    const shop::Caliper c = each_place_alone({"c", 0.01, 0.03, 0.01, 7});
    const std::vector<measure::Reading> three{{0.0, 12.00, 0.0}, {0.0, 12.02, 0.0}, {0.0, 12.07, 0.0}};
    CHECK(measure::mean_of_repeats(c, three, Precision::real).value == doctest::Approx(12.03).epsilon(1e-14));
    const measure::Reading one = measure::read_caliper(c, 0.0, 12.0, 0.0, place_of(1), Precision::real);
    CHECK(measure::mean_of_repeats(c, std::span(&one, 1), Precision::real).u ==
          doctest::Approx(one.u_mm).epsilon(1e-14));
}

TEST_CASE("what a coarse display shows: mean and variance against a sum over fine slices of the noise") {
    for (const double step : {0.01, 0.06, 0.15}) {
        for (const double noise : {0.004, 0.02}) {
            for (const double value : {0.0, 0.013, -0.03, 0.05, 0.0749, 1.234}) {
                CAPTURE(step);
                CAPTURE(noise);
                CAPTURE(value);
                double mean = 0.0, square = 0.0, total = 0.0;
                for (int i = -8000; i <= 8000; ++i) {
                    const double z = i / 1000.0, p = std::exp(-0.5 * z * z),
                                 y = std::round((value + noise * z) / step) * step;
                    mean += p * y;
                    square += p * y * y;
                    total += p;
                }
                mean /= total;
                const measure::Shown s = measure::shown(value, noise, step);
                // A slice that straddles a step: a thousandth of the noise's density, 4e-4 of a step; fine steps as the
                // header says.
                CHECK(std::abs(s.mean - mean) < 1e-3 * step);
                CHECK(std::abs(s.variance - (square / total - mean * mean)) < 2e-3 * step * (step + noise));
            }
        }
    }
    // No noise: the staircase itself.
    CHECK(measure::shown(0.049, 0.0, 0.1).mean == 0.0);
    CHECK(measure::shown(0.051, 0.0, 0.1).mean == doctest::Approx(0.1));
    CHECK(measure::shown(0.049, 0.0, 0.1).variance == 0.0);
}
