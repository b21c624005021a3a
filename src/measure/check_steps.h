// The steps and the readings of each check, for the table in check.cpp alone.
#pragma once

#include <string_view>

#include "measure/check.h"

namespace offsquare::measure::steps {

using Steps = std::string_view;
inline constexpr auto mm = shop::FaultUnit::mm;

inline constexpr Steps five_cut_steps[] = {
    "Put a board with four rough edges against the fence and trim one edge.",
    "Hold still, switch off and wait until the blade has stopped; only then take the offcut away and turn the board. "
    "Do the same after every cut.",
    "Turn it clockwise (the other way if you keep the right side), so that the fresh edge lies on the fence, and trim "
    "the next, until all four edges are cut.",
    "With the fifth cut take a thin strip off the edge that was cut first. Leave it lying until the blade has stopped; "
    "then mark its end at the fence.",
    "Read the strip at both ends, twice each, and its length.",
};
inline constexpr ReadingInfo five_cut_readings[] = {
    {"fence_end", mm, "width of the strip at the end that lay at the fence, mean of two"},
    {"far_end", mm, "width at the far end, mean of two"},
    {"length", mm, "between the two places"},
};

inline constexpr Steps same_again_steps[] = {
    "Do the five-cut test: after every cut hold still, switch off and wait until the blade has stopped.",
    "Change nothing, take a fresh board and do it again.",
    "Then do it a third time.",
    "Read each strip at both ends, twice each, and its length.",
};
inline constexpr ReadingInfo same_again_readings[] = {
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

inline constexpr Steps brushed_steps[] = {
    "Before each cut, with the blade stopped, brush fence and board, and look along the fence.",
    "Do the five-cut test: after every cut hold still, switch off and wait until the blade has stopped.",
    "Read the strip as usual, and compare it with that of a test without brushing.",
};
inline constexpr ReadingInfo brushed_readings[] = {
    {"fence_end", mm, "width of the strip at the end that lay at the fence, mean of two"},
    {"far_end", mm, "width at the far end, mean of two"},
    {"length", mm, "between the two places"},
};

inline constexpr Steps long_and_short_steps[] = {
    "Do the five-cut test with a board half as large: after every cut hold still, switch off and wait until the "
    "blade has stopped.",
    "Then do it with the full board.",
    "Read both strips; each has its own length.",
};
inline constexpr ReadingInfo long_and_short_readings[] = {
    {"fence_end_short", mm, "width of the strip at the end that lay at the fence, mean of two, short board"},
    {"far_end_short", mm, "width at the far end, mean of two, short board"},
    {"length_short", mm, "between the two places, short board"},
    {"fence_end_long", mm, "width of the strip at the end that lay at the fence, mean of two, long board"},
    {"far_end_long", mm, "width at the far end, mean of two, long board"},
    {"length_long", mm, "between the two places, long board"},
};

inline constexpr Steps flip_steps[] = {
    "Crosscut a board with straight parallel edges in two. Hold still, switch off and wait until the blade has "
    "stopped; only then take both pieces to the bench.",
    "Brush the edges and the cuts. Turn the offcut over, long edge for long edge, and push both against a "
    "straightedge, "
    "cut against cut.",
    "Where the joint is open, write down the middle between the thickest feeler gauge that goes in and the next; half "
    "the thinnest if none does. The gap is twice the corner error over the length of the cut.",
    "Lay both on a flat table and look at the joint from the edge: a gap at the top or bottom is twice the bevel.",
};
inline constexpr ReadingInfo flip_readings[] = {
    {"gap", mm,
     "gap over the board's length along the feed, above 0 open at the edge that lay on the fence (the kept corner is "
     "wide)"},
    {"bevel_gap", mm, "gap over the board's thickness, above 0 open at the kept piece's underside"},
};

inline constexpr Steps square_on_cut_steps[] = {
    "Crosscut a piece. Hold still, switch off and wait until the blade has stopped; only then take it to the bench.",
    "Hold the stock of the square against the edge that lay on the fence.",
    "Bring its blade to the cut and hold both up to the light.",
    "At the open end, write down the middle between the thickest feeler gauge that goes in and the next; half the "
    "thinnest if none does.",
};
inline constexpr ReadingInfo square_on_cut_readings[] = {
    {"light", mm, "gap over 150 mm, above 0 open at the fence (the corner is wide)"},
    {"bevel_light", mm, "gap over the board's thickness on the kept piece, above 0 open at the bottom"},
};

inline constexpr Steps cut_face_steps[] = {
    "At the bench, hold both faces of the last cut up to the light, the kept piece's and the offcut's.",
    "After a whole pass the rear teeth have cut all of one face again: it is rougher or burnt, its arcs run the other "
    "way.",
    "A fingernail feels single teeth there and no step. Guess how much was taken again; alike on both faces is "
    "nothing.",
};
inline constexpr ReadingInfo cut_face_readings[] = {
    {"marks", mm, "how much the rear teeth took again, guessed, 0 or above"},
};

inline constexpr Steps kerf_width_steps[] = {
    "Clamp a scrap hard to the fence, cut into it until the whole blade is past its edge, and stop there.",
    "Hold sled and scrap still where they are, switch off and wait until the blade has stopped. Unplug the saw.",
    "Read the width of the kerf, and the width over the teeth.",
    "Only then move the scrap.",
};
inline constexpr ReadingInfo kerf_width_readings[] = {
    {"kerf", mm, "width of the kerf"},
    {"teeth", mm, "width over the teeth"},
};

inline constexpr Steps fence_straightedge_steps[] = {
    "Unplug the saw, and lay the straightedge along the face.",
    "If it rocks, the face is bellied: hold it so that the gaps at its two ends are the same.",
    "If light shows in the middle, it is hollow.",
    "Write down the middle between the thickest feeler gauge that goes in and the next; half the thinnest if none "
    "does.",
};
inline constexpr ReadingInfo fence_straightedge_readings[] = {
    {"bow", mm, "height of the bow over the whole fence, above 0 bellied, below 0 hollow"},
};

inline constexpr Steps fence_square_steps[] = {
    "Unplug the saw. Stand the square on the base, its blade against the face.",
    "Look for light at the top and at the bottom, and write down the middle between the thickest feeler gauge that "
    "goes in and the next; half the thinnest if none does.",
};
inline constexpr ReadingInfo fence_square_readings[] = {
    {"light", mm, "gap over the fence's height, above 0 open at the foot (the top leans to the board)"},
};

inline constexpr Steps clamp_watch_steps[] = {
    "Unplug the saw. Set the indicator against the fence at its left shim point.",
    "Loosen the clamps, tighten them as usual, and read how far the fence has moved.",
    "Do that three times more.",
};
inline constexpr ReadingInfo clamp_watch_readings[] = {
    {"moved_1", mm, "movement along the feed at the left shim point, above 0 away from you"},
    {"moved_2", mm, "the second time"},
    {"moved_3", mm, "the third time"},
    {"moved_4", mm, "the fourth time"},
};

inline constexpr Steps edge_straightedge_steps[] = {
    "At the bench, lay the straightedge along the edge that goes on the fence.",
    "If it rocks, the edge is bellied; if light shows in the middle, it is hollow.",
    "Write down the middle between the thickest feeler gauge that goes in and the next; half the thinnest if none "
    "does.",
};
inline constexpr ReadingInfo edge_straightedge_readings[] = {
    {"bow", mm, "height of the bow over the edge, above 0 bellied outwards"},
};

inline constexpr Steps wiggle_steps[] = {
    "Unplug the saw. Set the sled so that its runners are fully in the mitre slots, and stand the indicator on the "
    "table "
    "against its base at the front end of the runners.",
    "Push the sled hard to the left and to the right there, and read the difference.",
    "Do the same at the rear end.",
};
inline constexpr ReadingInfo wiggle_readings[] = {
    {"front", mm, "movement at the far end of the runners"},
    {"rear", mm, "movement at the near end"},
};

inline constexpr Steps runner_fit_steps[] = {
    "Unplug the saw, take the sled off, and read the width of each mitre slot in the middle of the table.",
    "Read the width of each runner.",
};
inline constexpr ReadingInfo runner_fit_readings[] = {
    {"left_slot", mm, "width of the left slot"},
    {"left_runner", mm, "width of the left runner"},
    {"right_slot", mm, "width of the right slot"},
    {"right_runner", mm, "width of the right runner"},
};

inline constexpr Steps runner_spacing_steps[] = {
    "Unplug the saw and take the sled off. Set the bar between the inner walls of the mitre slots in the middle of the "
    "table; add half the width of each slot.",
    "Set it between the inner faces of the runners in the middle of the sled; add half the width of each runner.",
};
inline constexpr ReadingInfo runner_spacing_readings[] = {
    {"slots", mm, "from middle to middle of the slots"},
    {"runners", mm, "from middle to middle of the runners"},
};

inline constexpr Steps runner_straightedge_steps[] = {
    "Unplug the saw and take the sled off. Turn it over and lay the straightedge along the left runner's right side.",
    "If it rocks, the runner is bellied; if light shows in the middle, it is hollow.",
    "Write down the middle between the thickest feeler gauge that goes in and the next; half the thinnest if none "
    "does.",
};
inline constexpr ReadingInfo runner_straightedge_readings[] = {
    {"bow", mm, "height of the bow over the runner, above 0 bulging to the right"},
};

inline constexpr Steps slot_widths_steps[] = {
    "Unplug the saw and take the sled off. Set the bar between the inner walls of the two mitre slots at the near edge "
    "of "
    "the table.",
    "Do the same at the far edge.",
};
inline constexpr ReadingInfo slot_widths_readings[] = {
    {"near", mm, "between the slots at the near edge"},
    {"far", mm, "between the slots at the far edge"},
};

inline constexpr Steps slot_ride_steps[] = {
    "Unplug the saw and take the sled off. Stand the indicator on a close-fitting block in the left mitre slot, and "
    "hold "
    "the block against the same side of the slot all the way.",
    "Clamp the straightedge to the table beside the slot, so that the indicator reads the same against it at both ends "
    "of the block's way.",
    "Slide the block to the middle of the table and read.",
};
inline constexpr ReadingInfo slot_ride_readings[] = {
    {"middle", mm, "departure in the middle of the block's way, above 0 to the right"},
};

inline constexpr Steps tooth_indicator_steps[] = {
    "Unplug the saw. Mark one tooth and turn it to the front, level with the table.",
    "Stand the indicator on a close-fitting block in the left mitre slot, held against one side of the slot, its tip "
    "against the side of that tooth.",
    "Turn the same tooth to the rear and slide the block there, held against the same side.",
};
inline constexpr ReadingInfo tooth_indicator_readings[] = {
    {"front", mm, "reading at the near side of the blade, growing to the right"},
    {"rear", mm, "reading at the far side"},
};

inline constexpr Steps rim_indicator_steps[] = {
    "Unplug the saw. Stand the indicator against the plate just below the teeth.",
    "Turn the blade by hand through a whole turn and read the least and the greatest.",
};
inline constexpr ReadingInfo rim_indicator_readings[] = {
    {"wobble", mm, "greatest less least"},
};

inline constexpr Steps blade_square_steps[] = {
    "Unplug the saw, and raise the blade.",
    "Stand the square on the table against the right side of the plate, clear of the teeth.",
    "Look for light between the two, and write down the middle between the thickest feeler gauge that goes in and the "
    "next; half the thinnest if none does.",
};
inline constexpr ReadingInfo blade_square_readings[] = {
    {"light", mm, "gap over the blade's height less 10 mm, above 0 open at the foot (the top leans to the right)"},
};

inline constexpr Steps jaws_steps[] = {
    "Wipe the jaws and close them.",
    "Read, open, close and read again, four times in all; take the mean.",
};
inline constexpr ReadingInfo jaws_readings[] = {
    {"closed", mm, "what the closed caliper shows, mean of four"},
};

inline constexpr Steps gauge_in_jaws_steps[] = {
    "Read a feeler gauge of 0.50 mm, then stacks made up with shim stock to 0.53, 0.57, 0.62 and 0.68 mm.",
    "Take from each reading what the gauge is marked.",
};
inline constexpr ReadingInfo gauge_in_jaws_readings[] = {
    {"off_1", mm, "reading less gauge, 0.50 mm"},
    {"off_2", mm, "0.53 mm"},
    {"off_3", mm, "0.57 mm"},
    {"off_4", mm, "0.62 mm"},
    {"off_5", mm, "0.68 mm"},
};

inline constexpr Steps push_through_steps[] = {
    "Unplug the saw and lower the blade below the table.",
    "Set the runners into the mitre slots and push the sled slowly with both hands, all the way past the blade.",
    "Where it sticks, do not force it: read with the tape how far the runners are past the table's near edge.",
};
inline constexpr ReadingInfo push_through_readings[] = {
    {"went", mm, "how far the runners went in before they stuck, or in words: goes; does not go in"},
};

inline constexpr Steps board_end_steps[] = {
    "Lay a board on the fence. Clamp the indicator to the fence so that its tip rests on the board's end, on the side "
    "away from the blade, and set it to zero.",
    "Make one cut as usual, then hold still, switch off and wait until the blade has stopped. Only then read the "
    "indicator.",
};
inline constexpr ReadingInfo board_end_readings[] = {
    {"slid", mm, "how far the board has slid along the fence during the cut, above 0 to the right"},
};

inline constexpr Steps stop_pieces_steps[] = {
    "Cut three pieces of about 60 mm to the stop block, each pushed up against it alike and held down by a clamp, not "
    "by "
    "fingers.",
    "After every cut hold still, switch off and wait until the blade has stopped; only then take the piece away.",
    "Mark them in their order, and read their lengths.",
};
inline constexpr ReadingInfo stop_pieces_readings[] = {
    {"piece_1", mm, "length of the first piece"},
    {"piece_2", mm, "of the second"},
    {"piece_3", mm, "of the third"},
};

inline constexpr Steps second_caliper_steps[] = {
    "At the bench, mark a place on each of three scraps, about 12, 31 and 58 mm wide.",
    "Read each place with your caliper, and with another one that you trust.",
};
inline constexpr ReadingInfo second_caliper_readings[] = {
    {"own_1", mm, "first scrap, with your caliper"},  {"other_1", mm, "first scrap, with the other"},
    {"own_2", mm, "second scrap, with your caliper"}, {"other_2", mm, "second scrap, with the other"},
    {"own_3", mm, "third scrap, with your caliper"},  {"other_3", mm, "third scrap, with the other"},
};

inline constexpr Steps half_turn_steps[] = {
    "Unplug the saw. Set the indicator against the blade's body near the rim, turn the blade by hand once round, and "
    "read how much it moves in all.",
    "Mark blade and arbor. Loosen the nut, turn the blade half round on the arbor, tighten the nut again.",
    "Turn once round and read again.",
};
inline constexpr ReadingInfo half_turn_readings[] = {
    {"as_found", mm, "wobble in all as the blade stood, 0 or above"},
    {"turned", mm, "the same with the blade turned half round, 0 or above"},
};

inline constexpr Steps diagonals_steps[] = {
    "A panel with two parallel edges, as large as the sled carries: cut one end with one of the edges on the fence.",
    "Hold still, switch off and wait until the blade has stopped. Turn the panel half round, without turning it over, "
    "so "
    "that the other edge lies on the fence, and cut the other end; wait again.",
    "Measure both diagonals with the tape.",
};
inline constexpr ReadingInfo diagonals_readings[] = {
    {"from_cut", mm, "the diagonal from the corner that was cut first at the fence"},
    {"other", mm, "the other diagonal, longer where that corner is wide"},
};

}  // namespace offsquare::measure::steps
