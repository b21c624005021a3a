// Notation. For a yaw t the gates leave  L(t) <= x <= U(t)  with
//     U(t) = min_i (hi_i + t*y_i)   concave,      L(t) = max_i (lo_i + t*y_i)   convex.
// The clearance is open at t where h(t) = U(t) - L(t) >= 0; h is concave, so these t are an interval. Pressed to the
// right (side > 0) the sled stands at x = U(t), and g(t) = U(t) + arm*t, arm = moment/side, is concave again. So
// everything is a one-dimensional concave, piecewise straight function, and its greatest value and its zeros are found
// by cutting with its own straight parts: finitely many steps, no step size, no tolerance on the way.
#include "contact/clearance.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace offsquare::contact {
namespace {

/// Value and slope of one straight part.
struct Part {
    double value = 0.0;
    double slope = 0.0;
};

Part upper(const Clearance& c, double t) {
    const Gate* best = c.data();
    double least = best->hi + t * best->y;
    for (const Gate& g : c) {
        const double v = g.hi + t * g.y;
        if (v < least) least = v, best = &g;
    }
    return {least, best->y};
}

Part lower(const Clearance& c, double t) {
    const Gate* best = c.data();
    double most = best->lo + t * best->y;
    for (const Gate& g : c) {
        const double v = g.lo + t * g.y;
        if (v > most) most = v, best = &g;
    }
    return {most, best->y};
}

Part gap(const Clearance& c, double t) {
    const Part u = upper(c, t);
    const Part l = lower(c, t);
    return {u.value - l.value, u.slope - l.slope};
}

/// Many more steps than a clearance of 40 gates has straight parts; a guard against rounding, not a limit.
constexpr int step_guard = 200;

/// The yaws from `from` to `to`.
struct Yaws {
    double from = 0.0;
    double to = 0.0;
    double nearest_to_zero() const { return from == to ? from : std::clamp(0.0, from, to); }
};

/// A yaw in [-widest_yaw, widest_yaw] where the gap is widest.
double widest_gap(const Clearance& c) {
    double t_left = -widest_yaw;
    double t_right = widest_yaw;
    Part left = gap(c, t_left);
    Part right = gap(c, t_right);
    if (left.slope <= 0.0) return t_left;
    if (right.slope >= 0.0) return t_right;
    double t = 0.0;
    for (int i = 0; i < step_guard; ++i) {
        t = (right.value - left.value + left.slope * t_left - right.slope * t_right) / (left.slope - right.slope);
        t = std::clamp(t, t_left, t_right);
        const Part here = gap(c, t);
        if (here.value >= left.value + left.slope * (t - t_left) || here.slope == 0.0) return t;
        double& t_side = here.slope > 0.0 ? t_left : t_right;
        if (t == t_side) return t;
        t_side = t;
        (here.slope > 0.0 ? left : right) = here;
    }
    return t;
}

/// From a t outside the open interval inwards to its edge: Newton's steps on a concave function never overshoot.
double edge_of_gap(const Clearance& c, double t_outside, double t_inside) {
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

/// All yaws at which the clearance is open.
std::optional<Yaws> open_yaws(const Clearance& c) {
    const double inside = gap(c, 0.0).value >= 0.0 ? 0.0 : widest_gap(c);
    if (gap(c, inside).value < -closed_gap) return std::nullopt;
    return Yaws{edge_of_gap(c, -widest_yaw, inside), edge_of_gap(c, widest_yaw, inside)};
}

/// The straight parts of g that matter at one yaw: the lowest rising, falling and level one. Null where there is none.
struct Lowest {
    const Gate* rising = nullptr;
    const Gate* falling = nullptr;
    const Gate* level = nullptr;
};

Lowest lowest_at(const Clearance& c, double arm, double t) {
    Lowest low;
    double rising = 0.0;
    double falling = 0.0;
    for (const Gate& g : c) {
        const double slope = g.y + arm;
        const double v = g.hi + t * slope;
        if (slope > 0.0) {
            if (!low.rising || v < rising) rising = v, low.rising = &g;
        } else if (slope < 0.0) {
            if (!low.falling || v < falling) falling = v, low.falling = &g;
        } else if (!low.level || g.hi < low.level->hi) {
            low.level = &g;
        }
    }
    return low;
}

const Gate& lowest_gate(const Clearance& c, double arm, double t) {
    const Gate* best = c.data();
    double least = best->hi + t * (best->y + arm);
    for (const Gate& g : c) {
        const double v = g.hi + t * (g.y + arm);
        if (v < least) least = v, best = &g;
    }
    return *best;
}

/// Where a level part is as low as all others.
Yaws level_yaws(const Clearance& c, double arm, double level) {
    Yaws y{-widest_yaw, widest_yaw};
    for (const Gate& g : c) {
        const double slope = g.y + arm;
        if (slope > 0.0) y.from = std::max(y.from, (level - g.hi) / slope);
        if (slope < 0.0) y.to = std::min(y.to, (level - g.hi) / slope);
    }
    // Where the level part just touches the crossing of two others, rounding may swap the ends.
    return {std::min(y.from, y.to), std::max(y.from, y.to)};
}

Yaws just(double t) {
    const double inside = std::clamp(t, -widest_yaw, widest_yaw);
    return {inside, inside};
}

/// The yaws at which g is greatest; near `hint` few steps are needed, from anywhere the answer is the same. Each round
/// cuts the peak of a rising and a falling part off by a lower part, until none is lower. Where three parts meet in one
/// point rounding could go round in a ring: the peak must sink.
Yaws best_yaws(const Clearance& c, double arm, double hint) {
    Lowest low = lowest_at(c, arm, hint);
    if (!low.rising && !low.level) return just(-widest_yaw);
    if (!low.falling && !low.level) return just(widest_yaw);
    if (!low.rising || !low.falling) return level_yaws(c, arm, low.level->hi);
    double peak = std::numeric_limits<double>::infinity();
    while (true) {
        const double t = (low.rising->hi - low.falling->hi) / (low.falling->y - low.rising->y);
        const double sunk = low.falling->hi + t * (low.falling->y + arm);
        const Gate& here = lowest_gate(c, arm, t);
        if (&here == low.rising || &here == low.falling || !(sunk < peak)) return just(t);
        peak = sunk;
        const double slope = here.y + arm;
        if (slope == 0.0) return level_yaws(c, arm, here.hi);
        (slope > 0.0 ? low.rising : low.falling) = &here;
    }
}

std::optional<SlotPose> press_right(const Clearance& c, double arm, double hint) {
    const Yaws best = best_yaws(c, arm, hint);
    const double t = best.nearest_to_zero();
    const double x = upper(c, t).value;
    // Mostly the best of all yaws is open, and nothing else need be known. Without play this is true up to rounding.
    constexpr double rounding = 1e-12;
    if (x - lower(c, t).value >= -rounding) return SlotPose{x, t};
    const std::optional<Yaws> open = open_yaws(c);
    if (!open) return std::nullopt;
    const double nearest = std::clamp(std::clamp(open->nearest_to_zero(), best.from, best.to), open->from, open->to);
    return SlotPose{upper(c, nearest).value, nearest};
}

std::optional<SlotPose> turn_only(const Clearance& c, double moment) {
    const std::optional<Yaws> open = open_yaws(c);
    if (!open) return std::nullopt;
    const double t = moment > 0.0 ? open->to : moment < 0.0 ? open->from : 0.5 * (open->from + open->to);
    return SlotPose{0.5 * (upper(c, t).value + lower(c, t).value), t};
}

}  // namespace

std::optional<SlotPose> press(const Clearance& clearance, double side, double moment, double hint) {
    if (side == 0.0) return turn_only(clearance, moment);
    if (side > 0.0) return press_right(clearance, moment / side, hint);
    Clearance mirror(clearance);
    for (Gate& g : mirror) {
        const double lo = g.lo;
        g.lo = -g.hi;
        g.hi = -lo;
    }
    std::optional<SlotPose> place = press_right(mirror, moment / side, -hint);
    if (place) *place = {-place->x, -place->yaw};
    return place;
}

}  // namespace offsquare::contact
