#include "shop/drawing.h"

#include <algorithm>
#include <cmath>

namespace offsquare::shop {

double chord_mm(const Blade& blade) {
    if (blade.height_mm <= 0.0) return 0.0;
    return 2.0 * std::sqrt(blade.height_mm * (blade.diameter_mm - blade.height_mm));
}

double caliper_limit_mm(const Caliper& caliper, double length_mm) {
    if (caliper.cancels <= 0.0) return caliper.limit_mm;
    const bool coarse = caliper.step_mm > 0.035;
    const double share = coarse ? 0.2 * std::clamp(length_mm / 100.0 - 3.0, 0.0, 3.0)
                                : 0.5 * std::clamp(length_mm / 100.0 - 1.0, 0.0, 1.0);
    return caliper.limit_mm * (1.0 + share);
}

double caliper_place_limit_mm(const Caliper& caliper, double length_mm) {
    return (1.0 - caliper.cancels) * caliper_limit_mm(caliper, length_mm);
}

double straightedge_limit_mm(const Straightedge& edge) {
    return std::isfinite(edge.limit_mm) ? edge.limit_mm : 0.008 + edge.length_mm / 40.0 * 1e-3;
}

}  // namespace offsquare::shop
