// The set-up errors that a saw can have, one row each: what it is called, in what range it lies, how it shows, what
// puts it right, and how often and how large it is on usual saws. Common knowledge, open to every room: the sizes that
// one saw really has stand in truth.h, which the rooms that diagnose must not see.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <initializer_list>
#include <string_view>

#include "base/left_out.h"

namespace offsquare::shop {

/// In the order of the job: fence, runners and slots, blade, board, instruments; then those that came later, since the
/// number is part of every draw of chance.
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
    board_creep,
    arbor_runout,
    stop_slip,
};
inline constexpr std::size_t fault_count = 20;

/// What a fault is a fault of.
enum class Group { fence, guides, blade, board, instruments };
std::string_view name_of(Group group);  ///< "runners and slots"

/// For whoever looks for a fault and does not find it.
inline constexpr std::string_view not_modelled =
    "Not modelled, since a view from above does not show it: a sled that rocks on the table, a table insert that "
    "stands proud, a dull blade, a twisted board. Rule these out first: they can look like many of the others.";

enum class FaultUnit { mm, rad };

/// Whether the fault turns the corner of a cut, seen from above: always, never on straight guides, or depending on the
/// board, the push or chance.
enum class Turns { yes, no, varies };

/// Some sizes that a fault usually has together: normal, about a mean.
struct Lobe {
    friend bool operator==(const Lobe&, const Lobe&) = default;
    bool present = false;  ///< larger than on any good saw
    double weight = 0.0;   ///< probability of the lobe, before anything is read
    double mean = 0.0;     ///< of the size [mm or rad]
    double sd = 0.0;       ///< > 0
};

/// All that a fault usually is. The first is absent, and may have others after it that are: not exactly zero, but as
/// small as it is on any good saw. Weights sum to 1. Invented: shops differ, and whoever diagnoses may be handed others
/// (diagnose/prior.h).
class UsualLobes {
public:
    static constexpr std::size_t most = 4;
    constexpr UsualLobes(std::initializer_list<Lobe> lobes) {
        for (const Lobe& lobe : lobes) all_[n_++] = lobe;
    }
    constexpr const Lobe* begin() const { return all_.data(); }
    constexpr const Lobe* end() const { return all_.data() + n_; }
    constexpr const Lobe& absent() const { return all_.front(); }  ///< the likeliest that is
    constexpr std::size_t size() const { return n_; }

private:
    std::array<Lobe, most> all_{};
    std::size_t n_ = 0;
};

/// What a repair leaves of a fault: normal [mm or rad], but never below the fault's own range. Nobody gets a saw to
/// nothing.
struct LeftOver {
    double mean = 0.0;
    double sd = 0.0;
};

/// A row. One that leaves a part out does not compile.
struct FaultInfo {
    Fault fault = base::LeftOut<"fault">{};
    std::string_view key = base::LeftOut<"key">{};    ///< in files, options and output
    std::string_view name = base::LeftOut<"name">{};  ///< as spoken: "fence off square"
    Group group = base::LeftOut<"group">{};
    FaultUnit unit = base::LeftOut<"unit">{};
    double min = base::LeftOut<"min">{};  ///< of the model and of what may be typed [mm or rad]
    double max = base::LeftOut<"max">{};
    double teachable = base::LeftOut<"teachable">{};  ///< the smallest size that a learner should be able to find [mm
                                                      ///< or rad], > 0; invented, near the limits of shared tables
    Turns turns_corner = base::LeftOut<"turns_corner">{};
    std::string_view wrong = base::LeftOut<"wrong">{};          ///< what is wrong, and which way is positive
    std::string_view shows = base::LeftOut<"shows">{};          ///< how it shows
    std::string_view repair = base::LeftOut<"repair">{};        ///< what puts it right
    bool repaired_at_saw = base::LeftOut<"repaired_at_saw">{};  ///< then the repair begins by unplugging it
    std::string_view stops = base::LeftOut<"stops">{};          ///< where the model stops
    double repair_minutes = base::LeftOut<"repair_minutes">{};  ///< of a practised person, > 0; invented
    LeftOver repair_leaves = base::LeftOut<"repair_leaves">{};  ///< invented; its sd > 0
    std::string_view in_file = base::LeftOut<"in_file">{};  ///< what it is, for who writes a scenario: a plain phrase
    std::string_view example = base::LeftOut<"example">{};  ///< a size as typed there
    UsualLobes lobes = base::LeftOut<"lobes">{};
};

/// The whole table, in the order of the enum.
const std::array<FaultInfo, fault_count>& faults();
const FaultInfo& info(Fault fault);
std::optional<Fault> fault_of(std::string_view key);

}  // namespace offsquare::shop
