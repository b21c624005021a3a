// What anyone who stands at the saw knows: sizes read off with a tape, instruments, the shim drawer, the tolerance. No
// errors here: those are in truth.h, which the rooms that diagnose must not see.
//
// Table frame T: x to the right, y in the direction of feed (away from the operator), seen from above. Origin: the
// blade's centre, on the table. Sled frame S: axes as T when the sled stands square; origin where the blade's line
// meets the line of a square fence's face. The board lies on the far side (+y) of the fence and bears against it; the
// operator stands at -y.
#pragma once

#include <algorithm>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "base/profile.h"
#include "base/quantity.h"

namespace offsquare::shop {

enum class Side { left, right };  ///< as the operator sees it

struct Table {
    double width_mm = 700.0;  ///< across the slots, > 0
    double depth_mm = 560.0;  ///< along the slots, > 0; the blade's centre is in the middle
};

struct Blade {
    double diameter_mm = 250.0;
    double height_mm = 60.0;       ///< of the highest tooth above the table: 0 (down) to below the radius
    double full_height_mm = 80.0;  ///< as high as the saw can raise it
    double kerf_mm = 3.2;          ///< width over the teeth, > 0
};

struct Slots {
    double left_x_mm = -140.0;  ///< centre line of the left slot, < 0
    double right_x_mm = 140.0;  ///< centre line of the right slot, > 0
    double width_mm = 19.0;
};

/// How the hand presses the sled while it feeds: always to one side, to neither, so that it stands in the middle of
/// what is free (contact/clearance.h), or now here and now there.
enum class Hand { left, middle, right, wandering };

struct Sled {
    double width_mm = 620.0;           ///< base, across
    double depth_mm = 420.0;           ///< base, along
    double fence_from_rear_mm = 60.0;  ///< the fence's face from the base's rear edge
    double runner_length_mm = 420.0;   ///< centred on the base's depth
    Hand hand = Hand::right;
    double exit_cover_mm =
        190.0;  ///< how far the block behind the fence covers the blade where it comes out, from the fence's back
    double stop_y_mm = std::numeric_limits<double>::infinity();  ///< where the push stops: y of the fence's face in T;
                                                                 ///< infinite: the whole board passes the whole blade
};

/// The hand that pushes the sled, and what it pushes against.
struct Feed {
    double at_mm = 0.0;      ///< where the hand pushes: x in S, positive right
    double force_n = 100.0;  ///< the most that it gives [N], > 0; what one hand gives with ease, invented
    double friction = 0.25;  ///< coefficient between runner and slot wall, >= 0. Wood on steel 0.10 to 0.25 oven-dry,
                             ///< smooth dry wood 0.3 to 0.5 (USDA Wood Handbook, from memory); wax lowers it
    double base_drag_n = 15.0;   ///< drag of the base on the table [N], > 0; invented: a sled of 60 N at 0.25
    double blade_drag_n = 20.0;  ///< drag of the blade while it cuts [N], >= 0; hand feeds of 15 to 25 N (Kminiak and
                                 ///< Kubs, BioResources 11(4), 2016)
};

struct Fence {
    double length_mm = 560.0;  ///< centred on the blade
    double thickness_mm = 36.0;
    double height_mm = 110.0;
    double shim_left_x_mm = -250.0;  ///< x of the left shim point in S
    double shim_right_x_mm = 250.0;  ///< x of the right shim point in S, greater than the left
    double span_mm() const { return shim_right_x_mm - shim_left_x_mm; }
};

struct Board {
    double width_mm = 330.0;   ///< along the fence at the first cut
    double length_mm = 320.0;  ///< along the feed at the first cut
    double thickness_mm = 18.0;
    double trim_mm = 8.0;         ///< how much cuts 1 to 4 take off at the fence, kerf aside
    double strip_mm = 12.0;       ///< how wide the strip of the fifth cut is at the fence
    double first_edge_rad = 0.0;  ///< how far the rough first edge is from square to its neighbours (a parallelogram);
                                  ///< the test does not mind
    Side kept = Side::left;       ///< which side of the blade the kept piece lies on
    // How good its wood is where two pieces of it are laid together; one standard deviation each, invented. On the
    // fence, where the whole edge is pressed against a long face, none of it counts.
    double rough_mm = 0.005;    ///< fuzz and specks under each end of an edge that bears
    double marks_mm = 0.010;    ///< saw marks on a cut face, where another touches it or a gauge bears
    double parallel_mm = 0.02;  ///< how much wider it is at one end of its width than at the other
};

/// A caliper after the GUM: an indication rounded to `step`; an unknown error within `limit` of which a share is the
/// caliper's own, the same wherever it measures a like length, and the rest stays the same for one place of one piece;
/// a repeatability `repeat_mm` (one standard deviation), itself known from `repeat_readings` earlier readings.
struct Caliper {
    std::string name = "caliper";
    double step_mm = 0.01;
    double limit_mm = 0.03;  ///< limits of error up to 100 mm, half width; over more, caliper_limit_mm
    double repeat_mm = 0.01;
    int repeat_readings = 0;  ///< how many earlier readings gave repeat_mm; 0: taken as known
    /// Share of the limits that is the error of its scale: one for the caliper, so that it cancels between two like
    /// lengths, in [0, 1]. What is left changes from place to place: how parallel the jaws are, where on them and how
    /// the piece lies. Invented. 0: each place errs by itself, within the same limits over any length, as in sessions
    /// that were recorded before there was such a share.
    double cancels = 0.75;
};

/// Limits of error over this length, half width [mm]: `limit_mm` grows along the scale as the rows of DIN 862 do (from
/// memory). Steps up to 0.02 mm: 20 um up to 100 mm, 30 um from 200 mm on. Coarser: 50 um up to 300 mm, then 10 um more
/// for each 100 mm, 80 um from 600 mm on. Between two rows along a straight line, which the standard does not say.
double caliper_limit_mm(const Caliper& caliper, double length_mm);

/// Of the same, what does not cancel between two like lengths [mm].
double caliper_place_limit_mm(const Caliper& caliper, double length_mm);

struct Tape {
    double step_mm = 0.5;
    double limit_mm = 0.5;
};

/// A straightedge, laid against a face with its middle at the middle of what is looked at. Its own edge is bowed a
/// little, which way nobody knows; a parabola, always the same.
struct Straightedge {
    double length_mm = 600.0;
    double limit_mm = std::numeric_limits<double>::infinity();  ///< limits of its edge over all its length: the height
                                                                ///< of its bow to either side; infinite:
                                                                ///< straightedge_limit_mm says it
};

/// A set of feeler gauges, leaf by leaf: what is found is that one leaf goes in and the next does not.
struct Feelers {
    double step_mm = 0.05;  ///< the thinnest, and from leaf to leaf; 0.05 to 1.00 mm in twenty leaves is a usual set
                            ///< (from memory), more are two of them together. 0: read to hundredths, as in sessions
                            ///< that were recorded before there was such a set
};

/// What a dial indicator rides on: a block in a mitre slot that bears near its two ends on one of the slot's walls. A
/// hand holds it there, all but a share of its play (invented): so a reading is relative to the slot under the block,
/// and to how the block was held.
struct IndicatorBlock {
    double length_mm = 80.0;  ///< along the slot
    double play_mm = 0.05;    ///< narrower than its slot, invented
    double held_mm() const {
        return 0.2 * play_mm;
    }  ///< how well it is held to the wall: one standard deviation, each
       ///< time that it comes to rest; a fifth of the play, invented
};

/// Limits of a straightedge [mm]: its own, or those of DIN 874, grade 2, for its length L: 8 um + L/40000. Grade 1 has
/// 4 um + L/60000, grade 0 2 um + L/100000, grade 00 1 um + L/150000; all from memory.
double straightedge_limit_mm(const Straightedge& edge);

struct Shim {
    std::string name;           ///< "brass", "paper": a word of the shop
    double thickness_mm = 0.0;  ///< as marked
    double u_mm = 0.0;          ///< standard uncertainty of that thickness
    int count = 1;              ///< how many pieces are in the drawer
};

/// Everything known about the set-up.
struct Drawing {
    Table table;
    Blade blade;
    Slots slots;
    Sled sled;
    Feed feed;
    Fence fence;
    Board board;
    Caliper caliper;
    Tape tape;
    Straightedge straightedge;
    IndicatorBlock block;
    Feelers feelers;
    std::vector<Shim> drawer;
    double tolerance_rad = 0.00035;  ///< largest corner error that counts as square, > 0
};

/// Length of the blade's slot in the table: 2*sqrt(h*(D-h)); 0 when the blade is down. Circle segment.
double chord_mm(const Blade& blade);

/// The runners, or a part of them, along y in S.
struct RunnerReach {
    double rear = 0.0;  ///< the end towards the operator [mm]
    double front = 0.0;
    double middle() const { return 0.5 * (rear + front); }
};

/// The middle of both runners, which is that of the base: y in S [mm].
inline double runner_middle_mm(const Sled& sled) { return 0.5 * sled.depth_mm - sled.fence_from_rear_mm; }

inline RunnerReach runner_reach(const Sled& sled) {
    const double middle = runner_middle_mm(sled);
    return {middle - 0.5 * sled.runner_length_mm, middle + 0.5 * sled.runner_length_mm};
}

/// Of runners that reach so far, the part that lies over the table, and so in the slots, when the sled's origin is at
/// y = s in T. Front before rear: none of it does.
inline RunnerReach over_table(const RunnerReach& runners, double half_table_mm, double s_mm) {
    return {std::max(runners.rear, -half_table_mm - s_mm), std::min(runners.front, half_table_mm - s_mm)};
}

/// The same where it guides the sled; empty when it is shorter than a millimetre, which holds nothing.
inline std::optional<RunnerReach> guided_part(const RunnerReach& runners, double half_table_mm, double s_mm) {
    const RunnerReach part = over_table(runners, half_table_mm, s_mm);
    if (part.front - part.rear < 1.0) return std::nullopt;
    return part;
}

}  // namespace offsquare::shop
