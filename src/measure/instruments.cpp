#include "measure/instruments.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace offsquare::measure {
namespace {

using base::Draw;
using base::Purpose;

/// A display shows whole steps. Dividing by steps-per-millimetre, where that is whole, gives the double nearest to the decimal shown.
double rounded(double value, double step) {
    if (step <= 0.0) return value;
    const double steps = std::round(value / step);
    const double per_mm = std::round(1.0 / step);
    const bool whole = per_mm >= 1.0 && std::abs(per_mm * step - 1.0) < 1e-9;
    return whole ? steps / per_mm : steps * step;
}

/// The repeatability that this caliper really has. It is known only from some earlier readings, so the true spread is drawn from what those leave open:
/// s*sqrt(nu/chi2_nu). Then an interval with Student's factor of nu degrees of freedom covers as it says.
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

double repeat_dof(const shop::Caliper& caliper) {
    return caliper.repeat_readings >= 2 ? caliper.repeat_readings - 1.0 : std::numeric_limits<double>::infinity();
}

double within(double limit, const Draw& draw) { return limit * (2.0 * base::uniform01(draw) - 1.0); }

double u_single(const shop::Caliper& c) {
    const double limit = base::u_rectangular(c.limit_mm);
    const double step = base::u_of_step(c.step_mm);
    return std::sqrt(limit * limit + c.repeat_mm * c.repeat_mm + step * step);
}

double u_tape(const shop::Tape& t) {
    const double limit = base::u_rectangular(t.limit_mm);
    const double step = base::u_of_step(t.step_mm);
    return std::sqrt(limit * limit + step * step);
}

/// More repeats than this at one place would share draws with the next place.
constexpr std::uint32_t repeats_per_place = 4096;

}  // namespace

Reading read_caliper(const shop::Caliper& caliper, double zero_mm, double true_mm, double station_mm, const Place& place, Precision precision) {
    if (precision == Precision::exact) return {station_mm, true_mm, 0.0};
    const double limit = within(caliper.limit_mm, Draw{place.seed, Purpose::caliper_limit, place.test, place.end});
    const Draw each{place.seed, Purpose::caliper_repeat, place.test, place.end * repeats_per_place + place.repeat};
    const double noise = true_repeat(caliper, place.seed) * base::standard_normal(each);
    return {station_mm, rounded(true_mm + zero_mm + limit + noise, caliper.step_mm), u_single(caliper)};
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
    // Rounding averages out only where the noise carries the readings over several steps; otherwise all repeats round alike.
    const bool step_averages = caliper.repeat_mm >= 0.5 * caliper.step_mm;
    const std::array<base::Contribution, 3> parts{{
        {1.0, base::u_rectangular(caliper.limit_mm)},
        {1.0 / std::sqrt(n), caliper.repeat_mm, repeat_dof(caliper)},
        {step_averages ? 1.0 / std::sqrt(n) : 1.0, base::u_of_step(caliper.step_mm)},
    }};
    return base::combine(mean, parts);
}

base::Uncertain tape_value(const shop::Tape& tape, const Reading& reading, Precision precision) {
    return {reading.value_mm, precision == Precision::exact ? 0.0 : u_tape(tape)};
}

}  // namespace offsquare::measure
