// What it means when a person drags a part in the picture: which values of the set-up change, in words and as a ghost
// of the part where it would go.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "picture/table_view.h"

namespace offsquare::picture {

struct Drag {
    std::optional<session::Action> action;  ///< what to do when it is let go; none while nothing has moved, and for the
                                            ///< caliper, which is no value of the set-up
    std::optional<double> in_from_end_mm;   ///< the caliper: how far in from its end
    std::string what;                       ///< "cut off"
    std::string value;                      ///< "12 mm"
    std::vector<Shape> ghost;               ///< the part where it would go, or where it is when nothing has moved
};

/// What the drag of this handle by `moved_mm` (in the picture's frame T) means. Values are rounded to a millimetre or a
/// sixteenth of an inch (by `options.units`), the skew to 0.01 mrad, and held to the range that the value may have by
/// itself; whether it fits the other values, the session says.
/// - board: the board along the fence: board.trim, what cuts 1 to 4 take off
/// - board_corner: the free corner: board.width and board.length
/// - fence_end: the left end of the true fence: faults.fence_skew. The picture draws angles larger: what is dragged is
///   divided by the factor drawn. Shims behind the fence stay where they are.
/// - blade_end: the end of the blade's slot away from the operator: blade.height, by the chord
/// - shim points: fence.shim_left, fence.shim_right
/// - calipers: how far in from the end
///
/// Nothing for a handle that the picture does not show now, and for the fence's end while `options.revealed` is not
/// there: nobody turns what they may not see.
std::optional<Drag> drag_of(const session::Seen& seen, const ViewOptions& options, Handle handle, Vec2 moved_mm);

}  // namespace offsquare::picture
