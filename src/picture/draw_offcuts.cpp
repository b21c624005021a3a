#include <algorithm>

#include <fmt/format.h>

#include "picture/parts.h"
#include "session/as_known.h"

namespace offsquare::picture {
namespace {

constexpr int most_offcuts = 4;  // the fifth cut gives the strip, which is measured

struct Extent {
    Vec2 lo, hi;
};
Extent extent_of(const std::vector<Vec2>& outline) {
    Extent e{outline.front(), outline.front()};
    for (const Vec2& p : outline) {
        e.lo = {std::min(e.lo.x, p.x), std::min(e.lo.y, p.y)};
        e.hi = {std::max(e.hi.x, p.x), std::max(e.hi.y, p.y)};
    }
    return e;
}

/// The pieces that cuts took off, by the number of their cut: those of a saw without any error until the strip is read,
/// then of one with the skew that was read. The test's own once the truth is asked for.
std::vector<LaidOffcut> fallen(const Shown& shown) {
    std::vector<LaidOffcut> out;
    if (shown.test == nullptr || shown.cut < 2) return out;
    session::Offcuts pieces =
        shown.revealed != nullptr ? session::offcuts_of(*shown.revealed) : session::offcuts_as_known(*shown.test);
    for (int cut = 1; cut <= std::min(shown.cut - 1, most_offcuts); ++cut) {
        LaidOffcut piece{cut, std::move(pieces[static_cast<std::size_t>(cut - 1)])};
        if (piece.outline.size() >= 3) out.push_back(std::move(piece));  // else all of it went into chips
    }
    return out;
}

/// The edge of the runner's slot that looks away from the blade; -1: the one that looks to it. Before mirroring.
double slot_edge(const Scene& scene, double way) {
    const shop::Slots& s = scene.drawing().slots;
    return (scene.mirror > 0.0 ? s.right_x_mm : -s.left_x_mm) + way * 0.5 * s.width_mm;
}

/// Puts the piece with its near lower corner there.
void lay(LaidOffcut& piece, const Scene& scene, double near, double foot) {
    const Extent e = extent_of(piece.outline);
    const Vec2 shift = Vec2{scene.mirror * near, foot} - Vec2{scene.mirror > 0.0 ? e.lo.x : e.hi.x, e.lo.y};
    for (Vec2& p : piece.outline) p = p + shift;
}

}  // namespace

OffcutPile offcut_pile(const Scene& scene, double page) {
    OffcutPile pile{fallen(scene.shown), 0.0, 0.0, 0.0, true};
    if (pile.pieces.empty()) return pile;
    const shop::Drawing& d = scene.drawing();
    const double outer = 0.5 * d.sled.width_mm - 2.0;
    const double room = outer - slot_edge(scene, 1.0) - 0.015 * page;
    double widest = 0.0;
    for (const LaidOffcut& p : pile.pieces)
        widest = std::max(widest, extent_of(p.outline).hi.x - extent_of(p.outline).lo.x);
    const double wanted = widest + 0.026 * page;
    pile.step = std::min(wanted, std::max(room / most_offcuts, 4.0));
    pile.roomy = pile.step >= wanted;
    pile.near = outer - most_offcuts * pile.step;
    // Above the name of the strip, below the reading of its far end.
    pile.words_y = strip_middle(scene) + 0.085 * page;
    // The name of a thin fence stands on the base before it.
    const double name = d.fence.thickness_mm < 30.0 ? 0.035 * page : 0.0;
    const double foot = std::max(scene.face(scene.mirror * pile.near), scene.face(scene.mirror * outer)) + 6.0 + name;
    for (LaidOffcut& p : pile.pieces) lay(p, scene, pile.near + (p.cut - 1) * pile.step, foot);
    return pile;
}

void add_offcuts(const Scene& scene, const OffcutPile& pile, Picture& out) {
    for (const LaidOffcut& p : pile.pieces)
        add(out, Polygon{scene.table(p.outline), Role::board, Role::grain, 1.0, false, 0.7}, Handle::laid_aside);
}

void add_offcut_names(const Scene& scene, const OffcutPile& pile, Picture& out) {
    if (pile.pieces.empty()) return;
    const double m = scene.mirror;
    for (const LaidOffcut& p : pile.pieces) {
        const Extent e = extent_of(p.outline);
        const double down =
            pile.roomy ? 0.0 : 16.0 * (p.cut - 1);  // in steps where the pieces lie closer than their numbers are wide
        add(out, Words{scene.table({m > 0.0 ? e.hi.x : e.lo.x, pile.words_y}),
                       {m * 3.0, 4.5 + down},
                       fmt::format("{}", p.cut),
                       Role::text,
                       12.5,
                       Weight::medium,
                       m > 0.0 ? Align::left : Align::right});
    }
    // Their common name stands on the blade's side of the runner, with a line to the pile.
    const Vec2 foot = scene.table({m * slot_edge(scene, -1.0), pile.words_y});
    add(out, Line{{foot, scene.table({m * pile.near, pile.words_y})}, Role::text, 1.0, false, false, 0.8});
    add(out,
        Words{
            foot, {m * -6.0, 4.5}, "offcuts", Role::text, 12.5, Weight::regular, m > 0.0 ? Align::right : Align::left});
    add(out, Words{foot,
                   {m * -6.0, 20.5},
                   "life size",
                   Role::text,
                   12.5,
                   Weight::regular,
                   m > 0.0 ? Align::right : Align::left});
}

}  // namespace offsquare::picture
