// Where the instrument goes: a simple sketch for each check, from shared parts. The instrument is blue and named;
// nothing is to scale and no fault is shown but as an example.
#pragma once

#include "measure/check.h"
#include "picture/shapes.h"

namespace offsquare::picture {

/// One millimetre of the picture is one point when it is drawn 360 wide and 210 high.
Picture check_view(measure::Check check);

}  // namespace offsquare::picture
