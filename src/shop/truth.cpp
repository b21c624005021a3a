#include "shop/truth.h"

namespace offsquare::shop {
namespace {

/// The member that holds each fault, in the order of the enum.
constexpr std::array<double Truth::*, fault_count> members{
    &Truth::fence_skew_rad,  &Truth::fence_bow_mm,    &Truth::fence_lean_rad, &Truth::dust_mm,
    &Truth::clamp_creep_rad, &Truth::left_play_mm,    &Truth::right_play_mm,  &Truth::pitch_error_mm,
    &Truth::slot_splay_rad,  &Truth::slot_wander_mm,  &Truth::runner_bend_mm, &Truth::blade_toe_rad,
    &Truth::blade_tilt_rad,  &Truth::blade_runout_mm, &Truth::edge_bow_mm,    &Truth::caliper_zero_mm,
    &Truth::caliper_step_mm,
};

}  // namespace

double& size_of(Truth& truth, Fault fault) { return truth.*members[static_cast<std::size_t>(fault)]; }
double size_of(const Truth& truth, Fault fault) { return truth.*members[static_cast<std::size_t>(fault)]; }

}  // namespace offsquare::shop
