// Where a tooltip stands: as near to what it speaks of as it can without covering a control.
#pragma once

#include <imgui.h>

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "gui/kit/record.h"

namespace offsquare::gui {

struct Box {
    ImVec2 lo, hi;  ///< pixels of the screen
};

/// Words that wait for the end of the frame, when everything else stands in the record.
struct Tip {
    std::string words;
    Box of;  ///< the control that they speak of
};

/// The upper left corner of a box of this size, on the screen and `gap` away from `of` and from each of `others`, as
/// near to `of` as there is room: below it, else above, else beside. Where there is no such room, where it covers
/// least.
ImVec2 free_place(ImVec2 size, const Box& of, std::span<const Box> others, ImVec2 screen, float gap);

/// Buttons and the like that can be seen and pressed: those of the sheet, where one stands above the page.
std::vector<Box> controls_of(const Record& record);

}  // namespace offsquare::gui
