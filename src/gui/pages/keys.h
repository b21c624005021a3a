// What each key does.
#pragma once

#include "gui/pages/page.h"

namespace offsquare::gui {

void handle_keys(Bench& bench, PageState& state);

}  // namespace offsquare::gui
