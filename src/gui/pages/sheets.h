// The sheets over the page: cautions, keys, and how things are shown.
#pragma once

#include <functional>

#include "gui/pages/area.h"

namespace offsquare::gui {

bool any_sheet_open(const Sheets& sheets);
/// `set_scale`: how the window takes another scale; may be empty.
/// `on_the_saw`: what is on the bench is seen; else its own choices are left out.
void draw_sheets(Kit& kit, Bench& bench, const std::function<void(float)>& set_scale, bool on_the_saw);

}  // namespace offsquare::gui
