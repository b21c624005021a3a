// The sled under the person's hand.
#pragma once

#include "gui/pages/area.h"
#include "gui/state/pushing.h"

namespace offsquare::gui {

struct PushState {
    Pushing pushing;
    bool for_notebook = false;  ///< it was opened from there: back there, once the sled was pushed
    bool wants_back = false;
    double grab_mm = 0.0;  ///< how far from the fence's face the mouse took hold of the sled, along the slots
};

/// Whether the hand has found out how the sled goes: it pushed, or it stands.
bool has_pushed(const PushState& state);

void draw_push(Kit& kit, Bench& bench, PushState& state, float width, float height);

}  // namespace offsquare::gui
