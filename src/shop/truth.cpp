#include "shop/truth.h"

namespace offsquare::shop {
namespace {

/// The member that holds each fault; null for what is no fault.
constexpr double Truth::*member_of(Fault fault) {
    switch (fault) {
        case Fault::fence_skew: return &Truth::fence_skew_rad;
        case Fault::fence_bow: return &Truth::fence_bow_mm;
        case Fault::fence_lean: return &Truth::fence_lean_rad;
        case Fault::dust: return &Truth::dust_mm;
        case Fault::clamp_creep: return &Truth::clamp_creep_rad;
        case Fault::left_play: return &Truth::left_play_mm;
        case Fault::right_play: return &Truth::right_play_mm;
        case Fault::pitch_error: return &Truth::pitch_error_mm;
        case Fault::slot_splay: return &Truth::slot_splay_rad;
        case Fault::slot_wander: return &Truth::slot_wander_mm;
        case Fault::runner_bend: return &Truth::runner_bend_mm;
        case Fault::blade_toe: return &Truth::blade_toe_rad;
        case Fault::blade_tilt: return &Truth::blade_tilt_rad;
        case Fault::blade_runout: return &Truth::blade_runout_mm;
        case Fault::edge_bow: return &Truth::edge_bow_mm;
        case Fault::caliper_zero: return &Truth::caliper_zero_mm;
        case Fault::caliper_step: return &Truth::caliper_step_mm;
        case Fault::board_creep: return &Truth::board_creep_rad;
        case Fault::arbor_runout: return &Truth::arbor_runout_mm;
        case Fault::stop_slip: return &Truth::stop_slip_mm;
    }
    return nullptr;
}
static_assert(member_of(static_cast<Fault>(fault_count)) == nullptr, "fault_count (shop/fault.h) counts too few");

/// In the order of the enum: the diagnosis asks for each size of thousands of saws.
constexpr std::array<double Truth::*, fault_count> members = [] {
    std::array<double Truth::*, fault_count> all{};
    for (std::size_t i = 0; i < fault_count; ++i) all[i] = member_of(static_cast<Fault>(i));
    return all;
}();

}  // namespace

double& size_of(Truth& truth, Fault fault) { return truth.*members[static_cast<std::size_t>(fault)]; }
double size_of(const Truth& truth, Fault fault) { return truth.*members[static_cast<std::size_t>(fault)]; }

}  // namespace offsquare::shop
