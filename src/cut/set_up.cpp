#include "cut/set_up.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "contact/runners.h"

namespace offsquare::cut {

using shop::Drawing;

double lean_mm(const shop::Board& board) {
    return board.first_edge_rad == 0.0 ? 0.0 : board.length_mm * base::tan_of(board.first_edge_rad);
}

double beside_mm(const Drawing& d, int cut) {
    return 0.5 * d.blade.kerf_mm + (cut == 5 ? d.board.strip_mm : d.board.trim_mm);
}

std::optional<Pass> pass_of(const Drawing& d, const contact::FenceFace& face, bool turned) {
    const double reach = 0.5 * shop::chord_mm(d.blade);
    const double margin = 25.0 + std::abs(face.slope) * d.fence.length_mm;
    const double side = turned ? std::max(d.board.width_mm, d.board.length_mm) : d.board.length_mm;
    const double lean = std::abs(lean_mm(d.board));
    const contact::Guided guided = contact::guided_travel(d);
    if (guided.from_mm > -(reach + side + lean) || guided.to_mm < std::min(reach, d.sled.stop_y_mm))
        return std::nullopt;
    const double from = std::max(guided.from_mm, -(reach + 1.05 * side + lean + margin));
    return Pass{from, std::max(from + 1.0, std::min({reach + margin, guided.to_mm, d.sled.stop_y_mm}))};
}

}  // namespace offsquare::cut
