// Notation. The chord of the board's edge runs from A (left) to B (right); t is the place along it, d the height of the edge above its chord (towards the
// inside of the board). f(x) is the height of the fence's face above its line. Before seating, chord and line coincide and the gap between edge and
// face at t is  gap(t) = d(t) - f(x(t)). The board moves down and turns until the gap is nowhere negative and closes on both sides of the push: the
// closing line is the edge of the lower convex hull of the gap that lies under the push.
#include "contact/seating.h"

#include <algorithm>
#include <cmath>

#include <boost/container/small_vector.hpp>

#include "base/elementary.h"

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

/// Height of the edge above its chord at t; the edge's points have increasing t.
double height_at(const Points& edge, double t) {
    if (t <= edge.front().x) return edge.front().y;
    for (std::size_t i = 1; i < edge.size(); ++i) {
        if (t > edge[i].x) continue;
        const Vec2 a = edge[i - 1];
        const Vec2 b = edge[i];
        return b.x > a.x ? a.y + (b.y - a.y) * (t - a.x) / (b.x - a.x) : std::min(a.y, b.y);
    }
    return edge.back().y;
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

/// The two hull points under the push at the middle of the overlap.
struct Touch {
    Vec2 left;
    Vec2 right;
};

Touch touch_of(const FenceFace& face, const Points& edge, const Overlap& over, double x_at_0, double x_per_t) {
    Points ts;
    for (const Vec2& p : edge) ts.push_back({p.x, 0.0});
    for (const Vec2& p : face.profile.points()) ts.push_back({(p.x - x_at_0) / x_per_t, 0.0});
    ts.push_back({over.from, 0.0});
    ts.push_back({over.to, 0.0});
    std::sort(ts.begin(), ts.end(), [](Vec2 a, Vec2 b) { return a.x < b.x; });
    Points hull;
    for (const Vec2& p : ts) {
        if (p.x < over.from || p.x > over.to) continue;
        add_to_hull(hull, {p.x, height_at(edge, p.x) - face.profile.at(x_at_0 + x_per_t * p.x)});
    }
    const double push = 0.5 * (over.from + over.to);
    std::size_t i = 1;
    while (i + 1 < hull.size() && hull[i].x < push) ++i;
    return {hull[i - 1], hull[i]};
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

std::optional<Seat> seat_on_fence(const FenceFace& face, Edge edge, shop::Side corner, double corner_x_mm) {
    const Chord chord = chord_of(edge);
    const base::Pose X_SF = frame_on_line(face, corner_x_mm);
    const double t_corner = corner == shop::Side::right ? chord.length : 0.0;
    const double x_at_0 = corner_x_mm - t_corner * X_SF.r.c;
    const Overlap over{std::max(0.0, (face.from_mm - x_at_0) / X_SF.r.c), std::min(chord.length, (face.to_mm - x_at_0) / X_SF.r.c)};
    // Less than a millimetre of wood on the fence is no seat.
    if (!(over.to - over.from >= 1.0)) return std::nullopt;

    Touch touch{{over.from, 0.0}, {over.to, 0.0}};
    if (edge.size() > 2 || !face.profile.straight()) {
        Points places;
        for (const Vec2& p : edge) places.push_back(chord.place(p));
        touch = touch_of(face, places, over, x_at_0, X_SF.r.c);
    }
    // The chord comes to lie on the line through (t, -gap) of the two touching points.
    const double slope = -(touch.right.y - touch.left.y) / (touch.right.x - touch.left.x);
    const double height = -touch.left.y + slope * (t_corner - touch.left.x);
    const base::Turn r_FW = base::turn_to({1.0, slope}) * base::Turn{chord.along.x, chord.along.y}.back();
    const Vec2 p_corner_W = corner == shop::Side::right ? edge.back() : edge.front();
    const base::Pose X_FW{r_FW, Vec2{0.0, height} - r_FW * p_corner_W};
    return Seat{X_SF * X_FW, x_at_0 + touch.left.x * X_SF.r.c, x_at_0 + touch.right.x * X_SF.r.c};
}

}  // namespace offsquare::contact
