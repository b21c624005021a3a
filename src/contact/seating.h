// A board's edge against the fence: which two points touch, and how the board lies then.
#pragma once

#include <optional>
#include <span>

#include "base/frame.h"
#include "base/profile.h"
#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::contact {

using base::Vec2;

/// Extra thickness behind the two ends of the fence [mm].
struct Shims {
    double left_mm = 0.0;
    double right_mm = 0.0;
};

/// The line of the fence's face in the sled frame: y = slope*x + offset, with what departs from it.
struct FenceFace {
    double slope = 0.0;      ///< tan of the skew that the fence has now, shims counted
    double offset_mm = 0.0;  ///< y at x = 0
    double from_mm = 0.0;    ///< x range of the face
    double to_mm = 0.0;
    base::Profile profile;    ///< departure over x, > 0 towards the board
    double bow_per_mm = 0.0;  ///< how much the slope of a bow in `profile` falls for each mm of x, where it is bellied;
                              ///< 0: what stands in `profile` is all
    double bow_step_mm = 0.0;  ///< between the points at which that bow stands in `profile`, the first at from_mm
};

/// The face after the shims. The fault turns the fence about the right shim point; a shim of t moves its end by t along
/// y: slope = tan(fence_skew) + (right - left)/span.
FenceFace fence_face(const shop::Drawing& drawing, const shop::Truth& truth, const Shims& shims);

/// The edge that lies on the fence, seen from the board: points in W from its left end to its right end as it will lie,
/// outward side down (-y).
using Edge = std::span<const Vec2>;

struct Seat {
    base::Pose X_SW;  ///< the board in the sled
    double left_contact_mm =
        0.0;  ///< x in S of the two points that touch; the same point twice when the board balances on one
    double right_contact_mm = 0.0;
};

/// A chip of wood that lies between edge and face.
struct Chip {
    double place = 0.5;  ///< where along the part of the edge that meets the face: 0 at its left end, 1 at its right
    double thickness_mm = 0.0;  ///< > 0; it does not crush, and is narrow
};

/// Seats the edge on the face so that its right end (its left end when `corner` is left) stands at x = corner_x_mm in
/// S. The hand presses at the middle of the part of the edge that meets the face. Exact for straight edges; with bows
/// the contact places are right to the second order of the bow's slope. A board on the belly of a bowed fence lies
/// along the parabola's own tangent, not along the part between two of its points. Empty when edge and face do not
/// overlap by at least 1 mm.
std::optional<Seat> seat_on_fence(const FenceFace& face, Edge edge, shop::Side corner, double corner_x_mm,
                                  const std::optional<Chip>& chip = std::nullopt);

}  // namespace offsquare::contact
