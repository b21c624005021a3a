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
    "Turn it clockwise, seen from above (counter-clockwise if you keep the piece right of the blade), so that the "
    "fresh edge lies on the fence, and trim the next edge, until all four are cut.",
    "With the fifth cut take a thin strip off the edge that was cut first. Leave it lying until the blade has stopped; "
    "then mark the end that lay at the fence.",
    "Read the strip's width at both ends, twice each, and its length between the two places.",
};
inline constexpr ReadingInfo five_cut_readings[] = {
    {"fence_end", mm, "width of the strip at the end that lay at the fence, mean of two"},
    {"far_end", mm, "width at the far end, mean of two"},
    {"length", mm, "between the two places"},
};

inline constexpr Steps same_again_steps[] = {
    "Do the five-cut test; after every cut hold still, switch off and wait until the blade has stopped.",
    "Change nothing, take a fresh board and do the test again.",
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
    "Before each cut, with the blade stopped and the saw unplugged, brush off the fence and the board, and look along "
    "the fence.",
    "Do the five-cut test; after every cut hold still, switch off and wait until the blade has stopped.",
    "Read the strip as usual, and compare it with that of a test without brushing.",
};
inline constexpr ReadingInfo brushed_readings[] = {
    {"fence_end", mm, "width of the strip at the end that lay at the fence, mean of two"},
    {"far_end", mm, "width at the far end, mean of two"},
    {"length", mm, "between the two places"},
};

inline constexpr Steps long_and_short_steps[] = {
    "Do the five-cut test with a board half as large: after every cut hold still, switch off and wait until the blade "
    "has stopped.",
    "Then do it with the full-size board.",
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
    "Crosscut a board with straight, parallel edges into two pieces. Hold still, switch off and wait until the blade "
    "has stopped; only then take both to the bench.",
    "Brush the edges and the cuts. Lay the kept piece against a straightedge with the edge that lay on the fence. Roll "
    "the offcut over so that its other long edge lies there, and butt cut against cut.",
    "Where the joint is open, write down the value half-way between the thickest feeler gauge that goes in and the "
    "next one up; if none goes in, half the thinnest. Over the length of the cut this gap is twice the corner error.",
    "Lay both on a flat table and look at the joint from the edge: a gap at the top or bottom is twice the bevel.",
};
inline constexpr ReadingInfo flip_readings[] = {
    {"gap", mm,
     "gap over the board's length along the feed, above 0 open at the edge that lay on the fence (the kept corner is "
     "wide), below 0 open at the other edge"},
    {"bevel_gap", mm,
     "gap over the board's thickness, above 0 open at the kept piece's underside, below 0 at its upper side"},
};

inline constexpr Steps square_on_cut_steps[] = {
    "Crosscut a piece. Hold still, switch off and wait until the blade has stopped; only then take it to the bench.",
    "Hold the stock of the square against the edge that lay on the fence.",
    "Bring the square's blade to the cut and hold both up to the light.",
    "At the open end, write down the value half-way between the thickest feeler gauge that goes in and the next one "
    "up; if none goes in, half the thinnest.",
};
inline constexpr ReadingInfo square_on_cut_readings[] = {
    {"light", mm,
     "gap over 150 mm, above 0 open at the edge that lay on the fence (the corner is wide), below 0 open at the other "
     "end"},
    {"bevel_light", mm,
     "gap over the board's thickness on the kept piece, above 0 open at the bottom, below 0 at the top"},
};

inline constexpr Steps cut_face_steps[] = {
    "At the bench, hold both faces of the last cut up to the light, the kept piece's and the offcut's.",
    "After a full pass the rear teeth have cut all of one face again: it is rougher or burnt, and its arcs run the "
    "other way.",
    "A fingernail feels the marks of single teeth there, but no step. Guess how much the rear teeth took off; if both "
    "faces look alike, write 0.",
};
inline constexpr ReadingInfo cut_face_readings[] = {
    {"marks", mm, "how much the rear teeth took off, guessed, 0 or above"},
};

inline constexpr Steps kerf_width_steps[] = {
    "Clamp a scrap hard to the fence, cut into it until the whole blade is past its edge, and stop there.",
    "Hold sled and scrap still where they are, switch off and wait until the blade has stopped. Unplug the saw.",
    "Read the width of the kerf at its open end, and the width over the teeth.",
    "Only then move the scrap.",
};
inline constexpr ReadingInfo kerf_width_readings[] = {
    {"kerf", mm, "width of the kerf"},
    {"teeth", mm, "width over the teeth"},
};

