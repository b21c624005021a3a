// The one caution that always stands in the window, with a button for all of them.
#pragma once

#include "gui/pages/area.h"

namespace offsquare::gui {

void draw_caution_line(Kit& kit, Bench& bench, const Area& area);

}  // namespace offsquare::gui
