// Notation. The chord of the board's edge runs from A (left) to B (right); t is the place along it, d the height of the
// edge above its chord (towards the inside of the board). f(x) is the height of the fence's face above its line. Before
// seating, chord and line coincide and the gap between edge and face at t is  gap(t) = d(t) - f(x(t)). The board moves
// down and turns until the gap is nowhere negative and closes on both sides of the push: the closing line is the edge
// of the lower convex hull of the gap that lies under the push. A corner of the hull right under the push balances the
// board.
#include "contact/seating.h"

#include <algorithm>
#include <cmath>

#include <boost/container/small_vector.hpp>

#include "base/elementary.h"
#include "contact/walk.h"
#include "shop/truth.h"

namespace offsquare::contact {
namespace {

using Points = boost::container::small_vector<Vec2, 80>;

/// The edge in its own chord's coordinates.
struct Chord {
    Vec2 a;
    Vec2 along;  ///< unit vector A to B
    double length = 0.0;
    Vec2 place(Vec2 p) const { return {dot(p - a, along), cross(along, p - a)}; }
};

Chord chord_of(Edge edge) {
    const Vec2 ab = edge.back() - edge.front();
    const double length = norm(ab);
    return {edge.front(), (1.0 / length) * ab, length};
}

/// Keeps the lower convex hull of points that come by increasing x.
void add_to_hull(Points& hull, Vec2 p) {
    while (hull.size() >= 2 && cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0.0) hull.pop_back();
    if (!hull.empty() && hull.back().x == p.x) {
        hull.back().y = std::min(hull.back().y, p.y);
        return;
    }
    hull.push_back(p);
}

struct Overlap {
    double from = 0.0;  ///< t where edge and face begin to face each other
    double to = 0.0;
};

/// The gap at all kinks of edge and face within the overlap, by increasing t, as its lower convex hull. A chip takes
/// its thickness out of the gap.
Points gap_hull(const FenceFace& face, const Points& edge, const Overlap& over, double x_at_0, double x_per_t,
                const std::optional<Chip>& chip) {
    const BrokenLine edge_line({edge.data(), edge.size()});
    const BrokenLine face_line({face.profile.points().data(), face.profile.points().size()});
    BrokenLine::Walk along_edge(edge_line);
    BrokenLine::Walk along_face(face_line);
    const Points::size_type n_face = face.profile.points().size();
    Points hull;
    const double t_per_x = 1.0 / x_per_t;
    const double t_chip = chip ? over.from + chip->place * (over.to - over.from) : over.to;
    bool laid = !chip;
    const auto gap = [&](double t) { return along_edge.at(t) - along_face.at(x_at_0 + x_per_t * t); };
    const auto add = [&](double t) {
        if (!laid && t >= t_chip) {
            laid = true;
            add_to_hull(hull, {t_chip, gap(t_chip) - chip->thickness_mm});
        }
        if (!chip || t != t_chip) add_to_hull(hull, {t, gap(t)});
    };
    add(over.from);
    std::size_t i = 0;
    std::size_t k = 0;
    while (i < edge.size() || k < n_face) {
        const double t_edge = i < edge.size() ? edge[i].x : over.to;
        const double t_face = k < n_face ? (face.profile.points()[k].x - x_at_0) * t_per_x : over.to;
        const double t = std::min(t_edge, t_face);
        if (t >= over.to) break;
        if (t > over.from) add(t);
        ++(t_edge <= t_face ? i : k);
    }
    add(over.to);
    return hull;
}

/// Where the closing line touches, and its rise over t.
struct Touch {
    Vec2 left;
    Vec2 right;
    double slope = 0.0;
};

double rise(Vec2 a, Vec2 b) { return (b.y - a.y) / (b.x - a.x); }

/// A bellied bow between the points that stand for it in the gap: there the gap is not straight but bends up by about
/// `bend` for each mm.
struct Belly {
    double bend = 0.0;
    double step = 0.0;   ///< between two points
    double first = 0.0;  ///< t of one of them

