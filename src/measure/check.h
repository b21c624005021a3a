// The checks that a maker has, by name: with what, how long, how, and which numbers come of it. No truth here: those
// who diagnose read this table too. What a check reads on one saw is worked out in measure/run_check.h.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/left_out.h"
#include "shop/drawing.h"
#include "shop/fault.h"

namespace offsquare::measure {

/// In the order in which a maker would think of them: the cut, the fence, the sled on its slots, the blade, the
/// instruments.
enum class Check {
    five_cut,
    same_again,
    brushed,
    long_and_short,
    flip,
    square_on_cut,
    cut_face,
    kerf_width,
    fence_straightedge,
    fence_square,
    clamp_watch,
    edge_straightedge,
    wiggle,
    runner_fit,
    runner_spacing,
    runner_straightedge,
    slot_widths,
    slot_ride,
    tooth_indicator,
    rim_indicator,
    blade_square,
    jaws,
    gauge_in_jaws,
    push_through,
    board_end,
    stop_pieces,
    second_caliper,
    half_turn,
    diagonals,
};
inline constexpr std::size_t check_count = 29;

/// One number of a check.
struct ReadingInfo {
    std::string_view what;  ///< its key in files and output, "fence_end"
    shop::FaultUnit unit;
    std::string_view meaning;  ///< a plain phrase, with what a positive number says
};

/// An instrument other than the scenario's caliper and tape. Its error is taken as normal: `limit` is two standard
/// deviations (JCGM 100:2008, 4.3.5), the same each time that the same place is read; `repeat` is new each time.
struct Gauge {
    std::string_view name;
    double step_mm = 0.0;
    double limit_mm = 0.0;
    double repeat_mm = 0.0;
    std::string_view source;  ///< of the limits
    double own_mm = 0.0;  ///< the bow of the straightedge that it is used with: one standard deviation of what it does
                          ///< to the reading, above 0 where a bellied one adds. One bow for all that is read with it
    bool between_leaves = false;  ///< what is read is the middle between a leaf that goes in and the next, `step` apart
    double times = 1.0;           ///< what is read is multiplied by this, errors and all
};

/// The strips of five-cut tests that a check reads; none: it does something else. Short: with a board half as large.
enum class Strips { none, one, one_brushed, three, short_and_long };

/// Where a check brings the hands, and so what its steps must say first. A row whose steps do not say it does not
/// compile.
enum class AtSaw {
    away,           ///< at a bench
    unplugged,      ///< at blade, table, sled or fence: the saw is unplugged before anything else
    cuts,           ///< the saw runs: hold still, switch off, wait until the blade has stopped; only then touch or read
    cuts_and_reads  ///< the same, then unplugged: something is read at the blade, and only then moved
};

/// A row. One that leaves a part out does not compile.
struct CheckInfo {
    Check check = base::LeftOut<"check">{};
    std::string_view name = base::LeftOut<"name">{};    ///< as typed: "five-cut"
    std::string_view title = base::LeftOut<"title">{};  ///< as read: "Five-cut test"
    std::string_view instrument = base::LeftOut<"instrument">{};
    double minutes = base::LeftOut<"minutes">{};        ///< of a practised person; invented
    double stock_mm = base::LeftOut<"stock_mm">{};      ///< length of board used up; invented
    std::string_view finds = base::LeftOut<"finds">{};  ///< what it is for, one sentence
    AtSaw at_saw = base::LeftOut<"at_saw">{};
    bool sled_must_go = base::LeftOut<"sled_must_go">{};  ///< as needs_the_sled_to_go
    std::span<const std::string_view> steps = base::LeftOut<"steps">{};
    std::span<const ReadingInfo> readings = base::LeftOut<"readings">{};
    Strips strips = base::LeftOut<"strips">{};
    std::size_t observables = base::LeftOut<"observables">{};  ///< how many numbers of it count
                                                               ///< (diagnose/observe.h); 0: it says
                                                               ///< which saws there can be at all
    bool errs_the_same = base::LeftOut<"errs_the_same">{};     ///< whether the instrument's error is
                                                               ///< the same when it is made again;
                                                               ///< where readings count only as a
                                                               ///< difference, it is not
    bool sizes_stay = base::LeftOut<"sizes_stay">{};           ///< as same_sizes_by_caliper
};

const std::array<CheckInfo, check_count>& checks();
const CheckInfo& info(Check check);
std::optional<Check> check_of(std::string_view name);

/// Whether the sled must go through its slots for it. All others can be made with the sled beside the saw, or out of
/// its slots.
bool needs_the_sled_to_go(Check check);

// The instruments of the checks; the caliper and the tape are the scenario's own.
extern const Gauge feeler;     ///< feeler gauges, between a straightedge or a
                               ///< square and what it stands on
extern const Gauge indicator;  ///< dial indicator
extern const Gauge bar;        ///< an inside bar between two walls, set to a caliper
extern const Gauge eye;        ///< looking

/// Limits of an engineer's square of grade 2 over a blade this long [mm]: 20 + L/10 um (DIN 875-1, from memory).
double square_limit_mm(double blade_mm);

inline constexpr double square_on_cut_mm = 150.0;         ///< over how much of a cut the square is looked at
double square_on_fence_mm(const shop::Drawing& drawing);  ///< over how much of the fence's height: at most 75 mm
double square_on_blade_mm(
    const shop::Drawing& drawing);  ///< over how much of the blade's height: clear of the teeth, 10 mm at least

/// Checks that read sizes which stay as they are with the scenario's caliper: where it sticks, its steps spoil them in
/// the same way each time that they are made. (A test cut gives a fresh strip.)
bool same_sizes_by_caliper(Check check);

/// What one run of a check gave.
struct CheckReading {
    std::string what;
    shop::FaultUnit unit = shop::FaultUnit::mm;
    double value = 0.0;  ///< [mm] or [rad]
    double u = 0.0;      ///< standard uncertainty, same unit, > 0 unless read exactly
};
/// A check and how the saw stood when it was made.
struct Occasion {
    Check check = Check::five_cut;
    double behind_left_mm = 0.0;  ///< shims behind the ends of the fence, as marked
    double behind_right_mm = 0.0;
    int clamped_again = 0;  ///< how often the fence was loosened and clamped since the first reading
    friend auto operator<=>(const Occasion&, const Occasion&) = default;
};
/// Whether of the boards cut so far, with the saw as it stands `now`, one still has a cut corner to which no square was
/// held: then a square on a cut needs no new cut. `made` in the order in which the checks were made.
bool corner_is_free(std::span<const Occasion> made, Occasion now);

struct CheckReport {
    Occasion occasion;
    std::vector<CheckReading> readings;  ///< in the order of info(check).readings
};

}  // namespace offsquare::measure
