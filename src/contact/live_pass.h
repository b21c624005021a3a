// A whole pass pushed on the live sled, to be laid beside the quasi-static one of push.h.
//
// Where it stops: the hand follows at 60 mm/s, so that mass counts for nothing where the sled lies still in its play.
#pragma once

#include "contact/push.h"

namespace offsquare::contact {

struct LivePass {
    std::vector<PushedPose> path;  ///< in the order of the motion; only s, x, yaw and push are filled in
    bool bound = false;            ///< it came to rest on the way, wherever the quasi-static pass did
    double bound_at_mm = 0.0;
    double push_needed_n = 0.0;  ///< greatest of the path [N]
};

/// Pushes the live sled over the same travels as push_sled with these numbers, as far as it goes at all (hand_range),
/// and looks at each. The live hand gives `strongest_live_n` at most.
LivePass live_pass(const shop::Drawing& drawing, const shop::Truth& truth, const HandPush& hand, const Rub& rub,
                   double from_mm, double to_mm, int steps = 256);
inline constexpr double strongest_live_n = 500.0;

struct Apart {
    double x_mm = 0.0;  ///< greatest difference of place
    double yaw_rad = 0.0;
};

/// Greatest differences at the travels that both reached, away from flips: the first `settling_mm` of the motion are
/// left out, and as much after each change of the hand and each change of the yaw's sign, when the sled is on its way
/// from one wall to the other. All zero when they never met.
inline constexpr double settling_mm = 6.0;
Apart apart(const PushedPass& pass, const LivePass& live, const HandPush& hand);

}  // namespace offsquare::contact