    /// Middle of the part between two points of the bow on which the middle of a and b lies. There the bow is as steep
    /// as the straight part.
    double middle_of(Vec2 a, Vec2 b) const {
        return first + step * (std::floor((0.5 * (a.x + b.x) - first) / step) + 0.5);
    }
    /// Whether both lie on the same part, or at its ends.
    bool spans(Vec2 a, Vec2 b) const {
        const double half = 0.5 * step + 1e-9;
        return bend > 0.0 && a.x >= middle_of(a, b) - half && b.x <= middle_of(a, b) + half;
    }
    /// How far the bow lies below the straight part from a to b at t.
    double below(Vec2 a, Vec2 b, double t) const {
        const double off = t - middle_of(a, b);
        return 0.5 * bend * (0.5 * step + off) * (0.5 * step - off);
    }
};

/// The gap's hull with its bow round again: how steep it is between its corners.
class SmoothHull {
public:
    SmoothHull(const Points& hull, const Belly& belly) : hull_(hull), belly_(belly) {}

    bool spans(std::size_t i) const { return belly_.spans(hull_[i - 1], hull_[i]); }
    double middle_of(std::size_t i) const { return belly_.middle_of(hull_[i - 1], hull_[i]); }
    bool one_part(std::size_t i, std::size_t k) const {
        return spans(i) && spans(k) && std::abs(middle_of(i) - middle_of(k)) < 0.5 * belly_.step;
    }

    /// Steepness of edge i (from corner i - 1 to corner i), which lies on the belly, at t: from the middle of one part
    /// to the middle of the next it changes steadily, as a parabola's does. At the end of the belly it goes on bending,
    /// until something else touches.
    double slope(std::size_t i, double t) const {
        const double own = rise(hull_[i - 1], hull_[i]);
        const double off = t - middle_of(i);
        const std::size_t next = beside(i, off < 0.0);
        if (next == 0 || next == hull_.size()) return own + belly_.bend * off;
        const double other = rise(hull_[next - 1], hull_[next]);
        if (spans(next)) return own + (other - own) * off / (middle_of(next) - middle_of(i));
        return off < 0.0 ? std::max(own + belly_.bend * off, other) : std::min(own + belly_.bend * off, other);
    }

private:
    /// The first edge before or after edge i that is not on the same part; 0 or the number of corners where there is
    /// none.
    std::size_t beside(std::size_t i, bool before) const {
        std::size_t k = before ? i - 1 : i + 1;
        while (k > 0 && k < hull_.size() && one_part(i, k)) before ? --k : ++k;
        return k;
    }

