#include "measure/cutting.h"

#include <algorithm>

namespace offsquare::measure {
namespace {

using shop::Drawing;

/// A saw of which the board is half as large.
Drawing with_short_board(const Drawing& drawing) {
    Drawing half = drawing;
    half.board.width_mm *= 0.5;
    half.board.length_mm *= 0.5;
    return half;
}

}  // namespace

Drawing with_panel(const Drawing& drawing) {
    Drawing panel = drawing;
    panel.board.width_mm = std::max(1.5 * drawing.board.length_mm, 0.9 * drawing.fence.length_mm);
    return panel;
}

std::optional<Cutting> cutting_of(Check check, const Drawing& d) {
    switch (info(check).strips) {
        case Strips::none: break;
        case Strips::one: return Cutting{{d}, false};
        case Strips::one_brushed: return Cutting{{d}, true};
        case Strips::three: return Cutting{{d, d, d}, false};
        case Strips::short_and_long: return Cutting{{with_short_board(d), d}, false};
    }
    return std::nullopt;
}

}  // namespace offsquare::measure
