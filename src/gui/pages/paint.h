// Paints a picture (plain shapes) with ImGui.
#pragma once

#include "gui/kit/widgets.h"
#include "picture/shapes.h"

namespace offsquare::gui {

/// `fit` maps the table frame to DESIGN pixels from `corner` (screen pixels). With a record, the words with their size
/// and the lines with their thickness are written down in it.
void paint(const Kit& kit, ImDrawList& list, const picture::Picture& picture, const picture::Fit& fit, ImVec2 corner,
           Record* record = nullptr);

}  // namespace offsquare::gui
