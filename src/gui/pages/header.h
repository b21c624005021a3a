// The top of the page: the title, the steps of the job or the pages of the notebook, and where else one can go.
#pragma once

#include "gui/pages/area.h"
#include "gui/state/hunt.h"

namespace offsquare::gui {

/// A button of the header that leads elsewhere.
enum class Elsewhere { nowhere, start, push, notebook, open_file, save_file };

/// The mark at the top left of every page, which leads back to the first screen. True when it was pressed.
bool draw_mark(Kit& kit, const Area& area);

Elsewhere draw_header(Kit& kit, Bench& bench, Hunt& hunt, bool pushing, const Area& area);

}  // namespace offsquare::gui
