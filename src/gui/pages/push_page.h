// The sled under the person's hand.
#pragma once

#include "gui/pages/area.h"
#include "gui/state/pushing.h"

namespace offsquare::gui {

struct PushState {
    Pushing pushing;
    double grab_mm = 0.0;  ///< how far from the fence's face the mouse took hold of the sled, along the slots
};

void draw_push(Kit& kit, Bench& bench, PushState& state, float width, float height);

}  // namespace offsquare::gui
