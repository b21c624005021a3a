// Runners in slots: where the sled sits, and how it goes.
//
// All runner faces and slot walls collapse into one clearance in the sled's two freedoms, the sideways place x and the
// yaw:
//     lo_i <= x - yaw*y_i <= hi_i        at sample points y_i along the runners (S frame).
// The pose is the vertex of that polygon which the push presses into: a linear program in two variables, solved
// directly. The sine of the yaw is the unknown and its cosine is found by repeating, so that the yaw limit of a
// straight runner is exact, L*sin t + w*cos t = w + c, not c/L.
//
// Where it stops: quasi-static, no friction, no bending; a wall is looked up at the sample's y without the yaw's
// second-order shift.
#pragma once

#include <optional>
#include <vector>

#include "base/frame.h"
#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::contact {

/// How the hand presses the sled sideways while it feeds. Only the ratio of the two matters.
struct Push {
    friend bool operator==(const Push&, const Push&) = default;
    double side =
        1.0;  ///< side force, > 0 to the right, < 0 to the left, 0 none; acts at the middle of the guided length
    double moment_mm = 0.0;  ///< yaw moment per unit of force, > 0 counter-clockwise
};

/// The sled at one place of its travel: S in T is at (x, s), turned by yaw.
struct SledPose {
    friend bool operator==(const SledPose&, const SledPose&) = default;
    double s_mm = 0.0;     ///< y of the sled's origin in T
    double x_mm = 0.0;     ///< x of the sled's origin in T
    double yaw_rad = 0.0;  ///< positive counter-clockwise, small
};

/// The sled's travel. When nothing varies along it (`constant`), there are just two poses, start and end, alike but for
/// s.
struct Travel {
    std::vector<SledPose> poses;  ///< by increasing s; x and yaw are straight between them
    bool constant = true;
};

/// Pose at one s; empty when the runners do not fit in the slots there.
std::optional<SledPose> seat_runners(const shop::Drawing& drawing, const shop::Truth& truth, const Push& push,
                                     double s_mm);

/// Where straight runners in straight slots stand at every s of [from, to], pressed without a moment: square, against
/// the first wall of that side, or midway. The pose is that of from_mm. Empty: something is curved, splayed or turned
/// by the push, no runner is over the table somewhere, or they do not fit square; then travel() must be asked.
std::optional<SledPose> steady_pose(const shop::Drawing& drawing, const shop::Truth& truth, const Push& push,
                                    double from_mm, double to_mm);

/// The travels s at which some of the runners is over the table, and so in the slots [mm].
struct Guided {
    double from_mm = 0.0;
    double to_mm = 0.0;
};
Guided guided_travel(const shop::Drawing& drawing);

/// The whole travel from `from` to `to` (from < to) in `steps` parts; empty when the runners bind by geometry
/// somewhere.
std::optional<Travel> travel(const shop::Drawing& drawing, const shop::Truth& truth, const Push& push, double from_mm,
                             double to_mm, int steps = 64);

/// The same, halved where the sled does not go straight from one pose to the next, until no part has a middle that is
/// off by more than `slope` of the part's length, for points within arm_mm of the sled's origin, or is shorter than a
/// tenth of a millimetre: where another wall begins to bear the way has a kink.
std::optional<Travel> fine_travel(const shop::Drawing& drawing, const shop::Truth& truth, const Push& push,
                                  double from_mm, double to_mm, double slope, double arm_mm);

}  // namespace offsquare::contact
