#include "measure/check.h"

#include <algorithm>

#include "measure/check_steps.h"

namespace offsquare::measure {
namespace {

using namespace steps;

constexpr bool says(std::span<const std::string_view> steps, std::string_view words) {
    return std::any_of(steps.begin(), steps.end(), [&](std::string_view s) { return s.find(words) != s.npos; });
}

/// Whether the steps say what they must where hands come near the blade, before anything that could need it.
constexpr bool says_what_is_safe(AtSaw at_saw, std::span<const std::string_view> steps) {
    switch (at_saw) {
        case AtSaw::away: return true;
        case AtSaw::unplugged: return steps.front().starts_with("Unplug the saw");
        case AtSaw::cuts: return says(steps.first(2), "old still, switch off and wait until the blade has stopped");
        case AtSaw::cuts_and_reads: break;
    }
    return says(steps.first(2), "switch off and wait until the blade has stopped. Unplug the saw");
}

/// What is thrown is what the compiler says.
consteval CheckInfo row(CheckInfo c) {
    if (c.name.empty() || c.title.empty() || c.instrument.empty()) throw "a word is empty";
    if (c.finds.size() < 10 || c.finds.back() != '.') throw "what it finds is a whole sentence";
    if (c.steps.empty() || c.readings.empty()) throw "a check has steps and readings";
    if (!says_what_is_safe(c.at_saw, c.steps)) throw "the steps do not say how the blade comes to rest";
    if (!(c.minutes > 0.0 && c.stock_mm >= 0.0)) throw "a check takes time";
    if (c.observables > c.readings.size()) throw "observables come of readings";
    return c;
}

constexpr std::array<CheckInfo, check_count> table{
    row({.check = Check::five_cut,
         .name = "five-cut",
         .title = "Five-cut test",
         .instrument = "caliper, tape",
         .minutes = 12,
         .stock_mm = 60,
         .finds = "Adds the corner error up four times, so that a caliper can see it.",
         .at_saw = AtSaw::cuts,
         .sled_must_go = true,
         .steps = five_cut_steps,
         .readings = five_cut_readings,
         .strips = Strips::one,
         .observables = 1,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::same_again,
         .name = "same-again",
         .title = "The same test three times",
         .instrument = "caliper, tape",
         .minutes = 36,
         .stock_mm = 180,
         .finds = "Shows what changes from test to test although nothing was touched: sawdust, play, a wandering hand.",
         .at_saw = AtSaw::cuts,
         .sled_must_go = true,
         .steps = same_again_steps,
         .readings = same_again_readings,
         .strips = Strips::three,
         .observables = 3,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::brushed,
         .name = "brushed",
         .title = "Five-cut test, fence brushed before each cut",
         .instrument = "brush, caliper, tape",
         .minutes = 14,
         .stock_mm = 60,
         .finds = "The five-cut test without sawdust: what is left has another cause.",
         .at_saw = AtSaw::cuts,
         .sled_must_go = true,
         .steps = brushed_steps,
         .readings = brushed_readings,
         .strips = Strips::one_brushed,
         .observables = 1,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::long_and_short,
         .name = "long-and-short",
         .title = "A long board and a short board",
         .instrument = "caliper, tape",
         .minutes = 24,
         .stock_mm = 100,
         .finds = "A straight fence gives both the same corner; a bowed one does not.",
         .at_saw = AtSaw::cuts,
         .sled_must_go = true,
         .steps = long_and_short_steps,
         .readings = long_and_short_readings,
         .strips = Strips::short_and_long,
         .observables = 2,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::flip,
         .name = "flip",
         .title = "Flip test",
         .instrument = "straightedge, feeler gauges",
         .minutes = 5,
         .stock_mm = 40,
         .finds =
             "Two pieces of one cut, one turned over and butted: every error shows double, and so does how two short "
             "edges seat, how parallel they are, and what saw marks hold apart.",
         .at_saw = AtSaw::cuts,
         .sled_must_go = true,
         .steps = flip_steps,
         .readings = flip_readings,
         .strips = Strips::none,
         .observables = 2,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::square_on_cut,
         .name = "square-on-cut",
         .title = "Square on a cut",
         .instrument = "engineer's square, feeler gauges",
         .minutes = 3,
         .stock_mm = 40,
         .finds = "Quick, but the square's own error is as large as the fence's.",
         .at_saw = AtSaw::cuts,
         .sled_must_go = true,
         .steps = square_on_cut_steps,
         .readings = square_on_cut_readings,
         .strips = Strips::none,
         .observables = 2,
         .errs_the_same = true,
         .sizes_stay = false}),
    row({.check = Check::cut_face,
         .name = "cut-face",
         .title = "Look at the cut faces",
         .instrument = "eye",
         .minutes = 1,
         .stock_mm = 0,
         .finds =
             "One face rougher than the other, its arcs the other way: the rear teeth have cut it again, as they do on "
             "a blade that is not parallel.",
         .at_saw = AtSaw::away,
         .sled_must_go = true,
         .steps = cut_face_steps,
         .readings = cut_face_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::kerf_width,
         .name = "kerf-width",
         .title = "Kerf against the teeth",
         .instrument = "caliper",
         .minutes = 4,
         .stock_mm = 20,
         .finds = "A kerf wider than the teeth: toe or run-out.",
         .at_saw = AtSaw::cuts_and_reads,
         .sled_must_go = true,
         .steps = kerf_width_steps,
         .readings = kerf_width_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = false,
         .sizes_stay = true}),
    row({.check = Check::fence_straightedge,
         .name = "straightedge-on-fence",
         .title = "Straightedge on the fence",
         .instrument = "straightedge, feeler gauges",
         .minutes = 3,
         .stock_mm = 0,
         .finds = "Shows a bowed fence face directly.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = false,
         .steps = fence_straightedge_steps,
         .readings = fence_straightedge_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = true,
         .sizes_stay = false}),
    row({.check = Check::fence_square,
         .name = "square-on-fence",
         .title = "Square on fence and base",
         .instrument = "engineer's square, feeler gauges",
         .minutes = 2,
         .stock_mm = 0,
         .finds = "Shows whether the face is upright.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = false,
         .steps = fence_square_steps,
         .readings = fence_square_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = true,
         .sizes_stay = false}),
    row({.check = Check::clamp_watch,
         .name = "clamp-watch",
         .title = "Watch the fence while it is clamped",
         .instrument = "dial indicator",
         .minutes = 6,
         .stock_mm = 0,
         .finds = "Shows a fence that moves after it was set.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = false,
         .steps = clamp_watch_steps,
         .readings = clamp_watch_readings,
         .strips = Strips::none,
         .observables = 4,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::edge_straightedge,
         .name = "straightedge-on-edge",
         .title = "Straightedge on the board's edge",
         .instrument = "straightedge, feeler gauges",
         .minutes = 2,
         .stock_mm = 0,
         .finds = "Shows a board edge that is not straight.",
         .at_saw = AtSaw::away,
         .sled_must_go = false,
         .steps = edge_straightedge_steps,
         .readings = edge_straightedge_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = true,
         .sizes_stay = false}),
    row({.check = Check::wiggle,
         .name = "wiggle",
         .title = "Indicator on the sled: side play",
         .instrument = "dial indicator",
         .minutes = 5,
         .stock_mm = 0,
         .finds = "How far the sled can move sideways at its front and at its rear.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = true,
         .steps = wiggle_steps,
         .readings = wiggle_readings,
         .strips = Strips::none,
         .observables = 2,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::runner_fit,
         .name = "runner-fit",
         .title = "Runners and slots with the caliper",
         .instrument = "caliper",
         .minutes = 6,
         .stock_mm = 0,
         .finds = "The play of each runner in its slot.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = false,
         .steps = runner_fit_steps,
         .readings = runner_fit_readings,
         .strips = Strips::none,
         .observables = 2,
         .errs_the_same = false,
         .sizes_stay = true}),
    row({.check = Check::runner_spacing,
         .name = "runner-spacing",
         .title = "Spacing of runners and slots",
         .instrument = "inside bar, caliper",
         .minutes = 6,
         .stock_mm = 0,
         .finds = "Whether the runners stand as far apart as the slots.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = false,
         .steps = runner_spacing_steps,
         .readings = runner_spacing_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::runner_straightedge,
         .name = "straightedge-on-runner",
         .title = "Straightedge on the runner",
         .instrument = "straightedge, feeler gauges",
         .minutes = 3,
         .stock_mm = 0,
         .finds = "Shows a bent runner.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = false,
         .steps = runner_straightedge_steps,
         .readings = runner_straightedge_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = true,
         .sizes_stay = false}),
    row({.check = Check::slot_widths,
         .name = "slot-widths",
         .title = "Between the slots, front and rear",
         .instrument = "inside bar",
         .minutes = 4,
         .stock_mm = 0,
         .finds = "Shows slots that are not parallel.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = false,
         .steps = slot_widths_steps,
         .readings = slot_widths_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::slot_ride,
         .name = "slot-ride",
         .title = "Indicator along the slot",
         .instrument = "dial indicator, long straightedge",
         .minutes = 8,
         .stock_mm = 0,
         .finds = "Shows a slot that is not straight.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = false,
         .steps = slot_ride_steps,
         .readings = slot_ride_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::tooth_indicator,
         .name = "tooth-indicator",
         .title = "Indicator on one tooth, front and rear",
         .instrument = "dial indicator",
         .minutes = 6,
         .stock_mm = 0,
         .finds = "Whether the blade stands parallel to the slot.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = false,
         .steps = tooth_indicator_steps,
         .readings = tooth_indicator_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::rim_indicator,
         .name = "rim-indicator",
         .title = "Indicator near the rim",
         .instrument = "dial indicator",
         .minutes = 4,
         .stock_mm = 0,
         .finds = "Whether the blade wobbles.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = false,
         .steps = rim_indicator_steps,
         .readings = rim_indicator_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::blade_square,
         .name = "square-on-blade",
         .title = "Square on blade and table",
         .instrument = "engineer's square, feeler gauges",
         .minutes = 3,
         .stock_mm = 0,
         .finds = "Whether the blade stands upright.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = false,
         .steps = blade_square_steps,
         .readings = blade_square_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = true,
         .sizes_stay = false}),
    row({.check = Check::jaws,
         .name = "jaws",
         .title = "Close the caliper",
         .instrument = "caliper",
         .minutes = 1,
         .stock_mm = 0,
         .finds = "The zero of the caliper.",
         .at_saw = AtSaw::away,
         .sled_must_go = false,
         .steps = jaws_steps,
         .readings = jaws_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = false,
         .sizes_stay = true}),
    row({.check = Check::gauge_in_jaws,
         .name = "gauge-in-jaws",
         .title = "Feeler gauges in the caliper",
         .instrument = "caliper, feeler gauges, shim stock",
         .minutes = 4,
         .stock_mm = 0,
         .finds = "Whether the caliper sticks.",
         .at_saw = AtSaw::away,
         .sled_must_go = false,
         .steps = gauge_in_jaws_steps,
         .readings = gauge_in_jaws_readings,
         .strips = Strips::none,
         .observables = 5,
         .errs_the_same = false,
         .sizes_stay = true}),
    row({.check = Check::push_through,
         .name = "push-through",
         .title = "Push the sled through",
         .instrument = "hand, tape",
         .minutes = 2,
         .stock_mm = 0,
         .finds = "Whether the sled goes through its slots, and where it sticks.",
         .at_saw = AtSaw::unplugged,
         .sled_must_go = false,
         .steps = push_through_steps,
         .readings = push_through_readings,
         .strips = Strips::none,
         .observables = 0,
         .errs_the_same = false,
         .sizes_stay = false}),
};

constexpr bool in_order() {
    for (std::size_t i = 0; i < check_count; ++i) {
        if (static_cast<std::size_t>(table[i].check) != i) return false;
    }
    return true;
}
static_assert(in_order(), "the rows stand in the order of the enum");

}  // namespace

const std::array<CheckInfo, check_count>& checks() { return table; }

const CheckInfo& info(Check check) { return table[static_cast<std::size_t>(check)]; }

std::optional<Check> check_of(std::string_view name) {
    for (const CheckInfo& c : table) {
        if (c.name == name) return c.check;
    }
    return std::nullopt;
}

// How thick a leaf really is, and how well a hand feels that it goes in. Its step is that of the shop's set
// (measure/gauges.h).
const Gauge feeler{"feeler gauges", 0.01, 0.012, 0.01,
                   "leaves in steps of 0.05 mm are a usual set (from memory), their limits invented"};
const Gauge indicator{"dial indicator", 0.01, 0.01, 0.005, "invented, and the block's fit where it rides on one"};
const Gauge bar{"inside bar", 0.01, 0.02, 0.015, "invented"};
const Gauge eye{"eye", 0.05, 0.06, 0.04, "invented"};

bool corner_is_free(std::span<const Occasion> made, Occasion now) {
    bool free = false;
    for (const Occasion& occasion : made) {
        now.check = occasion.check;
        if (occasion != now) continue;
        if (info(occasion.check).strips != Strips::none) free = true;
        if (occasion.check == Check::square_on_cut) free = false;
    }
    return free;
}

bool needs_the_sled_to_go(Check check) { return info(check).sled_must_go; }

bool same_sizes_by_caliper(Check check) { return info(check).sizes_stay; }

double square_limit_mm(double blade_mm) { return 0.020 + blade_mm / 10.0 * 1e-3; }
double square_on_fence_mm(const shop::Drawing& drawing) { return std::min(75.0, drawing.fence.height_mm); }
double square_on_blade_mm(const shop::Drawing& drawing) { return std::max(10.0, drawing.blade.height_mm - 10.0); }

}  // namespace offsquare::measure
