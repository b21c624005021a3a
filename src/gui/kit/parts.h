// What the widgets share among themselves: a place that can be pressed, the ring, small signs. Panels use widgets.h.
#pragma once

#include "gui/kit/widgets.h"

namespace offsquare::gui::parts {

/// A place that can be pressed, and how it stands this frame.
struct Hot {
    bool pressed = false;
    bool hovered = false;
    bool held = false;
    bool focused = false;  ///< has the keyboard, and the keyboard is in use
    ImVec2 lo, hi;         ///< pixels of the screen
};

/// Takes `size` pixels at the cursor. Tab and arrows reach it; Space, Enter and the mouse press it. Never smaller than
/// 24 design pixels.
Hot hot(Kit& kit, const char* id, ImVec2 size, bool enabled);
/// The ring of a control that has the keyboard.
void ring(const Kit& kit, const Hot& hot, float rounding_px);
/// Adds the control to the record.
void note(Kit& kit, Kind kind, std::string_view label, const Hot& hot, bool enabled, bool selected = false,
          std::string_view value = {});
/// Adds words without behaviour to the record.
void note_text(Kit& kit, Kind kind, std::string_view label, ImVec2 lo, ImVec2 hi, std::string_view value = {});

/// The label without what follows "##".
std::string_view shown(std::string_view label);
/// Pixels left on this line.
float rest_of_line();
inline ImVec2 moved(ImVec2 p, float x, float y) { return {p.x + x, p.y + y}; }
float width_of(const Kit& kit, Face face, std::string_view text);
/// One line, its top left at `at`.
void draw(const Kit& kit, ImVec2 at, Face face, std::string_view text, ImU32 colour);
/// One line in the middle of the height lo.y..hi.y, placed sideways by `align` (0 left, 0.5 middle, 1 right) within
/// lo.x..hi.x. True when the words did not fit and were cut.
bool draw_in(const Kit& kit, ImVec2 lo, ImVec2 hi, Face face, std::string_view text, ImU32 colour, float align);
void tick(const Kit& kit, ImVec2 centre, float half_width_px, ImU32 colour, float thickness_px);
/// A sign for a tone: triangle with ! (wrong), tick (good), i in a ring (else). `side` pixels.
void sign(const Kit& kit, ImVec2 lo, float side, Role tone);

}  // namespace offsquare::gui::parts
