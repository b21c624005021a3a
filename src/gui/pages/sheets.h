// The sheets over the page: cautions, keys, and how things are shown.
#pragma once

#include <functional>

#include "gui/pages/area.h"

namespace offsquare::gui {

bool any_sheet_open(const Sheets& sheets);
/// `set_scale`: how the window takes another scale; may be empty.
void draw_sheets(Kit& kit, Bench& bench, const std::function<void(float)>& set_scale);

}  // namespace offsquare::gui
