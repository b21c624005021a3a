#include "session/slide.h"

#include <algorithm>

#include "contact/bowed_guides.h"

namespace offsquare::session {
namespace {

/// Nothing of the runners over the table: the sled does not go there.
bool open_at(const contact::BowedGuides& guides, double s_mm) {
    const auto offsets = guides.at(s_mm);
    return offsets && contact::LineRoom(*offsets, guides.left_play(), guides.right_play()).open();
}

}  // namespace

Slide::Slide(const shop::Drawing& d) : drawing_(d), start_mm_(measure::way_in(d).from_mm) {
    constexpr int steps = 8;
    // The pass of cut/set_up.h, but for a skewed fence and a rough board's lean, which it widens for.
    const double reach = 0.5 * shop::chord_mm(d.blade) + 25.0;
    const double from = -reach - 1.05 * std::max(d.board.width_mm, d.board.length_mm);
    const double to = std::max(from + 1.0, std::min(reach, d.sled.stop_y_mm));
    for (int i = 0; i <= steps; ++i) stops_mm_.push_back(from + (to - from) * i / steps);
}

bool Slide::goes(const shop::Truth& truth) const {
    const contact::BowedGuides guides(drawing_, truth, 1.0);
    return std::all_of(stops_mm_.begin(), stops_mm_.end(), [&](double s) { return open_at(guides, s); });
}

measure::Going Slide::how_it_goes(const shop::Truth& truth) const {
    if (goes(truth)) return measure::Going::goes;
    const bool goes_in = open_at(contact::BowedGuides(drawing_, truth, 1.0), start_mm_);
    return goes_in ? measure::Going::sticks : measure::Going::does_not_go_in;
}

bool sled_goes(const shop::Drawing& drawing, const shop::Truth& truth) { return Slide(drawing).goes(truth); }

std::optional<Room> room_of(const shop::Drawing& d, const shop::Truth& truth) {
    const contact::BowedGuides guides(d, truth, 1.0);
    const auto offsets = guides.at(-shop::runner_reach(d.sled).middle());
    if (!offsets) return std::nullopt;
    const contact::LineRoom room(*offsets, guides.left_play(), guides.right_play());
    if (!room.open()) return std::nullopt;
    return Room{room.at_front(), room.at_rear()};
}

}  // namespace offsquare::session
