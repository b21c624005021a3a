// The set-up: every value of the saw, by groups.
#pragma once

#include "gui/pages/area.h"

namespace offsquare::gui {

struct SetUpState {
    std::string group = "fence";  ///< which part of the set-up is shown
    FieldTexts fields;            ///< by key of the scenario's file
};

void draw_setup(Kit& kit, Bench& bench, SetUpState& state, const Area& area);

}  // namespace offsquare::gui
