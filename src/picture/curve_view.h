// How square a sled has been: a point for each test with its give or take, the band of what counts as square, a dashed
// line for each thing that was done between them.
#pragma once

#include <optional>

#include "picture/shapes.h"
#include "saws/curve.h"

namespace offsquare::picture {

struct CurvePage {
    double width = 820.0;   ///< [points], 300 or more
    double height = 130.0;  ///< 90 or more
    base::Units units{};
    saws::Date today{};
    std::optional<int> not_written{};  ///< the entry that is only being typed
    double letters = 12.0;             ///< em size [points]; on paper smaller
};

/// A page of its own: one millimetre of the picture is one point, top left at (0, 0). Up: the left end of the fence is
/// too near the operator. From left to right in the order in which it was done; days apart are farther apart, as far as
/// the width allows. A state is never told by colour alone: a test that is out has a mark of another shape.
Picture curve_view(const saws::Curve& curve, const CurvePage& page);

}  // namespace offsquare::picture
