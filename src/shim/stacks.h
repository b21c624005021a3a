// Choosing pieces from a drawer, exactly.
#pragma once

#include <optional>
#include <vector>

#include "shop/drawing.h"

namespace offsquare::shim {

/// How many pieces of each drawer line. Where pieces are chosen from it, a missing or negative count is none.
using Count = std::vector<int>;

/// The choice whose total comes nearest to `target_mm`: no other choice within `available` is nearer. Among choices
/// equally near (within `equal_mm`) the fewest pieces, then the smallest uncertainty, then the first in the order of
/// the drawer. May be empty. Depth-first with bounds that never cut off a better choice.
Count nearest_stack(const std::vector<shop::Shim>& drawer, const Count& available, double target_mm,
                    double equal_mm = 1e-9);

/// Two choices of at most two pieces each, disjoint, whose difference (near - far) comes nearest to the target; ties as
/// above.
struct BothEnds {
    Count near;
    Count far;
    double difference_mm = 0.0;
};
BothEnds nearest_pair(const std::vector<shop::Shim>& drawer, const Count& available, double target_mm,
                      double equal_mm = 1e-9);

int pieces_in(const Count& count);
double thickness_of(const std::vector<shop::Shim>& drawer, const Count& count);
double variance_of(const std::vector<shop::Shim>& drawer,
                   const Count& count);  ///< sum of u^2 over the pieces, taken as independent [mm^2]

}  // namespace offsquare::shim
