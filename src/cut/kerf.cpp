// Notation. The blade at the table is a rectangle, half width k/2, half chord C/2, turned counter-clockwise by the toe. A point (X, Y) of the sled stands
// on the table at  x = x_s + c*X - z*Y,  y = s + z*X + c*Y  with c, z the cosine and sine of the sled's yaw at the travel s. The left face is the
// least X, over the travel, at which a point of height Y meets the rectangle's left side; the right face the greatest X on its right side. Along the
// travel that X moves straight between poses, so that only poses, and the two moments when Y enters and leaves the chord, need be looked at.
#include "cut/kerf.h"

#include <algorithm>
#include <boost/container/small_vector.hpp>
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

/// At one pose, the X at which height Y of the sled stands on the line of a blade's side is  at_0 + rise*Y.
struct Meeting {
    double at_0 = 0.0;
    double rise = 0.0;
    double at(double Y) const { return at_0 + rise * Y; }
};

/// The pose at a travel between two others.
SledPose between(const SledPose& a, const SledPose& b, double s) {
    const double f = (s - a.s_mm) / (b.s_mm - a.s_mm);
    return {s, a.x_mm + f * (b.x_mm - a.x_mm), a.yaw_rad + f * (b.yaw_rad - a.yaw_rad)};
}

/// One side of the blade against one travel, asked at heights that increase: the moments of entering and leaving the chord then only go back.
/// `sign` is +1 for the left side and -1 for the right, whose greatest X is the least one of x turned over.
class SideSweep {
public:
    SideSweep(const BladeSide& side, const Travel& travel, double sign)
        : side_(side), travel_(travel), sign_(sign), entering_(travel.poses.size()), leaving_(travel.poses.size()) {
        if (travel.constant) return;
        for (const SledPose& p : travel.poses) meetings_.push_back(meeting(p));
    }

    /// The face at height Y: extreme over the part of the travel during which Y is within the chord.
    /// The moments of entering and leaving neglect the yaw's second order, z*X + (c - 1)*Y: under 2e-3 mm of travel, which a toe of 1e-3 turns into 2e-6 mm.
    double face_at(double Y) {
        const double in = std::clamp(side_.from - Y, travel_.poses.front().s_mm, travel_.poses.back().s_mm);
        const double out = std::clamp(side_.to - Y, travel_.poses.front().s_mm, travel_.poses.back().s_mm);
        double least = std::min(meeting(pose_at(in, entering_)).at(Y), meeting(pose_at(out, leaving_)).at(Y));
        if (!travel_.constant) {
            for (std::size_t i = entering_; i < leaving_; ++i) least = std::min(least, meetings_[i].at(Y));
        }
        return sign_ * least;
    }

private:
    Meeting meeting(const SledPose& pose) const {
        const base::Turn r = yaw_turn(pose.yaw_rad);
        const double share = sign_ / (r.c - side_.slope * r.s);
        return {(side_.at_0 + side_.slope * pose.s_mm - pose.x_mm) * share, (side_.slope * r.c + r.s) * share};
    }

    /// The pose at s; `next` becomes the first pose that is not before s.
    SledPose pose_at(double s, std::size_t& next) const {
        const auto& p = travel_.poses;
        while (next > 0 && p[next - 1].s_mm >= s) --next;
        if (next == 0) return p.front();
        return next == p.size() ? p.back() : between(p[next - 1], p[next], s);
    }

    BladeSide side_;
    const Travel& travel_;
    double sign_;
    std::size_t entering_;
    std::size_t leaving_;
    boost::container::small_vector<Meeting, 65> meetings_;
};

Face face_of(const BladeSide& side, const Travel& travel, double sign, double from, double to, int stations, double kink) {
    SideSweep sweep(side, travel, sign);
    Face face;
    face.reserve(static_cast<std::size_t>(stations) + 1);
    for (int i = 0; i < stations; ++i) {
        const double Y = from + (to - from) * i / (stations - 1);
        // Where an unfinished pass stops is a kink of the face: it gets a station of its own.
        if (kink > (face.empty() ? from : face.back().y) && kink < Y) face.push_back({sweep.face_at(kink), kink});
        face.push_back({sweep.face_at(Y), Y});
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
    kerf.left = face_of(sides.left, travel, 1.0, from_mm, to_mm, n, straight ? from_mm : sides.left.to - end);
    kerf.right = face_of(sides.right, travel, -1.0, from_mm, to_mm, n, straight ? from_mm : sides.right.to - end);
    return kerf;
}

}  // namespace offsquare::cut
