// The parts of the first screen, from top to bottom. Each returns where it ends [design pixels].
#pragma once

#include "gui/pages/start.h"

namespace offsquare::gui {

/// How the first screen is laid out in a window of some width.
struct StartSheet {
    float left = 40.0F;  ///< of everything
    float width = 1200.0F;
    bool two = true;  ///< lists have two columns
    float between = 16.0F;
    float column = 592.0F;
    float x_of(std::size_t i) const { return left + (two && i % 2 == 1 ? column + between : 0.0F); }
    std::size_t row_of(std::size_t i) const { return two ? i / 2 : i; }
};
StartSheet sheet_of(float window_width);

float draw_doors(Kit& kit, base::Units units, const StartSheet& sheet, float y, StartWish& wish);
float draw_lines(Kit& kit, StartState& state, const std::vector<GoOnLine>& lines, const StartSheet& sheet, float y,
                 StartWish& wish);
float draw_cases(Kit& kit, base::Units units, StartState& state, const StartSheet& sheet, float y, float page_height,
                 StartWish& wish);

/// Which cases are shown where there is room for `room`: in their order; where some must go, it
/// is proved ones, but for the last two.
std::vector<const lesson::Case*> cases_shown(const lesson::Results& results, std::size_t room);

}  // namespace offsquare::gui
