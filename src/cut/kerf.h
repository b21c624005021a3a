// The kerf: what the blade takes as the sled carries the board past it.
#pragma once

#include "contact/runners.h"
#include "cut/piece.h"
#include "shop/drawing.h"
#include "shop/truth.h"

namespace offsquare::cut {

/// The two faces of the kerf in the sled frame.
struct Kerf {
    Face left;             ///< face of the piece that stays on the left, x = f(y)
    Face right;
    bool reaches = true;   ///< false: the travel ends before the blade has come through [from, to]
    bool whole = true;     ///< false: it ends before all of [from, to] has passed the whole chord; then a toed blade leaves its mark in the angle
};

/// The envelope of the blade's rectangle (kerf_mm wide, chord long, turned by the toe) over the travel, on a board that lies in [from, to] along y in S.
/// Exact at the stations (2 when the travel is constant and whole, else `stations`), straight between them.
Kerf kerf_of(const shop::Blade& blade, const shop::Truth& truth, const contact::Travel& travel, double from_mm, double to_mm, int stations = 33);

}  // namespace offsquare::cut
