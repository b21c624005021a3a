// Notation. For a yaw t the gates leave  L(t) <= x <= U(t)  with
//     U(t) = min_i (hi_i + t*y_i)   concave,      L(t) = max_i (lo_i + t*y_i)   convex.
// The corridor is open at t where h(t) = U(t) - L(t) >= 0; h is concave, so these t are an interval. Pressed to the right (side > 0) the sled
// stands at x = U(t), and g(t) = side*U(t) + moment*t is concave again. So everything is a one-dimensional concave, piecewise straight function, and its
// greatest value and its zeros are found by cutting with its own straight parts: finitely many steps, no step size, no tolerance on the way.
#include "contact/corridor.h"

#include <algorithm>
#include <cmath>

namespace offsquare::contact {
namespace {

/// Value and slope of one straight part.
struct Part {
    double value = 0.0;
    double slope = 0.0;
};

Part upper(const Corridor& c, double t) {
    Part best{c[0].hi + t * c[0].y, c[0].y};
    for (const Gate& g : c) {
        const double v = g.hi + t * g.y;
        if (v < best.value) best = {v, g.y};
    }
    return best;
}

Part lower(const Corridor& c, double t) {
    Part best{c[0].lo + t * c[0].y, c[0].y};
    for (const Gate& g : c) {
        const double v = g.lo + t * g.y;
        if (v > best.value) best = {v, g.y};
    }
    return best;
}

Part gap(const Corridor& c, double t) {
    const Part u = upper(c, t);
    const Part l = lower(c, t);
    return {u.value - l.value, u.slope - l.slope};
}

/// Many more steps than a corridor of 40 gates has straight parts; a guard against rounding, not a limit.
constexpr int step_guard = 200;

/// Where a concave piecewise straight function is greatest in [-widest_yaw, widest_yaw].
template <class F>
double top_of(const F& f) {
    double t_left = -widest_yaw;
    double t_right = widest_yaw;
    Part left = f(t_left);
    Part right = f(t_right);
    if (left.slope <= 0.0) return t_left;
    if (right.slope >= 0.0) return t_right;
    double t = 0.0;
    for (int i = 0; i < step_guard; ++i) {
        t = (right.value - left.value + left.slope * t_left - right.slope * t_right) / (left.slope - right.slope);
        t = std::clamp(t, t_left, t_right);
        const Part here = f(t);
        const double bound = left.value + left.slope * (t - t_left);
        if (here.value >= bound || here.slope == 0.0) return t;
        if (here.slope > 0.0) {
            if (t == t_left) return t;
            t_left = t, left = here;
        } else {
            if (t == t_right) return t;
            t_right = t, right = here;
        }
    }
    return t;
}

/// From a t outside the open interval inwards to its edge: Newton's steps on a concave function never overshoot.
double edge_of_gap(const Corridor& c, double t_outside, double t_inside) {
    double t = t_outside;
    for (int i = 0; i < step_guard; ++i) {
        const Part here = gap(c, t);
        if (here.value >= 0.0 || here.slope == 0.0) return t;
        const double next = t - here.value / here.slope;
        const bool past = t_outside < t_inside ? next >= t_inside : next <= t_inside;
        if (past) return t_inside;
        if (next == t) return t;
        t = next;
    }
    return t;
}

/// Among the yaws that are as good as `t`, the one nearest to zero: slides along a level part of f.
template <class F>
double nearest_to_zero(const F& f, double t, double lo, double hi) {
    const double zero = std::clamp(0.0, lo, hi);
    return f(zero).value >= f(t).value ? zero : t;
}

std::optional<Place> press_right(const Corridor& c, double side, double moment) {
    const auto h = [&](double t) { return gap(c, t); };
    const double middle = nearest_to_zero(h, top_of(h), -widest_yaw, widest_yaw);
    if (h(middle).value < -closed_gap) return std::nullopt;
    const double lo = edge_of_gap(c, -widest_yaw, middle);
    const double hi = edge_of_gap(c, widest_yaw, middle);

    if (side == 0.0) {
        const double t = moment > 0.0 ? hi : moment < 0.0 ? lo : std::clamp(0.0, lo, hi);
        return Place{0.5 * (upper(c, t).value + lower(c, t).value), t};
    }
    const auto g = [&](double t) {
        const Part u = upper(c, t);
        return Part{side * u.value + moment * t, side * u.slope + moment};
    };
    const double t = nearest_to_zero(g, std::clamp(top_of(g), lo, hi), lo, hi);
    return Place{upper(c, t).value, t};
}

}  // namespace

std::optional<Place> press(const Corridor& corridor, double side, double moment) {
    if (side >= 0.0) return press_right(corridor, side, moment);
    Corridor mirror(corridor);
    for (Gate& g : mirror) {
        const double lo = g.lo;
        g.lo = -g.hi;
        g.hi = -lo;
    }
    std::optional<Place> place = press_right(mirror, -side, -moment);
    if (place) *place = {-place->x, -place->yaw};
    return place;
}

}  // namespace offsquare::contact
