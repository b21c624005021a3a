// The small drawings on the doors of the first screen: what one does behind each. Nothing in them is anybody's saw, and
// no number in them is one of the program's.
#pragma once

#include "base/quantity.h"
#include "picture/shapes.h"

namespace offsquare::picture {

enum class Door { my_saw, learn, practise, what_if, show_class };

/// On a page of 200 by 120 points at scale 1: everything stands within it. `small`: where letters would not be read, no
/// words.
Picture door_view(Door door, base::Units units, bool small = false);

}  // namespace offsquare::picture
