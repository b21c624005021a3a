// The area of a piece, for tests that add up what a cut parts.
#pragma once

#include "cut/piece.h"

namespace area {

/// [mm^2], > 0 for counter-clockwise; the shoelace formula.
inline double area_mm2(const offsquare::cut::Piece& piece) {
    if (piece.size() < 3) return 0.0;
    double twice = 0.0;
    // About the first corner, so that a piece far from the origin loses no digits.
    const auto o = piece.front().p;
    for (std::size_t i = 1; i + 1 < piece.size(); ++i) twice += cross(piece[i].p - o, piece[i + 1].p - o);
    return 0.5 * twice;
}

}  // namespace area
