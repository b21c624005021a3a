// The kerf: what the blade takes as the sled carries the board past it.
#pragma once

#include <algorithm>
#include <boost/container/small_vector.hpp>
#include <limits>

#include "contact/runners.h"
#include "cut/piece.h"
#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::cut {

/// How wide the blade is at the table's surface, over the teeth [mm]: one that leans meets it in a wider strip, and one
/// that wobbles takes all that it reaches over many teeth.
double width_at_table(const shop::Blade& blade, const shop::Truth& truth);

/// The two faces of the kerf in the sled frame.
struct Kerf {
    Face left;  ///< face of the piece that stays on the left, x = f(y)
    Face right;
    bool reaches = true;  ///< false: the travel ends before the blade has come through [from, to]
    bool whole = true;    ///< false: it ends before all of [from, to] has passed the whole chord; then a toed blade
                          ///< leaves its mark in the angle
};

/// How finely is looked at what is curved. Either way: the same cuts, but for what stands here.
enum class Grain {
    coarse,  ///< for who asks thousands of saws: a travel in 64 parts, a face at 33 heights, a bowed edge of 33 points.
             ///< On bad guides a later seat turns the board by up to 0.03 mrad otherwise than on the fine grain, where
             ///< it balances on a kink by up to 0.25 (tests/cut/grain_test.cpp)
    fine     ///< parts are halved until the board turns by less than 0.01 mrad otherwise on still finer ones
};

/// On the fine grain no part of a way or a face has a middle that is farther off than this share of its length. Where
/// it is curved alike all over the part, its ends lean by four times as much against the part itself.
inline constexpr double fine_slope = 5e-7;

/// One long side of the blade's rectangle: x = at_0 + slope*y for y in [from, to], in T.
struct BladeSide {
    double at_0 = 0.0;
    double slope = 0.0;
    double from = 0.0;
    double to = 0.0;
};

/// One side of the blade against one travel. At pose i, s_i along the travel, height Y of the sled stands on the line
/// of the blade's side at  X = at_0[i] + rise[i]*Y;  up to the next pose this grows by  at_0_per_s[i] + rise_per_s[i]*Y
/// for each mm. Lists of single numbers, which are quick to walk along.
struct SideSweep {
    using List = boost::container::small_vector<double, 65>;
    BladeSide side;
    double sign;  ///< +1 for the left side; -1 for the right, whose X all have the other sign here, so that the least
                  ///< one counts on both
    List s;
    List at_0;
    List rise;
    List at_0_per_s;
    List rise_per_s;

    explicit SideSweep(double sign_) : sign(sign_) {}
    double X(std::size_t i, double Y, double s_now) const {
        return at_0[i] + rise[i] * Y + (s_now - s[i]) * (at_0_per_s[i] + rise_per_s[i] * Y);
    }
};

/// The blade against one travel, worked out once for all boards that ride along.
class Sweep {
public:
    Sweep(const shop::Blade& blade, const shop::Truth& truth, const contact::Travel& travel,
          Grain grain = Grain::coarse);

    /// Whether the travel brings height y of the sled to the blade at all.
    bool meets(double y_mm) const { return end_ + y_mm >= -reach_; }

    /// The envelope of the blade's rectangle (kerf_mm wide, chord long, turned by the toe) over the travel, on a board
    /// that lies in [from, to] along y in S. Exact at the stations, but for 2e-6 mm between the poses of a travel that
    /// turns the sled (2 when the travel is constant and whole, else `stations`, and on the fine grain more where the
    /// face is not straight between two), straight between them.
    Kerf kerf(double from_mm, double to_mm, int stations = 33) const;

    /// One of its faces alone, for a board that the blade comes through.
    Face face(shop::Side side, double from_mm, double to_mm, int stations = 33) const;

    /// That face at one height; had the sled gone no farther than `until`, if that is less.
    double face_at(shop::Side side, double y_mm, double until_mm = std::numeric_limits<double>::infinity()) const;

    double ends_at() const { return end_; }  ///< the travel there

    /// No part of that face leans by more than this (dx/dy) on a board whose heights are within y_mm of zero.
    double steepest(shop::Side side, double y_mm) const;

private:
    bool whole(double from_mm) const { return end_ + from_mm >= std::max(left_.side.to, right_.side.to); }
    const SideSweep& of(shop::Side side) const { return side == shop::Side::left ? left_ : right_; }

    double reach_;   ///< half the chord
    double end_;     ///< where the travel ends
    bool constant_;  ///< the travel is
    bool toed_;
    Grain grain_;
    SideSweep left_{1.0};
    SideSweep right_{-1.0};
};

/// A straight face that goes on beyond its ends: x = at_0 + slope*y in S.
struct FaceLine {
    double at_0 = 0.0;
    double slope = 0.0;
};

/// The kerf where the sled stands alike all along its travel, for any board of which all heights meet the whole chord
/// (without toe: meet the blade at all).
struct StraightKerf {
    FaceLine left;
    FaceLine right;
    double meets_mm = 0.0;  ///< s + y from which on height y of the sled has met all that it must
};
StraightKerf straight_kerf(const shop::Blade& blade, const shop::Truth& truth, const contact::SledPose& pose);

}  // namespace offsquare::cut
