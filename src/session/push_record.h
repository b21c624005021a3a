// A push on the live sled, kept as what statics can take up again: where the hand held the sled at each travel, and
// what it gave. No number of the live sled is kept.
#pragma once

#include "cut/five_cut.h"
#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::session {

/// Sees the sled from time to time while a hand pushes it on. What counts at a travel is the hand that first brought
/// the sled there by statics: the blade has cut by then. A hand with which statics sticks moves nothing, though the
/// live sled may still roll on while it turns; who then holds it elsewhere goes on from where statics stuck.
class PushRecord {
public:
    /// The fence is at s, the hand pushes at x (in S) and gives `force_n` at most; `goes`: as push_now has it, it does
    /// not stick there.
    void see(double s_mm, double x_mm, double force_n, bool goes);
    bool empty() const { return pass_.hand.grips.empty(); }
    double reached_mm() const { return pass_.stops_at_mm; }
    /// The whole pass; it stops where the sled came to, or nowhere when that is the end of a usual pass.
    cut::HandPass pass(const shop::Drawing& drawing) const;
    /// Whether the sled came to the end of a usual pass.
    bool is_through(const shop::Drawing& drawing) const;

private:
    cut::HandPass pass_{{{}, 0.0, contact::Way::push}, 0.0};
};

/// How much narrower each runner is than its slot [mm], as it moves in it.
struct SledPlay {
    double left_mm = 0.0;
    double right_mm = 0.0;
};

/// What statics says of a hand on the sled where it is: to be shown beside a live sled.
struct PushNow {
    contact::Stuck stuck = contact::Stuck::no;
    contact::PushedPose pose;
};
PushNow push_now(const shop::Drawing& drawing, const shop::Truth& truth, double s_mm, double x_mm, double force_n);

}  // namespace offsquare::session
