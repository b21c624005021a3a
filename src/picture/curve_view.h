// How square a sled has been, as a picture: a point a test with its give or take, the band of what counts as square,
// and what was done between.
#pragma once

#include "picture/shapes.h"
#include "saws/curve.h"

namespace offsquare::picture {

struct CurvePage {
    double width = 540.0;  ///< [points]
    double height = 200.0;
    base::Units units = base::Units::metric;
    saws::Date today{};
};

/// One millimetre is one point of the page; the top left corner at (0, 0), y up, so that the picture lies below it.
/// Time goes to the right: what is far apart stands further apart, but months without a test take little room. A state
/// is never told by its colour alone: a test that is out has a mark of another shape.
Picture curve_view(const saws::Curve& curve, const CurvePage& page);

}  // namespace offsquare::picture
