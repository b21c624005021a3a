#include "shop/fault.h"

namespace offsquare::shop {
namespace {

using enum FaultUnit;

// Ranges: as far as a person could still push the sled and the model still holds. Teachable sizes: about what the
// figures in the help call good enough (0.35 mrad of skew: GOST 6853-88, 2.2.7; run-out 0.075 mm at the rim: GOST
// 9335-89, 2.5), the others invented.
constexpr std::array<FaultInfo, fault_count> table{{
    {Fault::fence_skew, "fence_skew", rad, -0.02, 0.02, 0.0002, Turns::yes,
     "The fence is off square to the travel; above 0 its left end is too near you.",
     "Every corner is off by just this angle, and four of them add up in the five-cut test.",
     "Put a shim behind the end that lies too near you.",
     "Up to 20 mrad: the formulas are exact, a thin strip may run out."},
    {Fault::fence_bow, "fence_bow", mm, -2.0, 2.0, 0.1, Turns::varies,
     "The fence's face is bowed; above 0 it is bellied towards the board, below 0 hollow. The size is the height of "
     "the bow over the whole fence.",
     "A short board and a long one disagree; a straightedge on the fence shows light in the middle or rocks.",
     "Joint the fence true, or replace it.",
     "A parabola; other shapes go into fence_profile. The board does not bend."},
    {Fault::fence_lean, "fence_lean", rad, -0.05, 0.05, 0.003, Turns::no,
     "The fence's face is not upright; above 0 its top leans towards the board.",
     "A square on the base shows light; a board with a bevelled edge rides up. The corner seen from above stays as it "
     "is.",
     "Pack the fence's foot, or plane its underside.",
     "The board's edge is taken as square to its face, so that lean alone moves no corner."},
    {Fault::dust, "dust", mm, 0.0, 1.0, 0.1, Turns::varies,
     "Now and then a chip of this thickness lies between board and fence: at every second cut, anywhere along the "
     "edge.",
     "Repeats of the test scatter, and less so when the fence is brushed before each cut.",
     "Brush the fence before every cut, and chamfer its lower edge so that chips have somewhere to go.",
     "One chip at a time, which does not crush."},
    {Fault::clamp_creep, "clamp_creep", rad, 0.0, 0.005, 0.0002, Turns::varies,
     "The fence turns while it is clamped, each time otherwise: this is the usual size of it (one standard deviation).",
     "The fence was set right, and the proof still fails; an indicator against the fence moves while the clamp is "
     "tightened.",
     "Clamp at both ends by turns, with a pad that does not twist; drive the screw that holds it last.",
     "Normal, without a side that it prefers."},
    {Fault::left_play, "left_play", mm, 0.0, 2.0, 0.1, Turns::varies,
     "The left runner is this much narrower than its slot.",
     "The sled wiggles; the corner follows the hand that pushes, or scatters.",
     "Fit a wider runner, or adjust it in the slot; push always to the same side until then.",
     "A straight runner turns by play over its length, no more."},
    {Fault::right_play, "right_play", mm, 0.0, 2.0, 0.1, Turns::varies,
     "The right runner is this much narrower than its slot.",
     "The sled wiggles; the corner follows the hand that pushes, or scatters.",
     "Fit a wider runner, or adjust it in the slot; push always to the same side until then.",
     "A straight runner turns by play over its length, no more."},
    {Fault::pitch_error, "pitch_error", mm, -2.0, 2.0, 0.05, Turns::no,
     "The runners are spaced unlike the slots; above 0 they stand further apart.",
     "It takes up play: two loose runners that bear on the inner walls leave none at all. With too little play it "
     "binds.",
     "Loosen one runner and fix it again with the sled in its slots.",
     "Parallel runners; wood that swells is not followed."},
    {Fault::slot_splay, "slot_splay", rad, -0.01, 0.01, 0.0002, Turns::varies,
     "The right slot is turned against the left, which is the line of travel; above 0 counter-clockwise, so that the "
     "slots close towards the far end.",
     "The slots are further apart at one end than at the other; the sled turns as it goes, or binds half-way.",
     "Make one runner narrow and let the other guide: the table itself stays as it is.",
     "Both slots are straight; see slot_wander."},
    {Fault::slot_wander, "slot_wander", mm, -1.0, 1.0, 0.05, Turns::varies,
     "The left slot is not straight: it bows to the right in the middle of the table by this much, above 0; to the "
     "left below.",
     "The cut is curved; an indicator that rides in the slot moves.",
     "Dress the slot's wall, or guide by the other slot.",
     "A parabola over the table; other shapes go into left_slot_profile."},
    {Fault::runner_bend, "runner_bend", mm, -2.0, 2.0, 0.05, Turns::varies,
     "The left runner is bowed; above 0 it bulges to the right.",
     "It takes up play, and may bind; a straightedge on the runner shows light.", "Straighten or replace the runner.",
     "A parabola over its length; the runner does not spring."},
    {Fault::blade_toe, "blade_toe", rad, -0.02, 0.02, 0.0005, Turns::no,
     "The blade is turned against the slots; above 0 counter-clockwise.",
     "No corner moves once the whole board has passed the whole blade. The kerf is wide, the heel cuts again and "
     "burns; a push that stops short leaves a step.",
     "Set the blade parallel to the slots before anything else.",
     "A flat blade; a push that stops short is modelled, a board that springs is not."},
    {Fault::blade_tilt, "blade_tilt", rad, -0.05, 0.05, 0.002, Turns::no,
     "The blade is not upright; above 0 its top leans to the right.",
     "The face is bevelled, which a square on the cut shows, doubled when one piece is turned over. The corner seen "
     "from above stays as it is.",
     "Set the blade upright against a square.", "Kerf and corner are taken at the table's surface."},
    {Fault::blade_runout, "blade_runout", mm, 0.0, 1.0, 0.05, Turns::no,
     "The blade wobbles: what an indicator near its rim reads in all over one turn.",
     "The kerf is wider than the teeth by this much. The corner does not move.",
     "Clean flange and blade; then look at the arbor, or have the blade flattened.",
     "The wobble averages out over many teeth."},
    {Fault::edge_bow, "edge_bow", mm, -2.0, 2.0, 0.2, Turns::varies,
     "The board's first edge is not straight; above 0 it is bellied outwards.",
     "As fence_bow, but it goes with the board: only the first cut rests on this edge, so that the five-cut test does "
     "not mind.",
     "Joint the edge, or put another edge on the fence.", "A parabola over the edge."},
    {Fault::caliper_zero, "caliper_zero", mm, -1.0, 1.0, 0.02, Turns::no,
     "The closed caliper does not show zero but this.",
     "It cancels in a difference of two readings; a single width is wrong by it.", "Clean the jaws and set the zero.",
     "The same over the whole scale."},
    {Fault::caliper_step, "caliper_step", mm, 0.0, 0.5, 0.05, Turns::no,
     "The caliper sticks: it really moves in steps of this, whatever its last digit promises. 0: as marked.",
     "Repeats agree too well, and small differences vanish or jump.",
     "Clean the scale, change the battery, or use another caliper.", "Even steps."},
}};

constexpr bool in_order() {
    for (std::size_t i = 0; i < fault_count; ++i) {
        if (static_cast<std::size_t>(table[i].fault) != i) return false;
    }
    return true;
}
static_assert(in_order());

}  // namespace

const std::array<FaultInfo, fault_count>& faults() { return table; }

const FaultInfo& info(Fault fault) { return table[static_cast<std::size_t>(fault)]; }

std::optional<Fault> fault_of(std::string_view key) {
    for (const FaultInfo& f : table) {
        if (f.key == key) return f.fault;
    }
    return std::nullopt;
}

}  // namespace offsquare::shop
