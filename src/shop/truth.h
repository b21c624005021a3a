// The hidden errors of one saw. Only the rooms that simulate may include this file; diagnose/ and shim/ must not.
#pragma once

#include "base/profile.h"
#include "shop/fault.h"

namespace offsquare::shop {

/// Every value zero: a perfect saw. What each is, which way is positive and in what range: shop/fault.h, under the same
/// name. Bows are positive towards +y (fence, seen in S) or +x (runners, slots).
struct Truth {
    double fence_skew_rad = 0.0;
    double fence_bow_mm = 0.0;
    double fence_lean_rad = 0.0;
    double dust_mm = 0.0;
    double clamp_creep_rad = 0.0;
    double left_play_mm = 0.0;
    double right_play_mm = 0.0;
    double pitch_error_mm = 0.0;
    double slot_splay_rad = 0.0;
    double slot_wander_mm = 0.0;
    double runner_bend_mm = 0.0;
    double blade_toe_rad = 0.0;
    double blade_tilt_rad = 0.0;
    double blade_runout_mm = 0.0;
    double edge_bow_mm = 0.0;
    double caliper_zero_mm = 0.0;
    double caliper_step_mm = 0.0;
    double board_creep_rad = 0.0;  ///< mm to the right for each mm that the board is pushed on
    double arbor_runout_mm = 0.0;
    double stop_slip_mm = 0.0;
    base::Profile fence_profile;      ///< further departure of the fence's face, t = x in S
    base::Profile left_slot_profile;  ///< departure of the left slot's centre line, t = y in T, d towards +x
    base::Profile right_slot_profile;
    base::Profile left_runner_profile;  ///< departure of the left runner, t = y in S, d towards +x
    base::Profile right_runner_profile;
    base::Profile edge_profile;  ///< departure of the board's first edge, t from its left end, d outwards
};

/// The size of one fault [mm or rad, as info(fault).unit says].
double& size_of(Truth& truth, Fault fault);
double size_of(const Truth& truth, Fault fault);

}  // namespace offsquare::shop
