// Notation. The chord of the board's edge runs from A (left) to B (right); t is the place along it, d the height of the edge above its chord (towards the
// inside of the board). f(x) is the height of the fence's face above its line. Before seating, chord and line coincide and the gap between edge and
// face at t is  gap(t) = d(t) - f(x(t)). The board moves down and turns until the gap is nowhere negative and closes on both sides of the push: the
// closing line is the edge of the lower convex hull of the gap that lies under the push. A corner of the hull right under the push balances the board.
#include "contact/seating.h"

#include <algorithm>
#include <cmath>

#include <boost/container/small_vector.hpp>

#include "base/elementary.h"
#include "contact/walk.h"

namespace offsquare::contact {
namespace {

using Points = boost::container::small_vector<Vec2, 80>;

/// The edge in its own chord's coordinates.
struct Chord {
    Vec2 a;
    Vec2 along;        ///< unit vector A to B
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
    double from = 0.0;    ///< t where edge and face begin to face each other
    double to = 0.0;
};

/// The gap at all kinks of edge and face within the overlap, by increasing t, as its lower convex hull. A chip takes its thickness out of the gap.
Points gap_hull(const FenceFace& face, const Points& edge, const Overlap& over, double x_at_0, double x_per_t, const std::optional<Chip>& chip) {
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

/// The touch under the push at the middle of the overlap. Balanced on one corner the board could rock between two edges of the hull: it stays as
/// level as they let it, so that rounding does not choose.
Touch touch_of(const Points& hull, double push) {
    constexpr double rounding = 1e-9;
    std::size_t i = 1;
    while (i + 1 < hull.size() && hull[i].x < push - rounding) ++i;
    const double slope = rise(hull[i - 1], hull[i]);
    if (i + 1 == hull.size() || hull[i].x > push + rounding) return {hull[i - 1], hull[i], slope};
    return {hull[i], hull[i], std::clamp(0.0, slope, std::max(slope, rise(hull[i], hull[i + 1])))};
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
        face.profile = base::sum(face.profile, base::Profile::bow(face.from_mm, face.to_mm, truth.fence_bow_mm));
    }
    return face;
}

std::optional<Seat> seat_on_fence(const FenceFace& face, Edge edge, shop::Side corner, double corner_x_mm, const std::optional<Chip>& chip) {
    const Chord chord = chord_of(edge);
    const base::Pose X_SF = frame_on_line(face, corner_x_mm);
    const double t_corner = corner == shop::Side::right ? chord.length : 0.0;
    const double x_at_0 = corner_x_mm - t_corner * X_SF.r.c;
    const Overlap over{std::max(0.0, (face.from_mm - x_at_0) / X_SF.r.c), std::min(chord.length, (face.to_mm - x_at_0) / X_SF.r.c)};
    // Less than a millimetre of wood on the fence is no seat.
    if (!(over.to - over.from >= 1.0)) return std::nullopt;

    Touch touch{{over.from, 0.0}, {over.to, 0.0}, 0.0};
    if (edge.size() > 2 || !face.profile.straight() || chip) {
        Points places;
        for (const Vec2& p : edge) places.push_back(chord.place(p));
        touch = touch_of(gap_hull(face, places, over, x_at_0, X_SF.r.c, chip), 0.5 * (over.from + over.to));
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
