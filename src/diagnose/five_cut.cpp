#include "diagnose/five_cut.h"

#include <array>
#include <cmath>

#include "base/elementary.h"

namespace offsquare::diagnose {

base::Uncertain skew_from_strip(const StripReadings& r) {
    const double sign = r.side == shop::Side::right ? 1.0 : -1.0;
    const double length = r.between_mm.value;
    const double taper = (r.fence_end_mm.value - r.far_end_mm.value) / length;
    const double per_taper = sign / (4.0 * (1.0 + taper * taper));
    const std::array<base::Contribution, 3> inputs{{
        {per_taper / length, r.fence_end_mm.u, r.fence_end_mm.dof},
        {-per_taper / length, r.far_end_mm.u, r.far_end_mm.dof},
        {-per_taper * taper / length, r.between_mm.u, r.between_mm.dof},
    }};
    return base::combine(sign * base::atan_of(taper) / 4.0, inputs);
}

PencilWorking pencil_working(const StripReadings& r, double span_mm) {
    PencilWorking w;
    w.difference_mm = r.fence_end_mm.value - r.far_end_mm.value;
    w.share_mm = w.difference_mm / 4.0;
    w.per_length = w.share_mm / r.between_mm.value;
    w.over_span_mm = w.per_length * span_mm;
    return w;
}

State state_of(const base::Interval& c, double tolerance) {
    if (c.lo >= -tolerance && c.hi <= tolerance) return State::pass;
    if (c.lo > tolerance || c.hi < -tolerance) return State::fail;
    return State::undecided;
}

State state_of(const base::Uncertain& x, double tolerance) { return state_of(base::coverage(x), tolerance); }

namespace {

/// The least number of tests whose mean, if it stays where it is, has an interval that does not hold the limit.
int tests_needed(const base::Uncertain& skew, double tolerance, int tests_so_far) {
    constexpr int most = 100;
    for (int n = tests_so_far + 1; n <= most; ++n) {
        const double share = static_cast<double>(tests_so_far) / n;
        const base::Uncertain mean{skew.value, skew.u * std::sqrt(share), skew.dof / share};
        if (state_of(mean, tolerance) != State::undecided) return n;
    }
    return 0;
}

}  // namespace

Verdict judge(const base::Uncertain& skew_rad, double tolerance_rad, int tests_so_far) {
    Verdict v;
    v.tolerance_rad = tolerance_rad;
    v.coverage95 = base::coverage(skew_rad);
    v.state = state_of(v.coverage95, tolerance_rad);
    if (v.state == State::undecided) v.tests_to_decide = tests_needed(skew_rad, tolerance_rad, tests_so_far);
    return v;
}

base::Uncertain average(std::span<const base::Uncertain> skews_rad) {
    std::vector<base::Contribution> parts;
    double sum = 0.0;
    const double n = static_cast<double>(skews_rad.size());
    for (const base::Uncertain& s : skews_rad) {
        sum += s.value;
        parts.push_back({1.0 / n, s.u, s.dof});
    }
    return base::combine(sum / n, parts);
}

}  // namespace offsquare::diagnose
