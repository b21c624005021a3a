// The two-variable linear program behind the seating of runners.
#pragma once

#include <boost/container/small_vector.hpp>
#include <optional>

namespace offsquare::contact {

/// One sample: lo <= x - yaw*y <= hi.
struct Gate {
    double y = 0.0;
    double lo = 0.0;
    double hi = 0.0;
};
/// The room that runners have in their slots at one travel: every gate holds.
using Clearance = boost::container::small_vector<Gate, 40>;

/// The sled between the walls of its slots, at one travel: how far to the right, and how far turned.
struct SlotPose {
    double x = 0.0;
    double yaw = 0.0;
};

/// Yaw is looked for within this bound [rad]: far beyond what any runner in a slot can reach (a 100 mm guide with 2 mm
/// of play: 0.02).
inline constexpr double widest_yaw = 0.1;

/// A clearance counts as open down to this much overlap [mm]: a runner that fits without play gives lo == hi up to
/// rounding, about 1e-13 mm; a nanometre is far below anything that is taught.
inline constexpr double closed_gap = 1e-9;

/// The place that maximises side*x + moment*yaw inside the clearance. Where many yaws are equally good, the one nearest
/// to zero. With side == 0 the place is midway across; with moment == 0 too it is the middle of what is free: midway
/// between the least and the greatest yaw, and midway across there. Empty when the clearance is closed. Needs one gate
/// at least. A `hint` of about the right yaw saves time; it does not change the place.
std::optional<SlotPose> press(const Clearance& clearance, double side, double moment, double hint = 0.0);

}  // namespace offsquare::contact
