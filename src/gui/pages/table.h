// The table from above.
#pragma once

#include "gui/pages/area.h"

namespace offsquare::gui {

struct TableState {
    picture::Handle dragging = picture::Handle::none;  ///< the part that the mouse holds
};

/// With its parts to drag, and its zoom. `page_scrolls`: the wheel is wanted for the page.
void draw_table(Kit& kit, Bench& bench, TableState& state, bool page_scrolls, const Area& area);

/// As it stands, in a part of a card; nothing where it is too low.
void draw_saw(Kit& kit, const Bench& bench, const Area& place);

}  // namespace offsquare::gui
