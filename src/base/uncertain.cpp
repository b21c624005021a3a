#include "base/uncertain.h"

#include <charconv>
#include <cmath>

#include <boost/math/distributions/students_t.hpp>
#include <boost/math/special_functions/erf.hpp>
#include <fmt/format.h>

#include "base/random.h"

namespace offsquare::base {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

double ten_digits(double x) {
    const std::string text = fmt::format("{:.9e}", x);
    double v = 0.0;
    std::from_chars(text.data(), text.data() + text.size(), v);
    return v;
}

}  // namespace

Uncertain combine(double value, std::span<const Contribution> inputs) {
    double largest = 0.0;  // scale by it, so that fourth powers of small uncertainties do not vanish
    for (const Contribution& in : inputs) largest = std::fmax(largest, std::fabs(in.sensitivity * in.u));
    if (largest == 0.0) return {value, 0.0, infinite};
    double squares = 0.0;
    double fourths = 0.0;  // each over its degrees of freedom
    for (const Contribution& in : inputs) {
        const double part = in.sensitivity * in.u / largest;
        squares += part * part;
        fourths += part * part * part * part / in.dof;
    }
    return {value, largest * std::sqrt(squares), fourths > 0.0 ? squares * squares / fourths : infinite};
}

double u_rectangular(double half_width) { return std::fabs(half_width) / std::sqrt(3.0); }
double u_of_step(double step) { return std::fabs(step) / std::sqrt(12.0); }

Uncertain mean_of(std::span<const double> repeats) {
    if (repeats.size() < 2) return {repeats.empty() ? 0.0 : repeats.front(), infinite, infinite};
    // Differences from the first value are small, so that neither the mean nor the spread loses digits to a large
    // common part.
    const double origin = repeats.front();
    const double n = static_cast<double>(repeats.size());
    double sum_shift = 0.0;
    for (const double x : repeats) sum_shift += x - origin;
    const double shift = sum_shift / n;
    double squares = 0.0;
    for (const double x : repeats) squares += ((x - origin) - shift) * ((x - origin) - shift);
    return {origin + shift, std::sqrt(squares / (n - 1.0) / n), n - 1.0};
}

double student_quantile(double p, double dof) {
    if (p == 0.5) return 0.0;
    if (std::isinf(dof)) return ten_digits(inverse_normal(p));
    return ten_digits(boost::math::quantile(boost::math::students_t(dof), p));
}

double normal_below(double z) { return ten_digits(0.5 * boost::math::erfc(-z / std::sqrt(2.0))); }
double normal_tails(double z) { return ten_digits(boost::math::erfc(z / std::sqrt(2.0))); }

Interval coverage(const Uncertain& x, double p) {
    const double half_width = x.u == 0.0 ? 0.0 : student_quantile(0.5 + 0.5 * p, x.dof) * x.u;
    return {x.value - half_width, x.value + half_width};
}

}  // namespace offsquare::base
