// The hidden errors of one saw. Only the rooms that simulate may include this file; diagnose/ and shim/ must not.
#pragma once

#include "base/profile.h"

namespace offsquare::shop {

/// Every value zero: a perfect saw. Signs: plan angles positive counter-clockwise seen from above; bows positive towards +y (fence, seen in S)
/// or +x (runners, slots), i.e. a positive fence bow is a belly towards the board.
struct Truth {
    double fence_skew_rad = 0.0;   ///< fence off square to the travel; > 0: left end too near the operator. |.| <= 0.02
    double fence_bow_mm = 0.0;     ///< sagitta of the fence's face over its whole length, > 0 bellied. |.| <= 2
    double left_play_mm = 0.0;     ///< how much narrower than its slot the left runner is, 0 to 2
    double right_play_mm = 0.0;    ///< the same, right
    double pitch_error_mm = 0.0;   ///< runners further apart (> 0) than the slots. |.| <= 2
    double slot_splay_rad = 0.0;   ///< the right slot turned against the left, which is the line of travel. |.| <= 0.01
    double runner_bend_mm = 0.0;   ///< sagitta of the left runner, > 0 bulging to the right. |.| <= 2
    double blade_toe_rad = 0.0;    ///< blade's plane turned against the slots, > 0 counter-clockwise. |.| <= 0.02
    double edge_bow_mm = 0.0;      ///< sagitta of the board's rough edge that is first on the fence, > 0 bellied outwards. |.| <= 2
    double caliper_zero_mm = 0.0;  ///< the closed caliper shows this instead of zero. |.| <= 1
    base::Profile fence_profile;   ///< further departure of the fence's face, t = x in S
    base::Profile left_slot_profile;   ///< departure of the left slot's centre line, t = y in T, d towards +x
    base::Profile right_slot_profile;
};

}  // namespace offsquare::shop
