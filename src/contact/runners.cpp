#include "contact/runners.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "contact/corridor.h"

namespace offsquare::contact {
namespace {

using shop::Drawing;
using shop::Truth;

/// One runner in its slot, ready to be asked at any y.
struct Track {
    double x_slot = 0.0;       ///< slot's centre line at y = 0 in T
    double slope = 0.0;        ///< dx/dy of the slot's centre line
    double half_slot = 0.0;    ///< half width across x
    double x_runner = 0.0;     ///< runner's centre line in S
    double half_runner = 0.0;
    const base::Profile* slot = nullptr;
    base::Profile bend;        ///< of the runner, t = y in S
};

/// Where the runners reach along y in S.
struct Reach {
    double rear = 0.0;
    double front = 0.0;
};

Reach runner_reach(const Drawing& d) {
    const double middle = 0.5 * d.sled.depth_mm - d.sled.fence_from_rear_mm;
    return {middle - 0.5 * d.sled.runner_length_mm, middle + 0.5 * d.sled.runner_length_mm};
}

struct Tracks {
    Track left;
    Track right;
    Reach reach;
    double half_table = 0.0;
    bool straight = true;      ///< nothing curved, nothing splayed: two gates tell all
};

Tracks tracks_of(const Drawing& d, const Truth& t) {
    Tracks k;
    k.reach = runner_reach(d);
    k.half_table = 0.5 * d.table.depth_mm;
    const double splay = base::tan_of(t.slot_splay_rad);
    const double half = 0.5 * d.slots.width_mm;
    k.left = {d.slots.left_x_mm, 0.0, half, d.slots.left_x_mm - 0.5 * t.pitch_error_mm, half - 0.5 * t.left_play_mm, &t.left_slot_profile, {}};
    // Turned counter-clockwise, the far end of a slot goes to the left.
    k.right = {d.slots.right_x_mm, -splay, half * std::sqrt(1.0 + splay * splay), d.slots.right_x_mm + 0.5 * t.pitch_error_mm,
               half - 0.5 * t.right_play_mm, &t.right_slot_profile, {}};
    if (t.runner_bend_mm != 0.0) k.left.bend = base::Profile::bow(k.reach.rear, k.reach.front, t.runner_bend_mm);
    k.straight = splay == 0.0 && t.runner_bend_mm == 0.0 && t.left_slot_profile.straight() && t.right_slot_profile.straight();
    return k;
}

/// cos and sin of a small yaw by their series; |yaw| <= widest_yaw, error below 1e-15.
struct SmallTurn {
    double c = 1.0;
    double s = 0.0;
};
SmallTurn small_turn(double t) {
    const double q = t * t;
    return {1.0 - q / 2.0 * (1.0 - q / 12.0 * (1.0 - q / 30.0 * (1.0 - q / 56.0))), t * (1.0 - q / 6.0 * (1.0 - q / 20.0 * (1.0 - q / 42.0 * (1.0 - q / 72.0))))};
}

/// Narrows the gate at y by one runner. With the exact place of a face point, x + X*cos(yaw) - y*sin(yaw), drawn about the yaw `about`.
void narrow(Gate& gate, const Track& k, double y, double s, const SmallTurn& turn, double about) {
    const double wall = k.x_slot + k.slope * (s + y) + (k.slot->straight() ? 0.0 : k.slot->at(s + y));
    const double runner = k.x_runner + (k.bend.straight() ? 0.0 : k.bend.at(y));
    const double rest = y * (turn.s - about);
    gate.hi = std::min(gate.hi, wall + k.half_slot - (runner + k.half_runner) * turn.c + rest);
    gate.lo = std::max(gate.lo, wall - k.half_slot - (runner - k.half_runner) * turn.c + rest);
}

/// The guided part of the runners when the sled's origin is at s: the part that lies over the table.
std::optional<Reach> guided(const Tracks& k, double s) {
    const Reach g{std::max(k.reach.rear, -k.half_table - s), std::min(k.reach.front, k.half_table - s)};
    // A guide shorter than a millimetre holds nothing.
    if (g.front - g.rear < 1.0) return std::nullopt;
    return g;
}

Corridor corridor_of(const Tracks& k, const Reach& g, double s, double about) {
    constexpr int fine = 33;
    const int n = k.straight ? 2 : fine;
    const SmallTurn turn = small_turn(about);
    Corridor corridor;
    for (int i = 0; i < n; ++i) {
        const double y = g.rear + (g.front - g.rear) * i / (n - 1);
        Gate gate{y, -1e9, 1e9};
        narrow(gate, k.left, y, s, turn, about);
        narrow(gate, k.right, y, s, turn, about);
        corridor.push_back(gate);
    }
    return corridor;
}

/// Presses with the side force at the middle of the guided length: there x - yaw*y_m moves as the force works.
std::optional<Place> press_at_middle(const Corridor& c, const Reach& g, const Push& push) {
    const double y_m = 0.5 * (g.rear + g.front);
    return press(c, push.side, push.moment_mm - push.side * y_m);
}

std::optional<SledPose> seat(const Tracks& k, const Push& push, double s) {
    const std::optional<Reach> g = guided(k, s);
    if (!g) return std::nullopt;
    std::optional<Place> place = press_at_middle(corridor_of(k, *g, s, 0.0), *g, push);
    // Each round makes the error smaller by about the yaw itself (0.01 or less): three reach the last bit.
    for (int round = 0; round < 3 && place && place->yaw != 0.0; ++round) {
        place = press_at_middle(corridor_of(k, *g, s, place->yaw), *g, push);
    }
    if (!place) return std::nullopt;
    return SledPose{s, place->x, place->yaw};
}

/// Straight runners in straight slots, pressed without a moment, stand alike everywhere: one pose tells the travel.
bool same_everywhere(const Tracks& k, const Push& push) { return k.straight && push.moment_mm == 0.0; }

bool alike(const SledPose& a, const SledPose& b) { return a.x_mm == b.x_mm && a.yaw_rad == b.yaw_rad; }

}  // namespace

std::optional<SledPose> seat_runners(const Drawing& drawing, const Truth& truth, const Push& push, double s_mm) {
    return seat(tracks_of(drawing, truth), push, s_mm);
}

std::optional<Travel> travel(const Drawing& drawing, const Truth& truth, const Push& push, double from_mm, double to_mm, int steps) {
    const Tracks k = tracks_of(drawing, truth);
    const int n = same_everywhere(k, push) ? 1 : steps;
    Travel result;
    result.poses.reserve(static_cast<std::size_t>(n) + 1);
    for (int i = 0; i <= n; ++i) {
        const std::optional<SledPose> pose = seat(k, push, from_mm + (to_mm - from_mm) * i / n);
        if (!pose) return std::nullopt;
        result.poses.push_back(*pose);
    }
    result.constant = std::all_of(result.poses.begin(), result.poses.end(), [&](const SledPose& p) { return alike(p, result.poses.front()); });
    return result;
}

}  // namespace offsquare::contact
