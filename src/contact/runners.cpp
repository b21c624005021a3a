#include "contact/runners.h"

#include <algorithm>
#include <boost/container/small_vector.hpp>
#include <cmath>

#include "base/elementary.h"
#include "contact/corridor.h"
#include "contact/walk.h"

namespace offsquare::contact {
namespace {

using shop::Drawing;
using shop::Truth;

/// One runner in its slot.
struct Track {
    double x_slot = 0.0;       ///< slot's centre line at y = 0 in T
    double slope = 0.0;        ///< dx/dy of the slot's centre line
    double half_slot = 0.0;    ///< half width across x
    double x_runner = 0.0;     ///< runner's centre line in S
    double half_runner = 0.0;
    Walk slot;                 ///< t = y in T
    Walk bend;                 ///< of the runner, t = y in S
};

/// Where the runners reach along y in S.
struct Reach {
    double rear = 0.0;
    double front = 0.0;
    double middle() const { return 0.5 * (rear + front); }
};

Reach runner_reach(const Drawing& d) {
    const double middle = 0.5 * d.sled.depth_mm - d.sled.fence_from_rear_mm;
    return {middle - 0.5 * d.sled.runner_length_mm, middle + 0.5 * d.sled.runner_length_mm};
}

/// Both runners in their slots, ready to be asked at any travel.
struct Tracks {
    base::Profile bow;         ///< of the left runner; `left.bend` looks into it
    Track left;
    Track right;
    Reach reach;
    double half_table = 0.0;
    bool straight = true;      ///< nothing curved, nothing splayed: two gates tell all

