// With what each check is read: one gauge a reading, and how sure it is. What is read is drawn in measure/run_check.h,
// what is weighed in diagnose/observe.h, both from this.
#pragma once

#include <vector>

#include "measure/check.h"
#include "shop/drawing.h"

namespace offsquare::measure {

/// The gauge of each reading of a check, in the order of its readings; of one that reads strips those of nothing.
std::vector<Gauge> gauges_of(Check check, const shop::Drawing& drawing);

/// Standard uncertainty of one reading [mm].
double u_of(const Gauge& gauge);

/// The part of it that stays the same when the same check is made again with the same instruments [mm].
double u_lasting_of(const Gauge& gauge, bool errs_the_same);

/// What the bow of a straightedge's own edge does to a bow that is read with it over this length, for each mm of its
/// own: it is as high as the square of the share of it that is used. Over a face longer than itself it shows the bow of
/// its own length, and what is read is made up to the whole: the same again.
double straightedge_share(const shop::Straightedge& edge, double over_mm);

}  // namespace offsquare::measure
