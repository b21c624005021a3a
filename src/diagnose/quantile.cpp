#include "diagnose/quantile.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "base/elementary.h"
#include "base/uncertain.h"

namespace offsquare::diagnose {
namespace {

constexpr int per_deviation = 64;
constexpr int furthest = 9;  // nothing is left beyond nine deviations
constexpr std::size_t knots = 2 * furthest * per_deviation + 1;

/// Value and slope at each knot, the slope per knot.
struct Table {
    std::array<double, knots> value{};
    std::array<double, knots> slope{};
};

Table make_table() {
    constexpr double one_by_root_of_two_pi = 0.39894228040143267794;
    Table t;
    for (std::size_t i = 0; i < knots; ++i) {
        const double z = static_cast<double>(i) / per_deviation - furthest;
        t.value[i] = base::normal_below(z);
        t.slope[i] = one_by_root_of_two_pi * base::exp_of(-0.5 * z * z) / per_deviation;
    }
    return t;
}

double share_below(const Share& s, double x) {
    return s.sd > 0.0 ? quick_below((x - s.mean) / s.sd) : (x >= s.mean ? 1.0 : 0.0);
}

double below(std::span<const Share> shares, double x) {
    double sum = 0.0;
    for (const Share& s : shares) sum += s.weight * share_below(s, x);
    return sum;
}

}  // namespace

double quick_below(double z) {
    static const Table table = make_table();
    if (z <= -furthest) return 0.0;
    if (z >= furthest) return 1.0;
    const double place = (z + furthest) * per_deviation;
    const auto i = std::min(static_cast<std::size_t>(place), knots - 2);
    const double t = place - static_cast<double>(i);
    const double rise = table.value[i + 1] - table.value[i];
    const double a = table.slope[i] - rise;
    const double b = rise - table.slope[i + 1];
    // Hermite's cubic.
    return table.value[i] + t * rise + t * (1.0 - t) * (a * (1.0 - t) + b * t);
}

double quantile(std::span<const Share> shares, double p) {
    double lo = shares.front().mean;
    double hi = lo;
    double narrowest = std::numeric_limits<double>::infinity();
    for (const Share& s : shares) {
        lo = std::min(lo, s.mean - furthest * s.sd);
        hi = std::max(hi, s.mean + furthest * s.sd);
        if (s.weight > 1e-3) narrowest = std::min(narrowest, s.sd);
    }
    const double enough = std::max(1e-3 * narrowest, 1e-12);
    double at_lo = -p;
    double at_hi = 1.0 - p;
    // Halves, and the straight line between the ends, in turn.
    for (int i = 0; i < 200 && hi - lo > enough; ++i) {
        const double step = i % 2 == 0 ? 0.5 : std::clamp(-at_lo / (at_hi - at_lo), 0.05, 0.95);
        const double middle = lo + step * (hi - lo);
        const double at_middle = below(shares, middle) - p;
        (at_middle < 0.0 ? lo : hi) = middle;
        (at_middle < 0.0 ? at_lo : at_hi) = at_middle;
    }
    return 0.5 * (lo + hi);
}

}  // namespace offsquare::diagnose
