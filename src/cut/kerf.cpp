// Notation. The blade at the table is a rectangle, half width k/2, half chord C/2, turned counter-clockwise by the toe. A point (X, Y) of the sled stands
// on the table at  x = x_s + c*X - z*Y,  y = s + z*X + c*Y  with c, z the cosine and sine of the sled's yaw at the travel s. The left face is the
// least X, over the travel, at which a point of height Y meets the rectangle's left side; the right face the greatest X on its right side. Along the
// travel that X moves straight between poses, so that only poses, and the two moments when Y enters and leaves the chord, need be looked at.
#include "cut/kerf.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"

namespace offsquare::cut {
namespace {

using contact::SledPose;
using contact::Travel;

/// One long side of the blade's rectangle: x = at_0 + slope*y for y in [from, to], in T.
struct BladeSide {
    double at_0 = 0.0;
    double slope = 0.0;
    double from = 0.0;
    double to = 0.0;
};

struct BladeSides {
    BladeSide left;
    BladeSide right;
};

BladeSides sides_of(const shop::Blade& blade, double toe) {
    const double half = 0.5 * blade.kerf_mm;
    const double reach = 0.5 * shop::chord_mm(blade);
    const base::Turn r = toe == 0.0 ? base::Turn{} : base::Turn{base::cos_of(toe), base::sin_of(toe)};
    const double slope = -r.s / r.c;
    return {{-half / r.c, slope, -reach * r.c - half * r.s, reach * r.c - half * r.s},
            {half / r.c, slope, -reach * r.c + half * r.s, reach * r.c + half * r.s}};
}

/// cos and sin of the sled's yaw; a yaw is small (contact::widest_yaw), two terms more than double precision needs.
base::Turn yaw_turn(double t) {
    if (t == 0.0) return {};
    const double q = t * t;
    return {1.0 - q / 2.0 * (1.0 - q / 12.0 * (1.0 - q / 30.0 * (1.0 - q / 56.0))), t * (1.0 - q / 6.0 * (1.0 - q / 20.0 * (1.0 - q / 42.0 * (1.0 - q / 72.0))))};
}

/// The X at which height Y of the sled stands on the line of a blade's side, at one pose.
double meets_line(const BladeSide& side, const SledPose& pose, double Y) {
    const base::Turn r = yaw_turn(pose.yaw_rad);
    return (side.at_0 + side.slope * (pose.s_mm + r.c * Y) - pose.x_mm + r.s * Y) / (r.c - side.slope * r.s);
}

/// The pose at a travel between two others.
SledPose between(const SledPose& a, const SledPose& b, double s) {
    const double f = (s - a.s_mm) / (b.s_mm - a.s_mm);
    return {s, a.x_mm + f * (b.x_mm - a.x_mm), a.yaw_rad + f * (b.yaw_rad - a.yaw_rad)};
}

SledPose pose_at(const Travel& travel, double s) {
    const auto& p = travel.poses;
    if (s <= p.front().s_mm) return p.front();
    if (s >= p.back().s_mm) return p.back();
    const auto it = std::lower_bound(p.begin(), p.end(), s, [](const SledPose& a, double at) { return a.s_mm < at; });
    return between(*(it - 1), *it, s);
}

/// The face at height Y: extreme over the part of the travel during which Y is within the chord.
/// The moments of entering and leaving neglect the yaw's second order, z*X + (c - 1)*Y: under 1e-3 mm of travel, which a toe of 1e-3 turns into 1e-6 mm.
double face_at(const BladeSide& side, const Travel& travel, double Y, bool least) {
    const double in = std::clamp(side.from - Y, travel.poses.front().s_mm, travel.poses.back().s_mm);
    const double out = std::clamp(side.to - Y, travel.poses.front().s_mm, travel.poses.back().s_mm);
    const auto worse = [&](double a, double b) { return least ? std::min(a, b) : std::max(a, b); };
    double extreme = worse(meets_line(side, pose_at(travel, in), Y), meets_line(side, pose_at(travel, out), Y));
    if (travel.constant) return extreme;
    const auto& p = travel.poses;
    auto it = std::lower_bound(p.begin(), p.end(), in, [](const SledPose& a, double at) { return a.s_mm < at; });
    for (; it != p.end() && it->s_mm < out; ++it) extreme = worse(extreme, meets_line(side, *it, Y));
    return extreme;
}

Face face_of(const BladeSide& side, const Travel& travel, bool least, double from, double to, int stations, double kink) {
    Face face;
    for (int i = 0; i < stations; ++i) {
        const double Y = from + (to - from) * i / (stations - 1);
        // Where an unfinished pass stops is a kink of the face: it gets a station of its own.
        if (kink > (face.empty() ? from : face.back().y) && kink < Y) face.push_back({face_at(side, travel, kink, least), kink});
        face.push_back({face_at(side, travel, Y, least), Y});
    }
    return face;
}

}  // namespace

Kerf kerf_of(const shop::Blade& blade, const shop::Truth& truth, const Travel& travel, double from_mm, double to_mm, int stations) {
    const BladeSides sides = sides_of(blade, truth.blade_toe_rad);
    const double end = travel.poses.back().s_mm;
    const double reach = 0.5 * shop::chord_mm(blade);
    Kerf kerf;
    kerf.reaches = end + from_mm >= -reach;
    kerf.whole = end + from_mm >= std::max(sides.left.to, sides.right.to);
    const bool straight = travel.constant && (kerf.whole || truth.blade_toe_rad == 0.0);
    const int n = straight ? 2 : stations;
    kerf.left = face_of(sides.left, travel, true, from_mm, to_mm, n, straight ? from_mm : sides.left.to - end);
    kerf.right = face_of(sides.right, travel, false, from_mm, to_mm, n, straight ? from_mm : sides.right.to - end);
    return kerf;
}

}  // namespace offsquare::cut
