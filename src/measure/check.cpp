#include "measure/check.h"

#include <algorithm>

namespace offsquare::measure {
namespace {

using shop::FaultUnit;
using Steps = std::string_view;
constexpr auto mm = FaultUnit::mm;
constexpr auto rad = FaultUnit::rad;

/// What is thrown is what the compiler says.
consteval CheckInfo row(CheckInfo c) {
    if (c.name.empty() || c.title.empty() || c.instrument.empty()) throw "a word is empty";
    if (c.finds.size() < 10 || c.finds.back() != '.') throw "what it finds is a whole sentence";
    if (c.steps.empty() || c.readings.empty()) throw "a check has steps and readings";
    if (!(c.minutes > 0.0 && c.stock_mm >= 0.0)) throw "a check takes time";
    if (c.observables < 1 || c.observables > c.readings.size()) throw "observables come of readings";
    return c;
}

constexpr Steps five_cut_steps[] = {
    "Put a board with four rough edges against the fence and trim one edge.",
    "Turn it clockwise (the other way if you keep the right side), so that the fresh edge lies on the fence, and trim "
    "the next.",
    "Go on until all four edges are cut.",
    "With the fifth cut take a thin strip off the edge that was cut first; mark its end at the fence.",
    "Read the strip at both ends, twice each, and its length.",
};
constexpr ReadingInfo five_cut_readings[] = {
    {"fence_end", mm, "width of the strip at the end that lay at the fence, mean of two"},
    {"far_end", mm, "width at the far end, mean of two"},
    {"length", mm, "between the two places"},
};

constexpr Steps same_again_steps[] = {
    "Make the five-cut test.",
    "Touch nothing, take a fresh board and make it again.",
    "And a third time.",
    "Read each strip at both ends, twice each, and its length.",
};
constexpr ReadingInfo same_again_readings[] = {
    {"fence_end_1", mm, "width of the strip at the end that lay at the fence, mean of two, first test"},
    {"far_end_1", mm, "width at the far end, mean of two, first test"},
    {"length_1", mm, "between the two places, first test"},
    {"fence_end_2", mm, "width of the strip at the end that lay at the fence, mean of two, second test"},
    {"far_end_2", mm, "width at the far end, mean of two, second test"},
    {"length_2", mm, "between the two places, second test"},
    {"fence_end_3", mm, "width of the strip at the end that lay at the fence, mean of two, third test"},
    {"far_end_3", mm, "width at the far end, mean of two, third test"},
    {"length_3", mm, "between the two places, third test"},
};

constexpr Steps brushed_steps[] = {
    "Brush fence and board before each cut, and look along the fence.",
    "Make the five-cut test, and read the strip as always.",
    "Compare with the test that was not brushed.",
};
constexpr ReadingInfo brushed_readings[] = {
    {"fence_end", mm, "width of the strip at the end that lay at the fence, mean of two"},
    {"far_end", mm, "width at the far end, mean of two"},
    {"length", mm, "between the two places"},
};

constexpr Steps long_and_short_steps[] = {
    "Make the five-cut test with a board half as large.",
    "Make it with the full board.",
    "Read both strips; each has its own length.",
};
constexpr ReadingInfo long_and_short_readings[] = {
    {"fence_end_short", mm, "width of the strip at the end that lay at the fence, mean of two, short board"},
    {"far_end_short", mm, "width at the far end, mean of two, short board"},
    {"length_short", mm, "between the two places, short board"},
    {"fence_end_long", mm, "width of the strip at the end that lay at the fence, mean of two, long board"},
    {"far_end_long", mm, "width at the far end, mean of two, long board"},
    {"length_long", mm, "between the two places, long board"},
};

constexpr Steps flip_steps[] = {
    "Crosscut a board with straight parallel edges in two.",
    "Turn the offcut over, long edge for long edge, and push both against a straightedge, cut against cut.",
    "Where the joint is open, try feeler gauges: the gap is twice the corner error over the length of the cut.",
    "Lay both on a flat table and look at the joint from the edge: a gap at the top or bottom is twice the bevel.",
};
constexpr ReadingInfo flip_readings[] = {
    {"gap", mm,
     "gap over the board's length along the feed, above 0 open at the edge that lay on the fence (the kept corner is "
     "wide)"},
    {"bevel_gap", mm, "gap over the board's thickness, above 0 open at the kept piece's underside"},
};

constexpr Steps square_on_cut_steps[] = {
    "Hold the stock of the square against the edge that lay on the fence.",
    "Bring its blade to the cut and look against the light.",
    "Find the feeler gauge that just goes in at the open end.",
};
constexpr ReadingInfo square_on_cut_readings[] = {
    {"light", mm, "gap over 150 mm, above 0 open at the fence (the corner is wide)"},
    {"bevel_light", mm, "gap over the board's thickness on the kept piece, above 0 open at the bottom"},
};

constexpr Steps cut_face_steps[] = {
    "Hold the face against the light.",
    "Look for arcs that cross, burnt places, and a step near the fence end.",
    "Guess the depth of the marks with a fingernail.",
};
constexpr ReadingInfo cut_face_readings[] = {
    {"marks", mm, "depth of the marks of the heel, 0 or above"},
};

constexpr Steps kerf_width_steps[] = {
    "Cut into a scrap and stop with the whole blade past its edge.",
    "Read the width of the kerf.",
    "Stop the blade, unplug the saw, and read the width over the teeth.",
};
constexpr ReadingInfo kerf_width_readings[] = {
    {"kerf", mm, "width of the kerf"},
    {"teeth", mm, "width over the teeth"},
};

constexpr Steps fence_straightedge_steps[] = {
    "Lay the straightedge along the face.",
    "If it rocks the face is bellied: press the middle and share the light at the ends evenly.",
    "If there is light in the middle it is hollow. Find the feeler gauge that fits.",
};
constexpr ReadingInfo fence_straightedge_readings[] = {
    {"bow", mm, "height of the bow over the whole fence, above 0 bellied, below 0 hollow"},
};

constexpr Steps fence_square_steps[] = {
    "Stand the square on the base, its blade against the face.",
    "Look against the light at top and bottom, and find the feeler gauge that fits.",
};
constexpr ReadingInfo fence_square_readings[] = {
    {"light", mm, "gap over the fence's height, above 0 open at the foot (the top leans to the board)"},
};

constexpr Steps clamp_watch_steps[] = {
    "Set the indicator against the fence at its left shim point.",
    "Loosen the clamps, tighten them as always, and read how far the fence has moved.",
    "Three times more.",
};
constexpr ReadingInfo clamp_watch_readings[] = {
    {"moved_1", mm, "movement along the feed at the left shim point, above 0 away from you"},
    {"moved_2", mm, "the second time"},
    {"moved_3", mm, "the third time"},
    {"moved_4", mm, "the fourth time"},
};

constexpr Steps edge_straightedge_steps[] = {
    "Lay the straightedge along the edge that goes on the fence.",
    "Rocking tells a belly, light in the middle a hollow. Find the feeler gauge that fits.",
};
constexpr ReadingInfo edge_straightedge_readings[] = {
    {"bow", mm, "height of the bow over the edge, above 0 bellied outwards"},
};

constexpr Steps wiggle_steps[] = {
    "Set the sled so that its runners are fully in the slots, and stand the indicator on the table against its base at "
    "the front end of the runners.",
    "Push the sled hard to the left and to the right there, and read the difference.",
    "The same at the rear end.",
};
constexpr ReadingInfo wiggle_readings[] = {
    {"front", mm, "movement at the far end of the runners"},
    {"rear", mm, "movement at the near end"},
};

constexpr Steps runner_fit_steps[] = {
    "Read the width of each slot in the middle of the table.",
    "Read the width of each runner.",
};
constexpr ReadingInfo runner_fit_readings[] = {
    {"left_slot", mm, "width of the left slot"},
    {"left_runner", mm, "width of the left runner"},
    {"right_slot", mm, "width of the right slot"},
    {"right_runner", mm, "width of the right runner"},
};

constexpr Steps runner_spacing_steps[] = {
    "Set the bar between the inner walls of the slots in the middle of the table; add half the width of each slot.",
    "Set it between the inner faces of the runners in the middle of the sled; add half the width of each runner.",
};
constexpr ReadingInfo runner_spacing_readings[] = {
    {"slots", mm, "from middle to middle of the slots"},
    {"runners", mm, "from middle to middle of the runners"},
};

constexpr Steps runner_straightedge_steps[] = {
    "Turn the sled over and lay the straightedge along the left runner's right side.",
    "Rocking tells a belly, light in the middle a hollow. Find the feeler gauge that fits.",
};
constexpr ReadingInfo runner_straightedge_readings[] = {
    {"bow", mm, "height of the bow over the runner, above 0 bulging to the right"},
};

constexpr Steps slot_widths_steps[] = {
    "Set the bar between the inner walls of the two slots at the near edge of the table.",
    "The same at the far edge.",
};
constexpr ReadingInfo slot_widths_readings[] = {
    {"near", mm, "between the slots at the near edge"},
    {"far", mm, "between the slots at the far edge"},
};

constexpr Steps slot_ride_steps[] = {
    "Clamp the straightedge to the table beside the left slot, level with it at both ends.",
    "Slide a close-fitting block with the indicator along the slot, and read it against the straightedge in the middle "
    "of the table.",
};
constexpr ReadingInfo slot_ride_readings[] = {
    {"middle", mm, "departure in the middle, above 0 to the right"},
};

constexpr Steps tooth_indicator_steps[] = {
    "Unplug the saw. Mark one tooth and turn it to the front, level with the table.",
    "Stand the indicator in the left slot, against the side of that tooth.",
    "Turn the same tooth to the rear and slide the indicator there.",
};
constexpr ReadingInfo tooth_indicator_readings[] = {
    {"front", mm, "reading at the near side of the blade, growing to the right"},
    {"rear", mm, "reading at the far side"},
};

constexpr Steps rim_indicator_steps[] = {
    "Unplug the saw. Stand the indicator against the plate just below the teeth.",
    "Turn the blade by hand through a whole turn and read the least and the greatest.",
};
constexpr ReadingInfo rim_indicator_readings[] = {
    {"wobble", mm, "greatest less least"},
};

constexpr Steps blade_square_steps[] = {
    "Unplug the saw and raise the blade.",
    "Stand the square on the table against the right side of the plate, clear of the teeth.",
    "Look against the light and find the feeler gauge that fits.",
};
constexpr ReadingInfo blade_square_readings[] = {
    {"light", mm, "gap over the blade's height less 10 mm, above 0 open at the foot (the top leans to the right)"},
};

constexpr Steps jaws_steps[] = {
    "Wipe the jaws and close them.",
    "Read, open, close and read again, four times in all; take the mean.",
};
constexpr ReadingInfo jaws_readings[] = {
    {"closed", mm, "what the closed caliper shows, mean of four"},
};

constexpr Steps gauge_in_jaws_steps[] = {
    "Read gauges of 0.50, 0.53, 0.57, 0.62 and 0.68 mm.",
    "Take from each reading what the gauge is marked.",
};
constexpr ReadingInfo gauge_in_jaws_readings[] = {
    {"off_1", mm, "reading less gauge, 0.50 mm"},
    {"off_2", mm, "0.53 mm"},
    {"off_3", mm, "0.57 mm"},
    {"off_4", mm, "0.62 mm"},
    {"off_5", mm, "0.68 mm"},
};

constexpr std::array<CheckInfo, check_count> table{
    row({.check = Check::five_cut,
         .name = "five-cut",
         .title = "Five-cut test",
         .instrument = "caliper, tape",
         .minutes = 12,
         .stock_mm = 60,
         .finds = "Adds the corner error up four times, so that a caliper can see it.",
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
         .finds = "Shows what changes from test to test although nothing was touched: chips, play, a wandering hand.",
         .steps = same_again_steps,
         .readings = same_again_readings,
         .strips = Strips::three,
         .observables = 3,
         .errs_the_same = false,
         .sizes_stay = false}),
    row({.check = Check::brushed,
         .name = "brushed",
         .title = "The same test, fence brushed before each cut",
         .instrument = "brush, caliper, tape",
         .minutes = 14,
         .stock_mm = 60,
         .finds = "The five-cut test without chips: what is left is not dust.",
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
         .finds = "Two pieces of one cut, one turned over and butted: every error shows double.",
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
         .steps = square_on_cut_steps,
         .readings = square_on_cut_readings,
         .strips = Strips::none,
         .observables = 2,
         .errs_the_same = true,
         .sizes_stay = false}),
    row({.check = Check::cut_face,
         .name = "cut-face",
         .title = "Look at the cut face",
         .instrument = "eye, fingernail",
         .minutes = 1,
         .stock_mm = 0,
         .finds = "Cross-hatched heel marks tell of a blade that is not parallel.",
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
         .steps = jaws_steps,
         .readings = jaws_readings,
         .strips = Strips::none,
         .observables = 1,
         .errs_the_same = false,
         .sizes_stay = true}),
    row({.check = Check::gauge_in_jaws,
         .name = "gauge-in-jaws",
         .title = "Feeler gauges in the caliper",
         .instrument = "caliper, feeler gauges",
         .minutes = 4,
         .stock_mm = 0,
         .finds = "Whether the caliper sticks.",
         .steps = gauge_in_jaws_steps,
         .readings = gauge_in_jaws_readings,
         .strips = Strips::none,
         .observables = 5,
         .errs_the_same = false,
         .sizes_stay = true}),
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

// Feeler sets go in hundredths at the thin end and in twentieths above; two next to each other leave about 0.02 mm
// open.
const Gauge feeler{"feeler gauges", 0.01, 0.012, 0.01, "invented"};
const Gauge indicator{"dial indicator", 0.01, 0.01, 0.005, "invented"};
const Gauge bar{"inside bar", 0.01, 0.02, 0.015, "invented"};
const Gauge eye{"eye", 0.05, 0.06, 0.04, "invented"};

bool same_sizes_by_caliper(Check check) { return info(check).sizes_stay; }

double square_limit_mm(double blade_mm) { return 0.020 + blade_mm / 10.0 * 1e-3; }
double square_on_fence_mm(const shop::Drawing& drawing) { return std::min(75.0, drawing.fence.height_mm); }
double square_on_blade_mm(const shop::Drawing& drawing) { return std::max(10.0, drawing.blade.height_mm - 10.0); }

}  // namespace offsquare::measure
