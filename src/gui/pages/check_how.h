// How a check is done: where the instrument goes, and its steps.
#pragma once

#include "gui/kit/widgets.h"
#include "measure/check.h"

namespace offsquare::gui {

void draw_check_how(Kit& kit, const measure::CheckInfo& check, base::Units units, float width);

}  // namespace offsquare::gui
