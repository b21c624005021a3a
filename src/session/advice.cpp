#include "session/advice.h"

#include <cmath>

namespace offsquare::session {
namespace {

void add_pieces(std::vector<Action>& actions, shim::At at, const std::vector<shim::PickedShim>& pieces) {
    for (const shim::PickedShim& piece : pieces) actions.emplace_back(PutShim{at, piece.drawer_row});
}

/// Whether the piece to be taken out is the one that was put in last; another cannot be reached without a detour.
bool within_reach(const std::vector<shim::PickedShim>& take, const std::vector<shim::PickedShim>& behind) {
    if (take.empty()) return true;
    return take.size() == 1 && !behind.empty() && behind.back().drawer_row == take[0].drawer_row &&
           behind.back().thickness_mm == take[0].thickness_mm;
}

}  // namespace

bool uses_both_ends(const Test& test) {
    if (!test.proposal) return false;
    const shim::Proposal& p = *test.proposal;
    if (!p.other_way) return false;
    const bool one_end_is_poor =
        p.best.pieces.empty() || std::abs(p.best.remainder_rad.value) > 0.5 * test.drawing.tolerance_rad;
    return one_end_is_poor && within_reach(p.other_way->take_left, test.behind_left) &&
           within_reach(p.other_way->take_right, test.behind_right);
}

std::vector<Action> proposed_actions(const Test& test) {
    if (!test.proposal) return {};
    const shim::Proposal& p = *test.proposal;
    std::vector<Action> actions;
    if (!uses_both_ends(test)) {
        add_pieces(actions, p.best.at, p.best.pieces);
        return actions;
    }
    if (!p.other_way->take_left.empty()) actions.emplace_back(TakeShim{shim::At::left});
    if (!p.other_way->take_right.empty()) actions.emplace_back(TakeShim{shim::At::right});
    add_pieces(actions, shim::At::left, p.other_way->add_left);
    add_pieces(actions, shim::At::right, p.other_way->add_right);
    return actions;
}

}  // namespace offsquare::session
