// The panels of "My saw", a file each.
#pragma once

#include "gui/pages/my_saw.h"

namespace offsquare::gui {

void draw_my_strip(Kit& kit, Bench& bench, MySawState& state, const Area& area);
void draw_my_now(Kit& kit, Bench& bench, MySawState& state, const Area& area);
void draw_my_besides(Kit& kit, Bench& bench, MySawState& state, const Area& area);
void draw_my_log(Kit& kit, Bench& bench, MySawState& state, const Area& area);
void draw_my_curve(Kit& kit, Bench& bench, MySawState& state, const Area& area);
/// True: a saw like this one is wanted.
bool draw_my_practice(Kit& kit, const MySawState& state, const Area& area);
void draw_my_sheets(Kit& kit, Bench& bench, MySawState& state);
void draw_my_log_sheets(Kit& kit, Bench& bench, MySawState& state);
/// The sheet, and the chooser of a file behind it.
void draw_my_print(Kit& kit, Bench& bench, MySawState& state);
void draw_my_check_sheet(Kit& kit, Bench& bench, MySawState& state);

/// The one strong button, by whatever it is pressed.
void my_next_step(Bench& bench, MySawState& state);
void open_sheet(MySawState& state, MySheet sheet);
/// Call it around the content of a sheet, in each frame: begin gives whether it is drawn.
bool my_sheet_begin(Kit& kit, MySawState& state, MySheet sheet, const char* title, float width = 560.0F);

/// Enter was pressed in the field that was drawn last.
bool entered();

/// Whether a hand may still be typing a number.
bool hand_at_rest(const MySawState& state);

}  // namespace offsquare::gui
