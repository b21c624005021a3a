// The class view: the whole page, for the back of a room.
#pragma once

#include "gui/pages/area.h"

namespace offsquare::gui {

/// True: the mark was pressed.
bool draw_class(Kit& kit, Bench& bench);

}  // namespace offsquare::gui
