#include "measure/instruments.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/elementary.h"

namespace offsquare::measure {
namespace {

using base::Draw;
using base::Purpose;

/// The repeatability that this caliper really has. It is known only from some earlier readings, so the true spread is
/// drawn from what those leave open: s*sqrt(nu/chi2_nu). The noise is then s times Student's t of nu degrees of
/// freedom, the same s for every reading of a session.
double true_repeat(const shop::Caliper& caliper, std::uint64_t seed) {
    const int nu = caliper.repeat_readings - 1;
    if (nu < 1) return caliper.repeat_mm;
    double chi2 = 0.0;
    for (int i = 0; i < nu; ++i) {
        const double z = base::standard_normal(Draw{seed, Purpose::caliper_spread, 0, static_cast<std::uint32_t>(i)});
        chi2 += z * z;
    }
    return caliper.repeat_mm * std::sqrt(nu / chi2);
}

/// Standard uncertainty of the noise of one reading. One caliper has one repeatability: what is unknown about it is
/// shared by all its readings, so Welch-Satterthwaite, which takes every input's u as found on its own, would count the
/// same few readings again at each end and in each test and cover less than it says. The spread of Student's t is put
/// into u instead (JCGM 101:2008, 6.4.9): s*sqrt(nu/(nu-2)). t has no spread below three degrees of freedom; there u is
/// what makes the 95 % interval of the noise hold.
double u_repeat(const shop::Caliper& caliper) {
    const int nu = caliper.repeat_readings - 1;
    if (nu < 1) return caliper.repeat_mm;
    if (nu < 3)
        return caliper.repeat_mm * base::student_quantile(0.975, nu) /
               base::student_quantile(0.975, std::numeric_limits<double>::infinity());
    return caliper.repeat_mm * std::sqrt(nu / (nu - 2.0));
}

double within(double limit, const Draw& draw) { return limit * (2.0 * base::uniform01(draw) - 1.0); }

double u_single(const shop::Caliper& c, double length_mm) {
    const double own = base::u_rectangular(c.cancels * shop::caliper_limit_mm(c, length_mm));
    const double place = base::u_rectangular(shop::caliper_place_limit_mm(c, length_mm));
    const double repeat = u_repeat(c);
    const double step = base::u_of_step(c.step_mm);
    return std::sqrt(own * own + place * place + repeat * repeat + step * step);
}

double u_tape(const shop::Tape& t) {
    const double limit = base::u_rectangular(t.limit_mm);
    const double step = base::u_of_step(t.step_mm);
    return std::sqrt(limit * limit + step * step);
}

/// More repeats than this at one place would share draws with the next place.
constexpr std::uint32_t repeats_per_place = 4096;

}  // namespace

// A step is a short decimal (0.0127 = 127/10000): whole numbers and one division give the double nearest to the decimal
// shown.
double rounded(double value, double step) {
    if (step <= 0.0) return value;
    const double steps = std::round(value / step);
    for (double power = 1.0; power <= 1e6; power *= 10.0) {
        const double digits = std::round(step * power);
        if (digits >= 1.0 && std::abs(digits - step * power) < 1e-9) return steps * digits / power;
    }
    return steps * step;
}

double between_leaves(double gap, double step) {
    const double leaves = std::floor(std::abs(gap) / step);
    return std::copysign(rounded((leaves + 0.5) * step, 0.5 * step), gap);
}

Shown shown(double value, double noise, double step) {
    if (step <= noise) return {value, noise * noise + step * step / 12.0};
    // Whole steps about the value; beyond eight deviations nothing is left.
    const auto first = static_cast<long>(std::floor((value - 8.0 * noise) / step));
    const auto last = static_cast<long>(std::ceil((value + 8.0 * noise) / step));
    double mean = 0.0;
    double square = 0.0;
    double below = 0.0;
    for (long k = first; k <= last; ++k) {
        const double upper = noise > 0.0 ? base::normal_below(((static_cast<double>(k) + 0.5) * step - value) / noise)
                                         : ((static_cast<double>(k) + 0.5) * step > value ? 1.0 : 0.0);
        const double off = static_cast<double>(k) * step - value;
        mean += (upper - below) * off;
        square += (upper - below) * off * off;
        below = upper;
    }
    return {value + mean, std::max(0.0, square - mean * mean)};
}

double lasting_step_variance(double step, double noise) {
    if (step <= 0.0) return 0.0;
    constexpr double pi = 3.14159265358979323846;
    const double r = 2.0 * pi * noise / step;
    double sum = 0.0;
    for (int k = 1; k <= 60; ++k) {
        const double term = base::exp_of(-r * r * k * k) / (k * k);
        sum += term;
        if (term < 1e-4) break;
    }
    return step * step / (2.0 * pi * pi) * sum;
}

Reading read_caliper(const shop::Caliper& caliper, double zero_mm, double true_mm, double station_mm,
                     const Place& place, Precision precision, double sticking_mm) {
    if (precision == Precision::exact) return {station_mm, true_mm, 0.0};
    const double own = within(caliper.cancels * shop::caliper_limit_mm(caliper, true_mm),
                              Draw{place.seed, Purpose::caliper_scale, 0, 0});
    const double here = within(shop::caliper_place_limit_mm(caliper, true_mm),
                               Draw{place.seed, Purpose::caliper_limit, place.test, place.end});
    const Draw each{place.seed, Purpose::caliper_repeat, place.test, place.end * repeats_per_place + place.repeat};
    const double noise = true_repeat(caliper, place.seed) * base::standard_normal(each);
    return {station_mm, rounded(true_mm + zero_mm + own + here + noise, std::max(caliper.step_mm, sticking_mm)),
            u_single(caliper, true_mm)};
}

Reading read_tape(const shop::Tape& tape, double true_mm, const Place& place, Precision precision) {
    if (precision == Precision::exact) return {0.0, true_mm, 0.0};
    const double limit = within(tape.limit_mm, Draw{place.seed, Purpose::tape_limit, place.test, place.end});
    return {0.0, rounded(true_mm + limit, tape.step_mm), u_tape(tape)};
}

base::Uncertain mean_of_repeats(const shop::Caliper& caliper, std::span<const Reading> readings, Precision precision) {
    const double n = static_cast<double>(readings.size());
    double sum = 0.0;
    for (const Reading& r : readings) sum += r.value_mm;
    const double mean = sum / n;
    if (precision == Precision::exact) return {mean, 0.0};
    // Rounding averages out only where the noise carries the readings over several steps; otherwise all repeats round
    // alike.
    const bool step_averages = caliper.repeat_mm >= 0.5 * caliper.step_mm;
    const std::array<base::Contribution, 3> parts{{
        {1.0, base::u_rectangular(shop::caliper_place_limit_mm(caliper, mean))},
        {1.0 / std::sqrt(n), u_repeat(caliper)},
        {step_averages ? 1.0 / std::sqrt(n) : 1.0, base::u_of_step(caliper.step_mm)},
    }};
    return base::combine(mean, parts);
}

base::Uncertain tape_value(const shop::Tape& tape, const Reading& reading, Precision precision) {
    return {reading.value_mm, precision == Precision::exact ? 0.0 : u_tape(tape)};
}

}  // namespace offsquare::measure
