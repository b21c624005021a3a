// Whether words stand on one another.
#pragma once

#include <algorithm>

#include "picture/text_size.h"

namespace overlap {

/// True when the two share some room in both directions.
inline bool overlap(const offsquare::picture::Box& a, const offsquare::picture::Box& b) {
    return std::min(a.right, b.right) > std::max(a.left, b.left) &&
           std::min(a.bottom, b.bottom) > std::max(a.top, b.top);
}

}  // namespace overlap
