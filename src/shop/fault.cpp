#include "shop/fault.h"

#include "shop/fault_row.h"

namespace offsquare::shop {
namespace {

using enum FaultUnit;

using namespace rows;

// Ranges: as far as a person could still push the sled and the model still holds. Teachable sizes: about what the
// figures in the help call good enough (0.35 mrad of skew: GOST 6853-88, 2.2.7; run-out 0.075 mm at the rim: GOST
// 9335-89, 2.5), the others invented.
constexpr std::array<FaultInfo, fault_count> table{
    row({.fault = Fault::fence_skew,
         .key = "fence_skew",
         .name = "fence off square",
         .group = Group::fence,
         .unit = rad,
         .min = -0.02,
         .max = 0.02,
         .teachable = 0.0002,
         .turns_corner = Turns::yes,
         .wrong = "The fence is off square to the travel; above 0 its left end is too near you.",
         .shows = "Every corner is off by exactly this angle, and four of them add up in the five-cut test.",
         .repair = "Unplug the saw. Put a shim behind the end that lies too near you.",
         .repaired_at_saw = true,
         .stops = "Exact up to 20 mrad, but a thin strip may taper away to nothing.",
         .repair_minutes = 10,
         .repair_leaves = repaired(0.0, 0.05e-3),
         .in_file = "fence off square; above 0 the left end is too near the operator",
         .example = "0.5 mrad",
         .lobes = either_side(0.50, 0.8e-3, 0.25e-3, 0.05e-3)}),
    row({.fault = Fault::fence_bow,
         .key = "fence_bow",
         .name = "fence bowed",
         .group = Group::fence,
         .unit = mm,
         .min = -2.0,
         .max = 2.0,
         .teachable = 0.1,
         .turns_corner = Turns::varies,
         .wrong = "The fence's face is bowed; above 0 it is bellied towards the board, below 0 hollow. The size is the "
                  "height of the bow over the whole fence.",
         .shows =
             "A short board and a long one disagree; a straightedge on the fence rocks, or shows light in the middle.",
         .repair = "Unplug the saw, take the fence off, and joint it true or replace it.",
         .repaired_at_saw = true,
         .stops =
             "A parabola; other shapes go into fence_profile. The hand presses the board at the middle of the part of "
             "its edge that meets the fence; on a belly it lies along the fence there. The board does not bend.",
         .repair_minutes = 45,
         .repair_leaves = repaired(0.0, 0.015),
         .in_file = "bow of the fence over its length; above 0 bellied towards the board",
         .example = "0.1 mm",
         .lobes = either_side(0.25, 0.25, 0.08, 0.015)}),
    row({.fault = Fault::fence_lean,
         .key = "fence_lean",
         .name = "fence leaning",
         .group = Group::fence,
         .unit = rad,
         .min = -0.05,
         .max = 0.05,
         .teachable = 0.003,
         .turns_corner = Turns::no,
         .wrong = "The fence's face is not upright; above 0 its top leans towards the board.",
         .shows = "A square on the base shows light; a board with a bevelled edge rides up. The corner seen from above "
                  "stays as it is.",
         .repair = "Unplug the saw. Pack the fence's foot, or take it off and plane its underside.",
         .repaired_at_saw = true,
         .stops = "The board's edge is taken as square to its face, so that lean alone moves no corner.",
         .repair_minutes = 20,
         .repair_leaves = repaired(0.0, 0.5e-3),
         .in_file = "fence's face not upright; above 0 its top leans to the board",
         .example = "3 mrad",
         .lobes = either_side(0.20, 6e-3, 2e-3, 0.5e-3)}),
    row({.fault = Fault::dust,
         .key = "dust",
         .name = "sawdust at the fence",
         .group = Group::fence,
         .unit = mm,
         .min = 0.0,
         .max = 1.0,
         .teachable = 0.1,
         .turns_corner = Turns::varies,
         .wrong = "Now and then a speck of sawdust this thick lies between board and fence: at about every second cut, "
                  "anywhere "
                  "along the edge.",
         .shows = "Repeated tests disagree, but less so when the fence is brushed before each cut.",
         .repair = "Unplug the saw and chamfer the fence's lower edge, so that sawdust has somewhere to go; brush it "
                   "before every cut, with the blade stopped and the saw unplugged.",
         .repaired_at_saw = true,
         .stops = "One speck at a time, and it does not crush.",
         .repair_minutes = 15,  // a block plane, and the fence set back in its place: common practice, no source
         .repair_leaves = repaired(0.005, 0.2 * 0.005),
         .in_file = "thickness of the speck of sawdust that lies before the fence at about every second cut",
         .example = "0.1 mm",
         .lobes = spread(0.20, 0.1, 0.005)}),
    row({.fault = Fault::clamp_creep,
         .key = "clamp_creep",
         .name = "fence creeping when clamped",
         .group = Group::fence,
         .unit = rad,
         .min = 0.0,
         .max = 0.005,
         .teachable = 0.0002,
         .turns_corner = Turns::varies,
         .wrong = "The fence turns while it is being clamped, by a different amount each time. The size is the usual "
                  "amount (one standard deviation).",
         .shows = "The fence was set right, and the proof still fails; an indicator against the fence moves while the "
                  "clamp is tightened.",
         .repair =
             "Unplug the saw. Tighten the clamps at both ends alternately, with pads that do not twist; drive the "
             "holding screw last.",
         .repaired_at_saw = true,
         .stops = "Normally distributed, and as often one way as the other.",
         .repair_minutes = 10,
         .repair_leaves = repaired(0.01e-3, 0.2 * 0.01e-3),
         .in_file = "how far the fence turns each time it is clamped, one standard deviation",
         .example = "0.2 mrad",
         .lobes = spread(0.20, 0.25e-3, 0.01e-3)}),
    row({.fault = Fault::left_play,
         .key = "left_play",
         .name = "left runner loose",
         .group = Group::guides,
         .unit = mm,
         .min = 0.0,
         .max = 2.0,
         .teachable = 0.1,
         .turns_corner = Turns::varies,
         .wrong = "The left runner is this much narrower than its mitre slot.",
         .shows = "The sled wiggles; the corner follows the hand that pushes, or scatters.",
         .repair =
             "Unplug the saw. Fit a wider runner, or adjust this one to take up the play. Too tight, it jams: slide "
             "the sled by hand over its whole travel, and ease the runner until it goes freely everywhere; only "
             "then trust it. Until it is done always press the sled to the same side.",
         .repaired_at_saw = true,
         .stops = "In a test the hand presses the sled sideways at the middle of what is in the slots. A straight "
                  "runner can turn only by its play over the length that is guided. It turns further while part of it "
                  "hangs over the table's edge, where less is guided.",
         .repair_minutes = 30,
         .repair_leaves = repaired(0.06, 0.012),
         .in_file = "how much narrower than its slot the left runner is",
         .example = "0.1 mm",
         .lobes = play(0.30, 0.25, 0.05)}),
    row({.fault = Fault::right_play,
         .key = "right_play",
         .name = "right runner loose",
         .group = Group::guides,
         .unit = mm,
         .min = 0.0,
         .max = 2.0,
         .teachable = 0.1,
         .turns_corner = Turns::varies,
         .wrong = "The right runner is this much narrower than its mitre slot.",
         .shows = "The sled wiggles; the corner follows the hand that pushes, or scatters.",
         .repair =
             "Unplug the saw. Fit a wider runner, or adjust this one to take up the play. Too tight, it jams: slide "
             "the sled by hand over its whole travel, and ease the runner until it goes freely everywhere; only "
             "then trust it. Until it is done always press the sled to the same side.",
         .repaired_at_saw = true,
         .stops = "In a test the hand presses the sled sideways at the middle of what is in the slots. A straight "
                  "runner can turn only by its play over the length that is guided. It turns further while part of it "
                  "hangs over the table's edge, where less is guided.",
         .repair_minutes = 30,
         .repair_leaves = repaired(0.06, 0.012),
         .in_file = "how much narrower than its slot the right runner is",
         .example = "0.1 mm",
         .lobes = play(0.30, 0.25, 0.05)}),
    row({.fault = Fault::pitch_error,
         .key = "pitch_error",
         .name = "runners spaced wrong",
         .group = Group::guides,
         .unit = mm,
         .min = -2.0,
         .max = 2.0,
         .teachable = 0.05,
         .turns_corner = Turns::varies,
         .wrong = "The runners are not the same distance apart as the mitre slots; above 0 they are further apart.",
         .shows = "It takes up play: two loose runners that bear on the inner walls leave none at all, and with too "
                  "little play the sled binds. How far the sled turns depends on its play, and so does the corner. On "
                  "straight guides, with a hand that presses to one side, no corner moves.",
         .repair = "Unplug the saw. Loosen one runner and fix it again with the sled in its slots.",
         .repaired_at_saw = true,
         .stops = "The runners are parallel; swelling of the wood is not modelled.",
         .repair_minutes = 30,
         .repair_leaves = repaired(0.0, 0.008),
         .in_file = "runners further apart than the slots",
         .example = "0.05 mm",
         .lobes = either_side(0.15, 0.10, 0.02, 0.008)}),
    row({.fault = Fault::slot_splay,
         .key = "slot_splay",
         .name = "slots not parallel",
         .group = Group::guides,
         .unit = rad,
         .min = -0.01,
         .max = 0.01,
         .teachable = 0.0002,
         .turns_corner = Turns::varies,
         .wrong =
             "The right mitre slot is not parallel to the left one, which is the line of travel. Above 0 the slots "
             "come closer together towards the far end of the table, below 0 towards the end near you.",
         .shows =
             "The slots are further apart at one end than at the other; the sled turns as it goes, or binds half-way.",
         .repair = "Unplug the saw and take the sled off. Make one runner narrower and let the other guide the sled: "
                   "the table "
                   "itself stays as it is.",
         .repaired_at_saw = true,
         .stops = "Both slots are straight; see slot_wander.",
         .repair_minutes = 60,
         .repair_leaves = repaired(0.0, 0.02e-3),
         .in_file = "right slot turned against the left",
         .example = "0.1 mrad",
         .lobes = either_side(0.10, 0.20e-3, 0.04e-3, 0.02e-3)}),
    row({.fault = Fault::slot_wander,
         .key = "slot_wander",
         .name = "left slot not straight",
         .group = Group::guides,
         .unit = mm,
         .min = -1.0,
         .max = 1.0,
         .teachable = 0.05,
         .turns_corner = Turns::varies,
         .wrong = "The left mitre slot is not straight. Above 0 it bows to the right by this much in the middle of the "
                  "table, below 0 to the left.",
         .shows = "The cut is curved; an indicator that rides in the slot moves.",
         .repair = "Unplug the saw. Guide by the other slot; only if that cannot be done, dress the slot's wall.",
         .repaired_at_saw = true,
         .stops = "A parabola over the table; other shapes go into left_slot_profile.",
         .repair_minutes = 60,
         .repair_leaves = repaired(0.0, 0.006),
         .in_file = "bow of the left slot over the table; above 0 to the right",
         .example = "0.05 mm",
         .lobes = either_side(0.10, 0.08, 0.02, 0.006)}),
    row({.fault = Fault::runner_bend,
         .key = "runner_bend",
         .name = "left runner bent",
         .group = Group::guides,
         .unit = mm,
         .min = -2.0,
         .max = 2.0,
         .teachable = 0.05,
         .turns_corner = Turns::varies,
         .wrong = "The left runner is bowed; above 0 it bulges to the right.",
         .shows = "It takes up play, and may bind; a straightedge on the runner shows light.",
         .repair = "Unplug the saw and take the sled off. Straighten or replace the runner.",
         .repaired_at_saw = true,
         .stops = "A parabola over its length; the runner does not flex.",
         .repair_minutes = 40,
         .repair_leaves = repaired(0.0, 0.006),
         .in_file = "bow of the left runner; above 0 bulging to the right",
         .example = "0.1 mm",
         .lobes = either_side(0.10, 0.08, 0.02, 0.006)}),
    row({.fault = Fault::blade_toe,
         .key = "blade_toe",
         .name = "blade not parallel",
         .group = Group::blade,
         .unit = rad,
         .min = -0.02,
         .max = 0.02,
         .teachable = 0.0005,
         .turns_corner = Turns::no,
         .wrong =
             "The blade is not parallel to the mitre slots. Seen from above, above 0 its front (the side near you) "
             "stands too far to the right and its rear too far to the left; below 0 the other way round.",
         .shows =
             "The kerf is wide. The rear teeth cut all of one face again and may burn it; a push that stops short "
             "leaves a step there. On straight guides no corner moves once the whole board has passed the whole blade.",
         .repair =
             "Unplug the saw. Set the blade parallel to the slots before anything else, as the machine's manual says.",
         .repaired_at_saw = true,
         .stops = "A flat blade; a push that stops short is modelled, a board that springs is not. Where the sled "
                  "turns as it goes, the blade's cutting end meets it at another point of its travel, so that a corner "
                  "moves all the same.",
         .repair_minutes = 20,
         .repair_leaves = repaired(0.0, 0.05e-3),
         .in_file = "blade turned against the slots",
         .example = "1 mrad",
         .lobes = either_side(0.25, 1.0e-3, 0.3e-3, 0.05e-3)}),
    row({.fault = Fault::blade_tilt,
         .key = "blade_tilt",
         .name = "blade tilted",
         .group = Group::blade,
         .unit = rad,
         .min = -0.05,
         .max = 0.05,
         .teachable = 0.002,
         .turns_corner = Turns::no,
         .wrong = "The blade is not upright; above 0 its top leans to the right.",
         .shows = "The cut face is bevelled. A square on the cut shows it, and it shows doubled when one piece is "
                  "turned over. The corner seen from above stays as it is.",
         .repair = "Unplug the saw. Set the blade upright against a square.",
         .repaired_at_saw = true,
         .stops = "Kerf and corner are taken at the table's surface, where a leaning blade cuts a wider kerf: its own "
                  "divided by the cosine of the lean.",
         .repair_minutes = 10,
         .repair_leaves = repaired(0.0, 0.5e-3),
         .in_file = "blade not upright; above 0 its top leans to the right",
         .example = "3 mrad",
         .lobes = either_side(0.20, 6e-3, 1.8e-3, 0.5e-3)}),
    row({.fault = Fault::blade_runout,
         .key = "blade_runout",
         .name = "blade wobbling",
         .group = Group::blade,
         .unit = mm,
         .min = 0.0,
         .max = 1.0,
         .teachable = 0.05,
         .turns_corner = Turns::no,
         .wrong = "The blade is not flat, so that it wobbles. The size is what an indicator near its rim moves in all "
                  "over one turn, on an arbor that runs true.",
         .shows = "The kerf is wider than the teeth by this much. The corner does not move.",
         .repair = "Unplug the saw and take the blade off. Clean it, and have it flattened or replace it.",
         .repaired_at_saw = true,
         .stops = "The kerf is taken as evenly wide: the wobble averages out over many teeth.",
         .repair_minutes = 30,
         .repair_leaves = repaired(0.02, 0.005),
         .in_file = "wobble of the blade at its rim, in all",
         .example = "0.05 mm",
         .lobes = above(0.20, 0.12, 0.03, 0.02, 0.005)}),
    row({.fault = Fault::edge_bow,
         .key = "edge_bow",
         .name = "board's edge not straight",
         .group = Group::board,
         .unit = mm,
         .min = -2.0,
         .max = 2.0,
         .teachable = 0.2,
         .turns_corner = Turns::varies,
         .wrong = "The board's first edge is not straight; above 0 it is bellied outwards.",
         .shows = "Like fence_bow, but it goes with the board. Only the first cut rests on this edge, so the five-cut "
                  "test does not show it.",
         .repair = "Joint the edge, or put another edge on the fence.",
         .repaired_at_saw = false,
         .stops =
             "A parabola over the edge; other shapes go into edge_profile. The rough board is laid with this edge on "
             "the fence, and the hand presses at the middle of the part that meets it.",
         .repair_minutes = 8,
         .repair_leaves = repaired(0.0, 0.03),
         .in_file = "bow of the board's first edge; above 0 bellied outwards",
         .example = "0.5 mm",
         .lobes = either_side(0.30, 0.4, 0.12, 0.03)}),
    row({.fault = Fault::caliper_zero,
         .key = "caliper_zero",
         .name = "caliper's zero off",
         .group = Group::instruments,
         .unit = mm,
         .min = -1.0,
         .max = 1.0,
         .teachable = 0.02,
         .turns_corner = Turns::no,
         .wrong = "The closed caliper shows this instead of zero.",
         .shows = "It cancels in the difference of two readings; a single width is wrong by that much.",
         .repair = "Clean the jaws and set the zero.",
         .repaired_at_saw = false,
         .stops = "The same all along the scale.",
         .repair_minutes = 1,
         .repair_leaves = repaired(0.0, 0.004),
         .in_file = "what the closed caliper shows",
         .example = "0.02 mm",
         .lobes = either_side(0.20, 0.05, 0.012, 0.004)}),
    row({.fault = Fault::caliper_step,
         .key = "caliper_step",
         .name = "caliper sticking",
         .group = Group::instruments,
         .unit = mm,
         .min = 0.0,
         .max = 0.5,
         .teachable = 0.05,
         .turns_corner = Turns::no,
         .wrong = "The caliper sticks: it really moves in steps of this size, whatever its last digit promises. 0: it "
                  "reads as marked.",
         .shows = "Repeats agree too well, and small differences vanish or jump.",
         .repair = "Clean the scale, change the battery, or use another caliper.",
         .repaired_at_saw = false,
         .stops = "All steps are the same size.",
         .repair_minutes = 5,
         .repair_leaves = repaired(0.002, 0.2 * 0.002),
         .in_file = "the caliper sticks in steps of this; 0: as marked",
         .example = "0.05 mm",
         .lobes = spread(0.10, 0.06, 0.002)}),
    row({.fault = Fault::board_creep,
         .key = "board_creep",
         .name = "board creeping while cut",
         .group = Group::fence,
         .unit = rad,
         .min = -0.005,
         .max = 0.005,
         .teachable = 0.0003,
         .turns_corner = Turns::yes,
         .wrong = "The board is held too lightly and slides along the fence while it is cut; above 0 to the right. The "
                  "size is how far it slides for the distance that it is fed.",
         .shows = "Every corner is off by exactly this angle, so that it looks like a fence off square. But an "
                  "indicator against the board's end moves, and a board that is clamped hard comes out square.",
         .repair = "Unplug the saw. Glue fine sandpaper to the fence's face, and clamp the board down harder.",
         .repaired_at_saw = true,
         .stops = "It slides evenly all through the cut, square to the travel, even along a bowed fence. A scrap that "
                  "is cut for its kerf is clamped hard and does not creep. Shims that make such a board come out "
                  "square leave the fence itself off square.",
         .repair_minutes = 10,
         .repair_leaves = repaired(0.0, 0.02e-3),
         .in_file =
             "how far the board slides along the fence for the length that it is pushed on; above 0 to the right",
         .example = "0.5 mrad",
         .lobes = either_side(0.05, 0.8e-3, 0.25e-3, 0.02e-3)}),
    row({.fault = Fault::arbor_runout,
         .key = "arbor_runout",
         .name = "arbor flange wobbling",
         .group = Group::blade,
         .unit = mm,
         .min = 0.0,
         .max = 1.0,
         .teachable = 0.05,
         .turns_corner = Turns::no,
         .wrong = "The flange on the arbor does not run true. The size is how much of the wobble at the blade's rim "
                  "comes from the arbor, not from the blade itself.",
         .shows = "The kerf is wider than the teeth, as with a blade that wobbles by itself, but another blade wobbles "
                  "as well. Where the blade has a wobble of its own too, half a turn on the arbor makes it less.",
         .repair = "Unplug the saw and take the blade off. Clean the flange and the arbor's shoulder, then check both "
                   "with the indicator; have a bent flange trued or replaced.",
         .repaired_at_saw = true,
         .stops = "As found, the two wobbles add up; half a turn takes one from the other, and does not tell which is "
                  "the larger. On a real saw they may be at any angle to each other.",
         .repair_minutes = 30,
         .repair_leaves = repaired(0.004, 0.001),
         .in_file = "wobble at the blade's rim that comes from the arbor's flange, in all",
         .example = "0.05 mm",
         .lobes = above(0.08, 0.10, 0.03, 0.004, 0.001)}),
    row({.fault = Fault::stop_slip,
         .key = "stop_slip",
         .name = "stop block slipping",
         .group = Group::fence,
         .unit = mm,
         .min = 0.0,
         .max = 1.0,
         .teachable = 0.05,
         .turns_corner = Turns::no,
         .wrong = "The stop block on the fence gives way by this much each time a piece is pushed against it.",
         .shows = "Each piece cut to the stop comes out longer than the one before. No corner moves, and no test cut "
                  "shows it.",
         .repair = "Unplug the saw. Clean the fence under the stop block, and tighten the block; if it still slips, "
                   "put sandpaper under it.",
         .repaired_at_saw = true,
         .stops = "It gives way by the same amount each time, always away from the blade. The board is pushed up "
                  "equally hard each time.",
         .repair_minutes = 4,
         .repair_leaves = repaired(0.008, 0.002),
         .in_file = "how far the stop block gives way each time that a piece is pushed against it",
         .example = "0.05 mm",
         .lobes = above(0.10, 0.12, 0.03, 0.008, 0.002)}),
};

constexpr bool in_order() {
    for (std::size_t i = 0; i < fault_count; ++i) {
        if (static_cast<std::size_t>(table[i].fault) != i) return false;
    }
    return true;
}
static_assert(in_order(), "the rows stand in the order of the enum");

}  // namespace

const std::array<FaultInfo, fault_count>& faults() { return table; }

const FaultInfo& info(Fault fault) { return table[static_cast<std::size_t>(fault)]; }

std::string_view name_of(Group group) {
    switch (group) {
        case Group::fence: return "fence";
        case Group::guides: return "runners and slots";
        case Group::blade: return "blade";
        case Group::board: return "board";
        case Group::instruments: return "instruments";
    }
    return {};
}

std::optional<Fault> fault_of(std::string_view key) {
    for (const FaultInfo& f : table) {
        if (f.key == key) return f.fault;
    }
    return std::nullopt;
}

}  // namespace offsquare::shop