inline constexpr Steps fence_straightedge_steps[] = {
    "Unplug the saw, and lay the straightedge along the fence's face.",
    "If it rocks, the face is bellied: hold it so that the gaps at its two ends are equal, and measure one of them.",
    "If light shows in the middle, the face is hollow: measure there.",
    "Write down the value half-way between the thickest feeler gauge that goes in and the next one up; if none goes "
    "in, half the thinnest.",
};
inline constexpr ReadingInfo fence_straightedge_readings[] = {
    {"bow", mm, "height of the bow over the whole fence, above 0 bellied, below 0 hollow"},
};

inline constexpr Steps fence_square_steps[] = {
    "Unplug the saw. Stand the square on the sled's base, with its blade against the fence's face.",
    "Look for light at the top and at the bottom. Where it is open, write down the value half-way between the thickest "
    "feeler gauge that goes in and the next one up; if none goes in, half the thinnest.",
};
inline constexpr ReadingInfo fence_square_readings[] = {
    {"light", mm,
     "gap over the fence's height, above 0 open at the foot (the top leans to the board), below 0 at the top"},
};

inline constexpr Steps clamp_watch_steps[] = {
    "Unplug the saw. Set the tip of the indicator against the fence at its left shim point.",
    "Loosen the clamps, tighten them as usual, and read how far the fence has moved.",
    "Do this three more times.",
};
inline constexpr ReadingInfo clamp_watch_readings[] = {
    {"moved_1", mm, "movement along the feed at the left shim point, above 0 away from you, below 0 towards you"},
    {"moved_2", mm, "the second time"},
    {"moved_3", mm, "the third time"},
    {"moved_4", mm, "the fourth time"},
};

inline constexpr Steps edge_straightedge_steps[] = {
    "At the bench, lay the straightedge along the edge that goes on the fence.",
    "If it rocks, the edge is bellied: hold it so that the gaps at its two ends are equal. If light shows in the "
    "middle, the edge is hollow.",
    "Write down the value half-way between the thickest feeler gauge that goes in and the next one up; if none goes "
    "in, half the thinnest.",
};
inline constexpr ReadingInfo edge_straightedge_readings[] = {
    {"bow", mm, "height of the bow over the edge, above 0 bellied outwards, below 0 hollow"},
};

inline constexpr Steps wiggle_steps[] = {
    "Unplug the saw. Set the sled with its runners fully in the mitre slots. Stand the indicator on the table, its tip "
    "against the side of the sled's base, at the front end of the runners (the one far from you).",
    "Press the sled hard to the left and then to the right there, and read the difference.",
    "Do the same at the rear end, the one near you.",
};
inline constexpr ReadingInfo wiggle_readings[] = {
    {"front", mm, "movement at the front end of the runners, the one far from you"},
    {"rear", mm, "movement at the rear end, the one near you"},
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
    "Unplug the saw and take the sled off. Fit the inside bar between the inner walls of the two mitre slots in the "
    "middle of the table; add half the width of each slot.",
    "Fit it between the inner faces of the runners in the middle of the sled; add half the width of each runner.",
};
inline constexpr ReadingInfo runner_spacing_readings[] = {
    {"slots", mm, "from middle to middle of the slots"},
    {"runners", mm, "from middle to middle of the runners"},
};

inline constexpr Steps runner_straightedge_steps[] = {
    "Unplug the saw, take the sled off and turn it over. Take the runner that goes in the left mitre slot, and lay the "
    "straightedge along its side that faces the other runner.",
    "If it rocks, that side is bellied: hold it so that the gaps at its two ends are equal. If light shows in the "
    "middle, that side is hollow.",
    "Write down the value half-way between the thickest feeler gauge that goes in and the next one up; if none goes "
    "in, half the thinnest.",
};
inline constexpr ReadingInfo runner_straightedge_readings[] = {
    {"bow", mm,
     "height of the bow over the runner, above 0 bulging to the right, towards the other runner, below 0 to the left"},
};

inline constexpr Steps slot_widths_steps[] = {
    "Unplug the saw and take the sled off. Fit the inside bar between the inner walls of the two mitre slots at the "
    "table's near edge, and read it.",
    "Do the same at the table's far edge.",
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
    "Slide the block to the middle of the table and read the indicator.",
};
inline constexpr ReadingInfo slot_ride_readings[] = {
    {"middle", mm, "departure in the middle of the block's way, above 0 to the right, below 0 to the left"},
};

inline constexpr Steps tooth_indicator_steps[] = {
    "Unplug the saw. Mark one tooth and turn it by hand to the front (the side near you), just above the table.",
    "Stand the indicator on a close-fitting block in the left mitre slot, its tip against the left side of that tooth. "
    "Hold the block against one side of the slot, and read.",
    "Turn the same tooth to the rear, just as high above the table. Slide the block there, held against the same side "
    "of the slot, and read again.",
};
inline constexpr ReadingInfo tooth_indicator_readings[] = {
    {"front", mm, "reading at the front of the blade, near you; growing to the right"},
    {"rear", mm, "reading at the rear, far from you"},
};

