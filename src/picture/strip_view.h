// The strip of a five-cut test as it lies after the cut, with the places where it is read, and the fence from above
// with the two shim points: where the fields of "My saw" stand. From what is typed, as far as it is; nothing of a
// truth.
#pragma once

#include <optional>

#include "base/quantity.h"
#include "picture/shapes.h"
#include "shim/propose.h"

namespace offsquare::picture {

/// As far as it is known.
struct StripShown {
    std::optional<double> fence_end_mm, far_end_mm, between_mm;
    std::optional<shop::Side> fell;
};

/// A page of its own: one millimetre of the picture is one point, top left at (0, 0). Places are points of the page,
/// y down.
struct StripView {
    Picture picture;
    double fields_left = 0.0;  ///< where the boxes begin
    double far_y = 0.0;        ///< middle of the box of the far end
    double between_y = 0.0;
    double fence_y = 0.0;
    double left_room = 0.0;  ///< width beside the strip, left of it, that is free
    double factor = 1.0;     ///< how many times the taper is drawn larger; 1: none is drawn
};

/// `width` 440 or more, `height` 230 or more. The strip's width is not to scale, and its taper is drawn larger: both
/// are said in the picture.
StripView strip_view(const StripShown& shown, double width, double height);

/// How many times the taper is drawn larger, from the series 1, 2, 5, 10 up to 500: so that it is seen and the strip
/// stays one. `points_per_mm`: of the length. 1: the ends are equal.
double taper_factor(double difference_mm, double points_per_mm);

struct FenceShown {
    double behind_left_mm = 0.0, behind_right_mm = 0.0;  ///< what stands there
    shim::At at = shim::At::none;                        ///< where one is to be put
    base::Units units;
};
struct FenceView {
    Picture picture;
    double dimension_right = 0.0;  ///< where the line between the shim points ends
};
/// `width` 240 or more, `height` 84 or more.
FenceView fence_view(const FenceShown& shown, double width, double height);

}  // namespace offsquare::picture
