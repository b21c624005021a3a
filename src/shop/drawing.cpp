#include "shop/drawing.h"

#include <cmath>

namespace offsquare::shop {

double chord_mm(const Blade& blade) {
    if (blade.height_mm <= 0.0) return 0.0;
    return 2.0 * std::sqrt(blade.height_mm * (blade.diameter_mm - blade.height_mm));
}

}  // namespace offsquare::shop