inline constexpr Steps rim_indicator_steps[] = {
    "Unplug the saw. Set the tip of the indicator against the blade's plate just below the teeth.",
    "Turn the blade by hand through a whole turn and read the least and the greatest.",
};
inline constexpr ReadingInfo rim_indicator_readings[] = {
    {"wobble", mm, "greatest less least"},
};

inline constexpr Steps blade_square_steps[] = {
    "Unplug the saw, and raise the blade to the height given in the set-up.",
    "Stand the square on the table against the right side of the plate, clear of the teeth.",
    "Look for light between the two. Where it is open, write down the value half-way between the thickest feeler gauge "
    "that goes in and the next one up; if none goes in, half the thinnest.",
};
inline constexpr ReadingInfo blade_square_readings[] = {
    {"light", mm,
     "gap over the blade's height less 10 mm, above 0 open at the foot (the top leans to the right), below 0 at the "
     "top"},
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
    "Subtract from each reading what the gauges are marked.",
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
    "Where it sticks, do not force it. Measure with the tape how far the runners have gone in past the table's near "
    "edge.",
};
inline constexpr ReadingInfo push_through_readings[] = {
    {"went", mm, "how far the runners went in before they stuck, or in words: goes; does not go in"},
};

inline constexpr Steps board_end_steps[] = {
    "With the saw unplugged, lay a board against the fence. Clamp the indicator to the fence, well clear of the cut, "
    "with its tip on the end of the board away from the blade. Set it to zero.",
    "Plug in, hold the board just as you usually do, see that the indicator still shows zero, and make one cut. Hold "
    "still, switch off and wait until the blade has stopped; only then read the indicator.",
};
inline constexpr ReadingInfo board_end_readings[] = {
    {"slid", mm, "how far the board slid along the fence during the cut, above 0 to the right, below 0 to the left"},
};

inline constexpr Steps stop_pieces_steps[] = {
    "With the blade stopped, the saw unplugged and the sled drawn right back, set the stop block about 60 mm from the "
    "cut. Push the board "
    "up against it, and clamp down the short piece; do not hold it with your fingers.",
    "Plug in and make the cut. Hold still, switch off and wait until the blade has stopped; only then take the piece "
    "away.",
    "Cut two more in the same way, pushing the board up equally hard each time. Number the three in the order of "
    "cutting, and read their lengths at the bench.",
};
inline constexpr ReadingInfo stop_pieces_readings[] = {
    {"piece_1", mm, "length of the first piece"},
    {"piece_2", mm, "of the second"},
    {"piece_3", mm, "of the third"},
};

inline constexpr Steps second_caliper_steps[] = {
    "At the bench, take three scraps about 12, 31 and 58 mm wide, and mark on each where to measure.",
    "Read each width at its mark, with your own caliper and with another that you trust.",
};
inline constexpr ReadingInfo second_caliper_readings[] = {
    {"own_1", mm, "first scrap, with your caliper"},  {"other_1", mm, "first scrap, with the other"},
    {"own_2", mm, "second scrap, with your caliper"}, {"other_2", mm, "second scrap, with the other"},
    {"own_3", mm, "third scrap, with your caliper"},  {"other_3", mm, "third scrap, with the other"},
};

inline constexpr Steps half_turn_steps[] = {
    "Unplug the saw. Set the tip of the indicator against the blade's plate just below the teeth. Turn the blade by "
    "hand through a whole turn, and read how far it moves in all.",
    "Mark how the blade stands on the arbor. Loosen the nut, turn the blade half a turn on the arbor while the arbor "
    "stays put, and tighten the nut again. Keep your fingers off the teeth.",
    "Set the indicator to the same place. Turn the blade and arbor together through a whole turn, and read again.",
};
inline constexpr ReadingInfo half_turn_readings[] = {
    {"as_found", mm, "wobble in all, with the blade as you found it, 0 or above"},
    {"turned", mm, "the same after half a turn of the blade on the arbor, 0 or above"},
};

inline constexpr Steps diagonals_steps[] = {
    "Use a panel with two parallel edges, as large as the sled carries. With one of them against the fence, trim one "
    "end.",
    "Hold still, switch off and wait until the blade has stopped. Then lift the panel away, and mark the corner "
    "between this cut and the edge that lay on the fence.",
    "Turn the panel end for end without turning it over, so that its other parallel edge lies against the fence. Trim "
    "the other end; again hold still, switch off and wait until the blade has stopped.",
    "Measure both diagonals with the tape, the one from the marked corner first.",
};
inline constexpr ReadingInfo diagonals_readings[] = {
    {"from_cut", mm, "the diagonal from the marked corner, which was cut first"},
    {"other", mm, "the other diagonal, longer where the marked corner is wide"},
};

}  // namespace offsquare::measure::steps
