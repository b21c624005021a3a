// With what each check is read: one gauge a reading, and how sure it is. What is read is drawn in measure/run_check.h,
// what is weighed in diagnose/observe.h, both from this.
#pragma once

#include <string>
#include <vector>

#include "measure/check.h"
#include "shop/drawing.h"

namespace offsquare::measure {

/// The gauge of each reading of a check, in the order of its readings; of one that reads strips those of nothing.
std::vector<Gauge> gauges_of(Check check, const shop::Drawing& drawing);

/// Where the limits of what a check is read with come from, in words: a standard, from memory or not, or invented.
std::string limits_from(Check check);

/// Standard uncertainty of one reading [mm].
double u_of(const Gauge& gauge);

/// The part of it that stays the same when the same check is made again with the same instruments [mm].
double u_lasting_of(const Gauge& gauge, bool errs_the_same);

/// Two pieces of one board, one turned over, pushed against a straightedge cut against cut (the flip test): how far
/// what is not the cut opens the gap or closes it, one standard deviation each [mm].
struct Butted {
    double seat_mm = 0.0;          ///< each piece bears on its edge at two points, a half of the board apart
    double parallel_mm = 0.0;      ///< the piece that was turned over bears on its other edge
    double marks_mm = 0.0;         ///< where the two faces touch, and where the gauge goes in
    double straightedge_mm = 0.0;  ///< of what it bears on: two seats beside each other on a bow stand at an angle;
                                   ///< above 0 where a bellied one opens the gap
};
Butted butted(const shop::Drawing& drawing);

/// What the bow of a straightedge's own edge does to a bow that is read with it over this length, for each mm of its
/// own: it is as high as the square of the share of it that is used. Over a face longer than itself it shows the bow of
/// its own length, and what is read is made up to the whole: the same again.
double straightedge_share(const shop::Straightedge& edge, double over_mm);

}  // namespace offsquare::measure
