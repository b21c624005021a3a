// The set-up errors that a saw can have, by name: what each is, in what range, and how it shows. Common knowledge, open
// to every room: the sizes that one saw really has stand in truth.h, which the rooms that diagnose must not see.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>

namespace offsquare::shop {

/// In the order of the job: fence, runners and slots, blade, board, instruments.
enum class Fault {
    fence_skew,
    fence_bow,
    fence_lean,
    dust,
    clamp_creep,
    left_play,
    right_play,
    pitch_error,
    slot_splay,
    slot_wander,
    runner_bend,
    blade_toe,
    blade_tilt,
    blade_runout,
    edge_bow,
    caliper_zero,
    caliper_step,
};
inline constexpr std::size_t fault_count = 17;

enum class FaultUnit { mm, rad };

/// Whether the fault turns the corner of a cut, seen from above: always, never, or depending on the board, the push or
/// chance.
enum class Turns { yes, no, varies };

struct FaultInfo {
    Fault fault;
    std::string_view key;  ///< in files, options and output
    FaultUnit unit;
    double min;  ///< of the model and of what may be typed [mm or rad]
    double max;
    double teachable;  ///< the smallest size that a learner should be able to find [mm or rad], > 0; invented, near the
                       ///< limits of shared tables
    Turns turns_corner;
    std::string_view wrong;   ///< what is wrong, and which way is positive
    std::string_view shows;   ///< how it shows
    std::string_view repair;  ///< what puts it right
    std::string_view stops;   ///< where the model stops
};

/// The whole table, in the order of the enum.
const std::array<FaultInfo, fault_count>& faults();
const FaultInfo& info(Fault fault);
std::optional<Fault> fault_of(std::string_view key);

}  // namespace offsquare::shop
