// Field by field, written out by hand and not through the room's own list: a field that the list forgot is found here.
#pragma once

#include <string>

#include "scenario/scenario.h"
#include "shop/truth.h"

namespace offsquare::testing {

inline bool same(const base::Profile& a, const base::Profile& b) { return a.points() == b.points(); }

inline bool same(const shop::Shim& a, const shop::Shim& b) {
    return a.name == b.name && a.thickness_mm == b.thickness_mm && a.u_mm == b.u_mm && a.count == b.count;
}

inline bool same_saw(const shop::Drawing& a, const shop::Drawing& b) {
    return a.table.width_mm == b.table.width_mm && a.table.depth_mm == b.table.depth_mm &&
           a.blade.diameter_mm == b.blade.diameter_mm && a.blade.height_mm == b.blade.height_mm &&
           a.blade.full_height_mm == b.blade.full_height_mm && a.blade.kerf_mm == b.blade.kerf_mm &&
           a.slots.left_x_mm == b.slots.left_x_mm && a.slots.right_x_mm == b.slots.right_x_mm &&
           a.slots.width_mm == b.slots.width_mm;
}

inline bool same_sled(const shop::Drawing& a, const shop::Drawing& b) {
    return a.sled.width_mm == b.sled.width_mm && a.sled.depth_mm == b.sled.depth_mm &&
           a.sled.fence_from_rear_mm == b.sled.fence_from_rear_mm &&
           a.sled.runner_length_mm == b.sled.runner_length_mm && a.sled.stop_y_mm == b.sled.stop_y_mm &&
           a.sled.hand == b.sled.hand && a.sled.exit_cover_mm == b.sled.exit_cover_mm && a.feed.at_mm == b.feed.at_mm &&
           a.feed.force_n == b.feed.force_n && a.feed.friction == b.feed.friction &&
           a.feed.base_drag_n == b.feed.base_drag_n && a.feed.blade_drag_n == b.feed.blade_drag_n &&
           a.fence.length_mm == b.fence.length_mm && a.fence.thickness_mm == b.fence.thickness_mm &&
           a.fence.height_mm == b.fence.height_mm && a.fence.shim_left_x_mm == b.fence.shim_left_x_mm &&
           a.fence.shim_right_x_mm == b.fence.shim_right_x_mm;
}

inline bool same_board_and_tools(const shop::Drawing& a, const shop::Drawing& b) {
    return a.board.width_mm == b.board.width_mm && a.board.length_mm == b.board.length_mm &&
           a.board.thickness_mm == b.board.thickness_mm && a.board.trim_mm == b.board.trim_mm &&
           a.board.strip_mm == b.board.strip_mm && a.board.first_edge_rad == b.board.first_edge_rad &&
           a.board.kept == b.board.kept && a.board.rough_mm == b.board.rough_mm &&
           a.board.marks_mm == b.board.marks_mm && a.board.parallel_mm == b.board.parallel_mm &&
           a.caliper.name == b.caliper.name && a.caliper.step_mm == b.caliper.step_mm &&
           a.caliper.limit_mm == b.caliper.limit_mm && a.caliper.repeat_mm == b.caliper.repeat_mm &&
           a.caliper.repeat_readings == b.caliper.repeat_readings && a.caliper.cancels == b.caliper.cancels &&
           a.tape.step_mm == b.tape.step_mm && a.tape.limit_mm == b.tape.limit_mm &&
           a.straightedge.length_mm == b.straightedge.length_mm && a.feelers.step_mm == b.feelers.step_mm &&
           a.block.length_mm == b.block.length_mm && a.block.play_mm == b.block.play_mm &&
           a.straightedge.limit_mm == b.straightedge.limit_mm && a.tolerance_rad == b.tolerance_rad;
}

inline bool same_drawer(const shop::Drawing& a, const shop::Drawing& b) {
    if (a.drawer.size() != b.drawer.size()) return false;
    for (std::size_t i = 0; i < a.drawer.size(); ++i) {
        if (!same(a.drawer[i], b.drawer[i])) return false;
    }
    return true;
}

inline bool same(const shop::Truth& a, const shop::Truth& b) {
    return a.fence_skew_rad == b.fence_skew_rad && a.fence_bow_mm == b.fence_bow_mm &&
           a.left_play_mm == b.left_play_mm && a.right_play_mm == b.right_play_mm &&
           a.pitch_error_mm == b.pitch_error_mm && a.slot_splay_rad == b.slot_splay_rad &&
           a.runner_bend_mm == b.runner_bend_mm && a.blade_toe_rad == b.blade_toe_rad &&
           a.edge_bow_mm == b.edge_bow_mm && a.caliper_zero_mm == b.caliper_zero_mm &&
           a.fence_lean_rad == b.fence_lean_rad && a.dust_mm == b.dust_mm && a.clamp_creep_rad == b.clamp_creep_rad &&
           a.slot_wander_mm == b.slot_wander_mm && a.blade_tilt_rad == b.blade_tilt_rad &&
           a.blade_runout_mm == b.blade_runout_mm && a.caliper_step_mm == b.caliper_step_mm &&
           same(a.left_runner_profile, b.left_runner_profile) && same(a.right_runner_profile, b.right_runner_profile) &&
           same(a.edge_profile, b.edge_profile) && same(a.fence_profile, b.fence_profile) &&
           same(a.left_slot_profile, b.left_slot_profile) && same(a.right_slot_profile, b.right_slot_profile);
}

/// Every field equal to the last bit (but for the sign of zero).
inline bool same(const scenario::Scenario& a, const scenario::Scenario& b) {
    return a.title == b.title && a.story == b.story && a.units == b.units && a.seed == b.seed &&
           same_saw(a.drawing, b.drawing) && same_sled(a.drawing, b.drawing) &&
           same_board_and_tools(a.drawing, b.drawing) && same_drawer(a.drawing, b.drawing) && same(*a.truth, *b.truth);
}

/// The text with `from` replaced by `to`, which must be there once.
inline std::string replaced(std::string text, std::string_view from, std::string_view to) {
    const std::size_t at = text.find(from);
    if (at == std::string::npos || text.find(from, at + 1) != std::string::npos)
        return "the test is wrong: not exactly one " + std::string(from);
    return text.replace(at, from.size(), to);
}

inline bool has(std::string_view text, std::string_view part) { return text.find(part) != std::string_view::npos; }

}  // namespace offsquare::testing
