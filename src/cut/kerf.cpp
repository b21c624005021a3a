// Notation. The blade at the table is a rectangle, half width k/2, half chord C/2, turned counter-clockwise by the toe.
// A point (X, Y) of the sled stands on the table at  x = x_s + c*X - z*Y,  y = s + z*X + c*Y  with c, z the cosine and
// sine of the sled's yaw at the travel s. The left face is the least X, over the travel, at which a point of height Y
// meets the rectangle's left side; the right face the greatest X on its right side. Along the travel that X moves
// straight between poses, so that only poses, and the two moments when Y enters and leaves the chord, need be looked
// at. X is taken as straight between poses at those moments too. A pose straight between two others gives another X by
// (change of the yaw from one to the next)^2/8*Y: 2e-6 mm was the worst of 2,477 random saws with slots that wander by
// 0.1 mm.
#include "cut/kerf.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "base/lowest_line.h"
#include "shop/truth.h"

namespace offsquare::cut {
namespace {

using contact::SledPose;
using contact::Travel;

struct BladeSides {
    BladeSide left;
    BladeSide right;
};

BladeSides sides_of(const shop::Blade& blade, const shop::Truth& truth) {
    const double toe = truth.blade_toe_rad;
    const double half = 0.5 * width_at_table(blade, truth);
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
    return {1.0 - q / 2.0 * (1.0 - q / 12.0 * (1.0 - q / 30.0 * (1.0 - q / 56.0))),
            t * (1.0 - q / 6.0 * (1.0 - q / 20.0 * (1.0 - q / 42.0 * (1.0 - q / 72.0))))};
}

/// X on the blade's side, times `sign`, for a sled at x, s, turned by r:  at_0 + rise*Y.
struct OnSide {
    double share;
    double at_0;
    double rise;
    OnSide(const BladeSide& side, double sign, double x, double s, base::Turn r)
        : share(sign / (r.c - side.slope * r.s)),
          at_0((side.at_0 + side.slope * s - x) * share),
          rise((side.slope * r.c + r.s) * share) {}
};

/// As straight_face, from the pose itself: a height enters the chord at s = from - Y and leaves it at to - Y.
FaceLine face_line(const BladeSide& side, double sign, const SledPose& pose, base::Turn r, double creep) {
    const OnSide enters(side, sign, pose.x_mm + creep * side.from, side.from, r);
    const OnSide leaves(side, sign, pose.x_mm + creep * side.to, side.to, r);
    return {sign * std::min(enters.at_0, leaves.at_0), sign * (enters.rise - (side.slope - creep) * enters.share)};
}

void make_room(SideSweep& sweep, std::size_t poses) {
    for (SideSweep::List* list : {&sweep.s, &sweep.at_0, &sweep.rise, &sweep.at_0_per_s, &sweep.rise_per_s})
        list->resize(poses, boost::container::default_init);
}

void add_pose(SideSweep& sweep, std::size_t i, double s, const OnSide& met) {
    sweep.s[i] = s;
    sweep.at_0[i] = met.at_0;
    sweep.rise[i] = met.rise;
}

/// What changes from pose i to the next, so far away.
void join(SideSweep& sweep, std::size_t i, double per_s) {
    sweep.at_0_per_s[i] = (sweep.at_0[i + 1] - sweep.at_0[i]) * per_s;
    sweep.rise_per_s[i] = (sweep.rise[i + 1] - sweep.rise[i]) * per_s;
}

/// Nothing changes after the last pose.
void end(SideSweep& sweep) {
    sweep.at_0_per_s.back() = 0.0;
    sweep.rise_per_s.back() = 0.0;
}

/// Both sides of the blade, which are parallel. A board that creeps is carried to the right as if the sled went there.
void sweep_along(SideSweep& left, SideSweep& right, const Travel& travel, double creep) {
    const std::size_t n = travel.poses.size();
    make_room(left, n);
    make_room(right, n);
    for (std::size_t i = 0; i < n; ++i) {
        const SledPose& pose = travel.poses[i];
        const base::Turn r = yaw_turn(pose.yaw_rad);
        const double x = pose.x_mm + creep * pose.s_mm;
        add_pose(left, i, pose.s_mm, OnSide(left.side, left.sign, x, pose.s_mm, r));
        add_pose(right, i, pose.s_mm, OnSide(right.side, right.sign, x, pose.s_mm, r));
    }
    for (std::size_t i = 0; i + 1 < n; ++i) {
        const double per_s = 1.0 / (left.s[i + 1] - left.s[i]);
        join(left, i, per_s);
        join(right, i, per_s);
    }
    end(left);
    end(right);
}

/// Asks one side at heights; quickly where they increase: the moments of entering and leaving the chord then only go
/// back.
class SideWalk {
public:
    explicit SideWalk(const SideSweep& sweep) : k_(sweep), entering_(sweep.s.size() - 1), leaving_(entering_) {}

    /// The face at height Y: extreme over the part of the travel during which Y is within the chord.
    /// The moments of entering and leaving neglect the yaw's second order, z*X + (c - 1)*Y: under 2e-3 mm of travel,
    /// which a toe of 1e-3 turns into 2e-6 mm.
    double face_at(double Y, double until = std::numeric_limits<double>::infinity()) {
        const double in = std::clamp(std::min(k_.side.from - Y, until), k_.s.front(), k_.s.back());
        const double out = std::clamp(std::min(k_.side.to - Y, until), k_.s.front(), k_.s.back());
        go_to(entering_, in);
        go_to(leaving_, out);
        double least = std::min(k_.X(entering_, Y, in), k_.X(leaving_, Y, out));
        if (leaving_ > entering_)
            least = std::min(
                least, base::lowest_line(&k_.at_0[entering_ + 1], &k_.rise[entering_ + 1], leaving_ - entering_, Y));
        return k_.sign * least;
    }

private:
    /// To the last pose that is not after s.
    void go_to(std::size_t& i, double s) const {
        while (i + 1 < k_.s.size() && k_.s[i + 1] <= s) ++i;
        while (i > 0 && k_.s[i] > s) --i;
    }