    const Points& hull_;
    const Belly& belly_;
};

/// Balanced on a corner of the hull the board could rock between two of its edges: it stays as level as they let it, so
/// that rounding does not choose.
double balanced(const Points& hull, std::size_t i, const Belly& belly) {
    const SmoothHull smooth(hull, belly);
    const double t = hull[i].x;
    if (smooth.spans(i) && smooth.spans(i + 1) && !smooth.one_part(i, i + 1)) return smooth.slope(i, t);
    const auto at_corner = [&](std::size_t k) {
        return rise(hull[k - 1], hull[k]) + (smooth.spans(k) ? belly.bend * (t - smooth.middle_of(k)) : 0.0);
    };
    const double least = at_corner(i);
    return std::clamp(0.0, least, std::max(least, at_corner(i + 1)));
}

/// The touch under the push at the middle of the overlap. On a belly that is one point, right under the push.
Touch touch_of(const Points& hull, double push, const Belly& belly) {
    constexpr double rounding = 1e-9;
    std::size_t i = 1;
    while (i + 1 < hull.size() && hull[i].x < push - rounding) ++i;
    const Vec2 a = hull[i - 1];
    const Vec2 b = hull[i];
    if (i + 1 < hull.size() && b.x <= push + rounding) return {b, b, balanced(hull, i, belly)};
    if (!belly.spans(a, b)) return {a, b, rise(a, b)};
    const Vec2 under{push, a.y + rise(a, b) * (push - a.x) - belly.below(a, b, push)};
    return {under, under, SmoothHull(hull, belly).slope(i, push)};
}

/// The fence's line as a frame at a given x: X along the line, Y towards the board.
base::Pose frame_on_line(const FenceFace& face, double x) {
    return {base::turn_to({1.0, face.slope}), {x, face.slope * x + face.offset_mm}};
}

}  // namespace

FenceFace fence_face(const shop::Drawing& drawing, const shop::Truth& truth, const Shims& shims) {
    const shop::Fence& f = drawing.fence;
    FenceFace face;
    const double skew = base::tan_of(truth.fence_skew_rad);
    face.slope = skew + (shims.right_mm - shims.left_mm) / f.span_mm();
    // At the right shim point the line stands at y = shims.right.
    face.offset_mm = shims.right_mm - face.slope * f.shim_right_x_mm;
    face.from_mm = -0.5 * f.length_mm;
    face.to_mm = 0.5 * f.length_mm;
    face.profile = truth.fence_profile;
    if (truth.fence_bow_mm != 0.0) {
        const base::Profile bow = base::Profile::bow(face.from_mm, face.to_mm, truth.fence_bow_mm);
        face.profile = base::sum(face.profile, bow);
        // A parabola of this height over this length; hollow, it is touched at its points alone.
        face.bow_per_mm = std::max(0.0, 8.0 * truth.fence_bow_mm / (f.length_mm * f.length_mm));
        face.bow_step_mm = bow.points()[1].x - bow.points()[0].x;
    }
    return face;
}

std::optional<Seat> seat_on_fence(const FenceFace& face, Edge edge, shop::Side corner, double corner_x_mm,
                                  const std::optional<Chip>& chip) {
    const Chord chord = chord_of(edge);
    const base::Pose X_SF = frame_on_line(face, corner_x_mm);
    const double t_corner = corner == shop::Side::right ? chord.length : 0.0;
    const double x_at_0 = corner_x_mm - t_corner * X_SF.r.c;
    const Overlap over{std::max(0.0, (face.from_mm - x_at_0) / X_SF.r.c),
                       std::min(chord.length, (face.to_mm - x_at_0) / X_SF.r.c)};
    // Less than a millimetre of wood on the fence is no seat.
    if (!(over.to - over.from >= 1.0)) return std::nullopt;

    Touch touch{{over.from, 0.0}, {over.to, 0.0}, 0.0};
    if (edge.size() > 2 || !face.profile.straight() || chip) {
        Points places;
        for (const Vec2& p : edge) places.push_back(chord.place(p));
        const Belly belly{face.bow_per_mm * X_SF.r.c * X_SF.r.c, face.bow_step_mm / X_SF.r.c,
                          (face.from_mm - x_at_0) / X_SF.r.c};
        touch = touch_of(gap_hull(face, places, over, x_at_0, X_SF.r.c, chip), 0.5 * (over.from + over.to), belly);
    }
    // The chord comes to lie on the line through (t, -gap) of the touching points.
    const double slope = -touch.slope;
    const double height = -touch.left.y + slope * (t_corner - touch.left.x);
    const base::Turn r_FW = base::turn_to({1.0, slope}) * base::Turn{chord.along.x, chord.along.y}.back();
    const Vec2 p_corner_W = corner == shop::Side::right ? edge.back() : edge.front();
    const base::Pose X_FW{r_FW, Vec2{0.0, height} - r_FW * p_corner_W};
    return Seat{X_SF * X_FW, x_at_0 + touch.left.x * X_SF.r.c, x_at_0 + touch.right.x * X_SF.r.c};
}

}  // namespace offsquare::contact