    Tracks(const Drawing& d, const Truth& t);
    Tracks(const Tracks&) = delete;
    Tracks& operator=(const Tracks&) = delete;
};

Tracks::Tracks(const Drawing& d, const Truth& t) : reach(runner_reach(d)), half_table(0.5 * d.table.depth_mm) {
    const double splay = t.slot_splay_rad == 0.0 ? 0.0 : base::tan_of(t.slot_splay_rad);
    const double half = 0.5 * d.slots.width_mm;
    if (t.runner_bend_mm != 0.0) bow = base::Profile::bow(reach.rear, reach.front, t.runner_bend_mm);
    left = {d.slots.left_x_mm, 0.0, half, d.slots.left_x_mm - 0.5 * t.pitch_error_mm, half - 0.5 * t.left_play_mm, Walk(t.left_slot_profile), Walk(bow)};
    // Turned counter-clockwise, the far end of a slot goes to the left.
    right = {d.slots.right_x_mm, -splay, half * std::sqrt(1.0 + splay * splay), d.slots.right_x_mm + 0.5 * t.pitch_error_mm,
             half - 0.5 * t.right_play_mm, Walk(t.right_slot_profile), {}};
    straight = splay == 0.0 && left.slot.straight() && left.bend.straight() && right.slot.straight();
}

/// Centre lines of slots and runners at one sample.
struct Sample {
    double y = 0.0;            ///< from the middle of the guided length
    double slot[2] = {};       ///< x in T, left and right
    double runner[2] = {};     ///< x in S
};
constexpr int samples = 33;
using Samples = boost::container::small_vector<Sample, samples>;

/// The guided part of the runners when the sled's origin is at s: the part that lies over the table.
std::optional<Reach> guided(const Tracks& k, double s) {
    const Reach g{std::max(k.reach.rear, -k.half_table - s), std::min(k.reach.front, k.half_table - s)};
    // A guide shorter than a millimetre holds nothing.
    if (g.front - g.rear < 1.0) return std::nullopt;
    return g;
}

Samples samples_of(const Tracks& k, const Reach& g, double s) {
    const int n = k.straight ? 2 : samples;
    const double half_step = 0.5 * (g.front - g.rear) / (n - 1);
    const double middle = g.middle();
    Samples result(static_cast<std::size_t>(n));
    std::size_t in_slot[2] = {};
    std::size_t in_bow = 0;
    for (int i = 0; i < n; ++i) {
        // Exactly zero in the middle and exactly alike before and behind it, so that rounding never turns a sled that is pressed at its middle.
        const double y = half_step * (2 * i - (n - 1));
        const double Y = s + (middle + y);
        Sample& p = result[static_cast<std::size_t>(i)];
        p.y = y;
        p.slot[0] = k.left.x_slot + k.left.slot.at(Y, in_slot[0]);
        p.slot[1] = k.right.x_slot + k.right.slope * Y + k.right.slot.at(Y, in_slot[1]);
        p.runner[0] = k.left.x_runner + k.left.bend.at(middle + y, in_bow);
        p.runner[1] = k.right.x_runner;
    }
    return result;
}

/// The corridor for x of the middle and the sine of the yaw, if the yaw's cosine is c: a face point stands at  x - y*sin(yaw) + X*c.
Corridor corridor_of(const Tracks& k, const Samples& all, double c) {
    const double left_room = k.left.half_slot - k.left.half_runner * c;
    const double right_room = k.right.half_slot - k.right.half_runner * c;
    Corridor corridor(all.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Sample& p = all[i];
        const double left = p.slot[0] - p.runner[0] * c;
        const double right = p.slot[1] - p.runner[1] * c;
        corridor[i] = {p.y, std::max(left - left_room, right - right_room), std::min(left + left_room, right + right_room)};
    }
    return corridor;
}

/// arcsine of a small number; |z| <= widest_yaw, error below 1e-15.
double small_arcsine(double z) {
    const double q = z * z;
    return z * (1.0 + q * (1.0 / 6.0 + q * (3.0 / 40.0 + q * (15.0 / 336.0 + q * (105.0 / 3456.0 + q * (945.0 / 42240.0))))));
}

/// Where the sled stands, as the corridor sees it.
struct Stand {
    Place middle{};         ///< x of the middle of the guided length; sine of the yaw
    double cosine = 1.0;    ///< of the yaw
};

/// Draws the corridor with the cosine found before, until it no longer changes. Each round makes its error smaller by about the yaw itself.
std::optional<Stand> stand_of(const Tracks& k, const Samples& all, const Push& push, Stand stand) {
    constexpr int rounds = 8;
    for (int round = 0; round < rounds; ++round) {
        const std::optional<Place> place = press(corridor_of(k, all, stand.cosine), push.side, push.moment_mm, stand.middle.yaw);
        if (!place) return std::nullopt;
        stand.middle = *place;
        const double cosine = std::sqrt(1.0 - place->yaw * place->yaw);
        // Times the runner's distance from the blade, some 100 mm: 1e-12 mm.
        const bool still = std::abs(cosine - stand.cosine) <= 1e-14;
        stand.cosine = cosine;
        if (still) break;
    }
    return stand;
}

/// The pose at s; the search starts from how the sled stood before, and leaves how it stands now.
std::optional<SledPose> seat(const Tracks& k, const Push& push, double s, Stand& stand) {
    const std::optional<Reach> g = guided(k, s);
    if (!g) return std::nullopt;
    const std::optional<Stand> found = stand_of(k, samples_of(k, *g, s), push, stand);
    if (!found) return std::nullopt;
    stand = *found;
    return SledPose{s, stand.middle.x + g->middle() * stand.middle.yaw, small_arcsine(stand.middle.yaw)};
}

/// Straight runners in straight slots, pressed without a moment, stand alike everywhere: one pose tells the travel.
bool same_everywhere(const Tracks& k, const Push& push) { return k.straight && push.moment_mm == 0.0; }

/// Alike up to rounding.
bool alike(const SledPose& a, const SledPose& b) { return std::abs(a.x_mm - b.x_mm) < 1e-11 && std::abs(a.yaw_rad - b.yaw_rad) < 1e-13; }

}  // namespace

std::optional<SledPose> seat_runners(const Drawing& drawing, const Truth& truth, const Push& push, double s_mm) {
    Stand stand;
    return seat(Tracks(drawing, truth), push, s_mm, stand);
}

std::optional<Travel> travel(const Drawing& drawing, const Truth& truth, const Push& push, double from_mm, double to_mm, int steps) {
    const Tracks k(drawing, truth);
    const int n = same_everywhere(k, push) ? 1 : steps;
    Travel result;
    result.poses.reserve(static_cast<std::size_t>(n) + 1);
    Stand stand;
    for (int i = 0; i <= n; ++i) {
        const std::optional<SledPose> pose = seat(k, push, from_mm + (to_mm - from_mm) * i / n, stand);
        if (!pose) return std::nullopt;
        result.poses.push_back(*pose);
    }
    const SledPose first = result.poses.front();
    result.constant = std::all_of(result.poses.begin(), result.poses.end(), [&](const SledPose& p) { return alike(p, first); });
    if (result.constant) result.poses = {first, {result.poses.back().s_mm, first.x_mm, first.yaw_rad}};
    return result;
}

}  // namespace offsquare::contact