    const SideSweep& k_;
    std::size_t entering_;
    std::size_t leaving_;
};

/// The line that a constant travel leaves when all of the chord comes by (or without toe any part of it): a height
/// enters the chord at s = from - Y and leaves it at to - Y, and X changes steadily with both s and Y.
Face straight_face(const SideSweep& k, double from, double to) {
    const double least = std::min(k.X(0, 0.0, k.side.from), k.X(0, 0.0, k.side.to));
    const double rise = k.rise[0] - k.at_0_per_s[0];
    Face face;
    for (const double Y : {from, to}) face.push_back({k.sign * (least + rise * Y), Y});
    return face;
}

/// Puts stations between the last of a face and the next until it is straight from each to the next, or they are a
/// twentieth of a millimetre apart: it has kinks.
void halve(SideWalk& walk, Face& face, Vec2 to) {
    constexpr double shortest_mm = 0.05;
    const Vec2 from = face.back();
    const double way = to.y - from.y;
    if (way > shortest_mm) {
        const double y = from.y + 0.5 * way;
        const Vec2 middle{walk.face_at(y), y};
        if (std::abs(middle.x - 0.5 * (from.x + to.x)) > fine_slope * way) {
            halve(walk, face, middle);
            return halve(walk, face, to);
        }
    }
    face.push_back(to);
}

Face with_halves(const SideSweep& sweep, const Face& coarse) {
    SideWalk walk(sweep);
    Face face{coarse.front()};
    for (std::size_t i = 1; i < coarse.size(); ++i) halve(walk, face, coarse[i]);
    return face;
}

/// Where an unfinished pass stops is a kink of the face: it gets a station of its own.
Face face_of(const SideSweep& sweep, double from, double to, int stations, double kink) {
    SideWalk walk(sweep);
    Face face;
    face.reserve(static_cast<std::size_t>(stations) + 1);
    double last = from;
    for (int i = 0; i < stations; ++i) {
        const double Y = from + (to - from) * i / (stations - 1);
        if (kink > last && kink < Y) face.push_back({walk.face_at(kink), kink});
        face.push_back({walk.face_at(Y), Y});
        last = Y;
    }
    return face;
}

}  // namespace

double width_at_table(const shop::Blade& blade, const shop::Truth& truth) {
    const double width = blade.kerf_mm + truth.blade_runout_mm + truth.arbor_runout_mm;
    return truth.blade_tilt_rad == 0.0 ? width : width / base::cos_of(truth.blade_tilt_rad);
}

Sweep::Sweep(const shop::Blade& blade, const shop::Truth& truth, const Travel& travel, Grain grain)
    : reach_(0.5 * shop::chord_mm(blade)),
      end_(travel.poses.back().s_mm),
      constant_(travel.constant && truth.board_creep_rad == 0.0),
      toed_(truth.blade_toe_rad != 0.0 || truth.board_creep_rad != 0.0),
      grain_(grain) {
    const BladeSides sides = sides_of(blade, truth);
    left_.side = sides.left;
    right_.side = sides.right;
    sweep_along(left_, right_, travel, truth.board_creep_rad);
}

Kerf Sweep::kerf(double from_mm, double to_mm, int stations) const {
    Kerf kerf;
    kerf.reaches = meets(from_mm);
    kerf.whole = whole(from_mm);
    kerf.left = face(shop::Side::left, from_mm, to_mm, stations);
    kerf.right = face(shop::Side::right, from_mm, to_mm, stations);
    return kerf;
}

Face Sweep::face(shop::Side side, double from_mm, double to_mm, int stations) const {
    const SideSweep& sweep = of(side);
    const bool straight = constant_ && (whole(from_mm) || !toed_);
    if (straight) return straight_face(sweep, from_mm, to_mm);
    const Face face = face_of(sweep, from_mm, to_mm, stations, sweep.side.to - end_);
    return grain_ == Grain::fine ? with_halves(sweep, face) : face;
}

double Sweep::face_at(shop::Side side, double y_mm, double until_mm) const {
    return SideWalk(of(side)).face_at(y_mm, until_mm);
}

// A pose's X changes with Y by its rise; at the moments of entering and leaving, which go back as Y grows, also by what
// X changes with s.
double Sweep::steepest(shop::Side side, double y_mm) const {
    const SideSweep& k = of(side);
    double rise = 0.0;
    double at_0_per_s = 0.0;
    double rise_per_s = 0.0;
    for (std::size_t i = 0; i < k.s.size(); ++i) {
        rise = std::max(rise, std::abs(k.rise[i]));
        at_0_per_s = std::max(at_0_per_s, std::abs(k.at_0_per_s[i]));
        rise_per_s = std::max(rise_per_s, std::abs(k.rise_per_s[i]));
    }
    return rise + at_0_per_s + rise_per_s * y_mm;
}

StraightKerf straight_kerf(const shop::Blade& blade, const shop::Truth& truth, const SledPose& pose) {
    const BladeSides sides = sides_of(blade, truth);
    const base::Turn r = yaw_turn(pose.yaw_rad);
    const double creep = truth.board_creep_rad;
    const double meets = truth.blade_toe_rad == 0.0 && creep == 0.0 ? -0.5 * shop::chord_mm(blade)
                                                                    : std::max(sides.left.to, sides.right.to);
    return {face_line(sides.left, 1.0, pose, r, creep), face_line(sides.right, -1.0, pose, r, creep), meets};
}

}  // namespace offsquare::cut
