// How square a sled has been: one point for each test, with its give or take, and what was done between them.
#pragma once

#include <string>
#include <vector>

#include "diagnose/five_cut.h"
#include "saws/sled.h"

namespace offsquare::saws {

struct CurvePoint {
    int entry = 0;  ///< number of the entry
    Date date{};
    base::Uncertain skew_rad;   ///< of the fence with what stood behind it, by this strip alone; > 0: the left end is
                                ///< too near the operator
    base::Interval coverage95;  ///< [rad]
    diagnose::State state = diagnose::State::undecided;  ///< against what counted as square on that day
    double behind_left_mm = 0.0;                         ///< as marked
    double behind_right_mm = 0.0;
};

struct CurveEvent {
    int entry = 0;
    Date date{};
    std::string label;  ///< short: "shim 0.150 mm left", "slots waxed", "fence moved"
};

struct Curve {
    std::vector<CurvePoint> points;  ///< in the order of effect
    std::vector<CurveEvent> events;  ///< the same; remarks, sizes and drawers are no events
    /// Points and events in one order: true for a point. Both lists are taken from their front.
    std::vector<bool> is_point;
    double tolerance_rad = 0.0;  ///< as it is now
};

Curve curve_of(const Sled& sled, base::Units units);

}  // namespace offsquare::saws
