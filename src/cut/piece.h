// Pieces of wood as polygons, and cutting them.
#pragma once

#include <boost/container/small_vector.hpp>
#include <cstdint>
#include <optional>

#include "base/frame.h"
#include "shop/drawing.h"

namespace offsquare::cut {

using base::Vec2;

/// A point of an outline, and which cut made the edge that starts there (0: not cut; 1..5: that cut).
struct Corner {
    Vec2 p;
    int made_by = 0;
};

/// A simple polygon, counter-clockwise. Holds 12 corners without allocating.
using Piece = boost::container::small_vector<Corner, 12>;

Piece moved(const base::Pose& X_BA, const Piece& piece);  ///< the same piece in another frame
void move_to(const base::Pose& X_BA, const Piece& piece,
             Piece& result);  ///< the same into a piece that is there already

/// A cut face as a graph over y: x = f(y), straight between points; two points for a straight cut. Strictly increasing
/// y.
using Face = boost::container::small_vector<Vec2, 4>;

/// x of the face at y; the first and last parts go on beyond the ends.
double x_at(const Face& face, double y);

/// The part of the piece left of the face, x <= f(y), or right of it, into a piece that is there already, whose old
/// corners are dropped. Edges that the face makes are marked `made_by = cut`. Empty piece: nothing there. False: the
/// face meets the outline in more than two points, i.e. there would be more than one part; what `part` holds then means
/// nothing.
bool take_part(const Piece& piece, const Face& face, shop::Side side, int cut, Piece& part);

/// Whether there would be one part at most, without making it.
bool one_part(const Piece& piece, const Face& face, shop::Side side);

/// Whether a face of which only this is known would surely part the piece into one left of it and one right of it: it
/// lies within `off` of x = x_mm and leans by no more than `steepest` (dx/dy). False: it may or may not.
bool surely_parts(const Piece& piece, double x_mm, double off_mm, double steepest);

/// Points along a face that a cut made.
using Chain = boost::container::small_vector<Vec2, 4>;

/// The chain of points that cut `cut` made, in outline order; empty when it made none.
Chain chain_made_by(const Piece& piece, int cut);
void chain_made_by(const Piece& piece, int cut, Chain& chain);  ///< the same into a chain that is there already

}  // namespace offsquare::cut
