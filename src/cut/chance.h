// What chance does at each cut: a chip between board and fence, and where the hand happens to push.
#pragma once

#include <array>
#include <cstdint>
#include <optional>

#include "contact/runners.h"
#include "contact/seating.h"
#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::cut {

/// One cut's share of chance.
struct Chance {
    contact::Push push;
    std::optional<contact::Chip> chip;
};
using Chances = std::array<Chance, 5>;

/// Every cut pushed alike, and no chip.
Chances alike(const contact::Push& push);

/// No chip, and a hand that always pushes as the drawing says; a wandering one pushes in the middle.
Chances steady(const shop::Drawing& drawing);

/// Drawn for one test: a chip of the truth's thickness at every second cut, anywhere along the edge; a wandering hand
/// presses to either side, at most one guided length off the middle.
Chances chances_of(const shop::Drawing& drawing, const shop::Truth& truth, std::uint64_t seed, std::uint32_t test);

}  // namespace offsquare::cut
