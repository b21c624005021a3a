// Notation. Everything in S as it is where the left piece is kept, in a mirror (every x changes its sign) where the
// right one is. A quadrilateral is the board on the fence, named by how it lies: bl and br on the fence, tl and tr away
// from it; br stands at the corner's place. A cut makes a fresh edge from C, on the fence, to Q. The board is then
// turned until that edge lies on the fence with Q at the corner's place: C becomes bl, Q br, tl becomes tr, bl becomes
// tl.
#include "cut/strip_ends.h"

#include <algorithm>

#include "cut/kerf.h"
#include "cut/set_up.h"
#include "shop/truth.h"

namespace offsquare::cut {
namespace {

using contact::FenceFace;
using shop::Drawing;
using shop::Side;
using shop::Truth;

/// What is nearer than this to the point where a test goes another way is left to the long road; rounding is some 1e-13
/// mm.
constexpr double clear_mm = 1e-3;

/// A shorter edge on the fence, or of the strip, is left to the long road: by rounding at its ends it would turn the
/// board by more than is promised.
constexpr double shortest_mm = 50.0;

struct Board4 {
    Vec2 bl;
    Vec2 br;
    Vec2 tr;
    Vec2 tl;
    double lowest() const { return std::min(std::min(bl.y, br.y), std::min(tr.y, tl.y)); }
};

/// How far p lies to the left of a face [mm].
double left_by(const FaceLine& face, Vec2 p) { return face.at_0 + face.slope * p.y - p.x; }

/// Where a face crosses the edge from p, on its right, to q, on its left. Empty: it does not cross it clearly.
std::optional<Vec2> crossing(const FaceLine& face, Vec2 p, Vec2 q) {
    const double p_left = left_by(face, p);
    const double q_left = left_by(face, q);
    if (!(p_left < -clear_mm && q_left > clear_mm)) return std::nullopt;
    return p + (p_left / (p_left - q_left)) * (q - p);
}

/// What stays the same in all five cuts.
struct Lines {
    base::Turn fence;   ///< direction of the fence's face
    Vec2 trim_corner;   ///< where the board's corner stands for cuts 1 to 4
    Vec2 strip_corner;  ///< and for the fifth
    FaceLine kept_face;
    FaceLine strip_face;
    double lowest = 0.0;  ///< the least y of a board all of which meets what it must of the blade
};

FaceLine mirrored(const FaceLine& face) { return {-face.at_0, -face.slope}; }

/// Where the corner stands for a cut. Empty: the face does not reach a millimetre to its left and up to it.
std::optional<Vec2> corner_place(const Drawing& d, const FenceFace& face, double slope, int cut) {
    const double x = beside_mm(d, cut);
    const double half = 0.5 * (face.to_mm - face.from_mm);
    if (!(x < half - clear_mm && x + half > 1.0 + clear_mm)) return std::nullopt;
    return Vec2{x, slope * x + face.offset_mm};
}

bool all_alike(const Chances& chances) {
    return std::all_of(chances.begin(), chances.end(),
                       [&](const Chance& c) { return !c.chip && c.push == chances.front().push; });
}

std::optional<Lines> lines_of(const Drawing& d, const Truth& truth, const contact::Shims& shims,
                              const contact::Push& push) {
    const FenceFace face = contact::fence_face(d, truth, shims);
    if (!face.profile.straight()) return std::nullopt;
    const std::optional<Pass> pass = pass_of(d, face);
    if (!pass) return std::nullopt;
    const auto pose = contact::steady_pose(d, truth, push, pass->from, pass->to);
    if (!pose) return std::nullopt;
    const StraightKerf kerf = straight_kerf(d.blade, truth, *pose);
    const bool left = d.board.kept == Side::left;
    const double slope = left ? face.slope : -face.slope;
    const auto trim_corner = corner_place(d, face, slope, 1);
    const auto strip_corner = corner_place(d, face, slope, 5);
    if (!trim_corner || !strip_corner) return std::nullopt;
    return Lines{base::turn_to({1.0, slope}),
                 *trim_corner,
                 *strip_corner,
                 left ? kerf.left : mirrored(kerf.right),
                 left ? kerf.right : mirrored(kerf.left),
                 kerf.meets_mm - pass->to + clear_mm};
}

/// The rough board on the fence.
Board4 rough_on_fence(const Drawing& d, const Lines& lines) {
    const double lean = d.board.kept == Side::left ? lean_mm(d.board) : -lean_mm(d.board);
    const Vec2 br = lines.trim_corner;
    const Vec2 bl = br + lines.fence * Vec2{-d.board.width_mm, 0.0};
    const Vec2 up = lines.fence * Vec2{lean, d.board.length_mm};
    return {bl, br, br + up, bl + up};
}

/// Cuts, and turns the board for the next cut. Empty: not clearly a quadrilateral with one fresh edge.
std::optional<Board4> cut_and_turned(const Board4& board, const Lines& lines, base::Turn turn, Vec2 next_corner) {
    if (board.lowest() < lines.lowest) return std::nullopt;
    const auto C = crossing(lines.kept_face, board.br, board.bl);
    const auto Q = crossing(lines.kept_face, board.tr, board.tl);
    if (!C || !Q || Q->y - C->y < shortest_mm) return std::nullopt;
    const auto place = [&](Vec2 p) { return next_corner + turn * (p - *Q); };
    return Board4{place(*C), next_corner, place(board.tl), place(board.bl)};
}

/// Width from a point of the old edge square to it, over to the strip's face.
double width_at(Vec2 p, Vec2 inward, const FaceLine& face) {
    return left_by(face, p) / (inward.x - face.slope * inward.y);
}

/// The fifth cut. The board's right edge is the old one: what lies right of the strip's face is the strip.
std::optional<StripEnds> strip_of(const Board4& board, const Lines& lines) {
    if (board.lowest() < lines.lowest) return std::nullopt;
    for (const FaceLine& face : {lines.kept_face, lines.strip_face}) {
        if (!crossing(face, board.br, board.bl) || !crossing(face, board.tr, board.tl)) return std::nullopt;
    }
    const Vec2 old_edge = board.tr - board.br;
    const double length = norm(old_edge);
    if (length < shortest_mm) return std::nullopt;
    const Vec2 inward = left_of((1.0 / length) * old_edge);
    return StripEnds{width_at(board.br, inward, lines.strip_face), width_at(board.tr, inward, lines.strip_face),
                     length};
}

bool straight_board(const Drawing& d, const Truth& truth) {
    return truth.edge_bow_mm == 0.0 && truth.edge_profile.straight() && d.board.width_mm >= shortest_mm &&
           d.blade.height_mm > d.board.thickness_mm;
}

}  // namespace

std::optional<StripEnds> straight_strip_ends(const Drawing& d, const Truth& truth, const contact::Shims& shims,
                                             const Chances& chances) {
    if (!straight_board(d, truth) || !all_alike(chances)) return std::nullopt;
    const std::optional<Lines> lines = lines_of(d, truth, shims, chances.front().push);
    if (!lines) return std::nullopt;
    // From along the fresh face to along the fence.
    const base::Turn turn = lines->fence * base::turn_to({lines->kept_face.slope, 1.0}).back();
    std::optional<Board4> board = rough_on_fence(d, *lines);
    for (int cut = 1; board && cut <= 4; ++cut)
        board = cut_and_turned(*board, *lines, turn, cut == 4 ? lines->strip_corner : lines->trim_corner);
    return board ? strip_of(*board, *lines) : std::nullopt;
}

StripEnds ends_of(const Strip& strip) {
    return {strip.width_at(0.0), strip.width_at(strip.length_mm), strip.length_mm};
}

StripTest strip_of(const FiveCut& test) {
    if (!test.strip) return {test.outcome, std::nullopt};
    return {test.outcome, ends_of(*test.strip)};
}

StripTest strip_test(const Drawing& drawing, const Truth& truth, const contact::Shims& shims, const Chances& chances) {
    if (const auto ends = straight_strip_ends(drawing, truth, shims, chances)) return {Outcome::done, ends};
    if (const auto ends = bare_strip_ends(drawing, truth, shims, chances)) return {Outcome::done, ends};
    return strip_of(five_cut_each(drawing, truth, shims, chances, Grain::coarse));
}

}  // namespace offsquare::cut
