// How a board is put on the sled for each cut of a test, and how far the sled goes. Both roads to the strip start from
// here.
#pragma once

#include <optional>

#include "contact/seating.h"
#include "shop/drawing.h"

namespace offsquare::cut {

inline shop::Side other(shop::Side side) { return side == shop::Side::left ? shop::Side::right : shop::Side::left; }

/// How far the far end of the rough board stands aside of its near end, > 0 to the right [mm].
double lean_mm(const shop::Board& board);

/// How far beside the blade's line, on the side of the offcut, the board's corner is put for a cut, 1 to 5: so much
/// beside the blade's near side as is to come off [mm], > 0.
double beside_mm(const shop::Drawing& drawing, int cut);

/// From where to where the sled goes: from clear of the blade to past it, or to where the push stops. The margin covers
/// a skewed fence and the turned board's diagonal; it changes no number, and is given up where the runners would have
/// to leave the table for it. Empty: they would have to even without. A board that is not
/// `turned` for another cut needs only its length to pass.
struct Pass {
    double from = 0.0;
    double to = 0.0;
};
std::optional<Pass> pass_of(const shop::Drawing& drawing, const contact::FenceFace& face, bool turned = true);

}  // namespace offsquare::cut
