#include "contact/bowed_guides.h"

#include <algorithm>
#include <cmath>

#include "contact/clearance.h"
#include "shop/truth.h"

namespace offsquare::contact {
namespace {

/// Highest place at `to` of a line from (from, x) that passes below a parabola, which opens upwards and passes above x.
double highest_below(const Parabola& above, double from, double x, double to) {
    if (above.a <= 0.0) return above.at(to);
    // The tangent at y passes a*(from - y)^2 below the parabola at `from`.
    const double away = std::sqrt(std::max(0.0, (above.at(from) - x) / above.a));
    if (away >= std::abs(to - from)) return above.at(to);
    return x + above.slope(to > from ? from + away : from - away) * (to - from);
}

/// Where the tangent from (end, x) touches the parabola, which opens upwards and passes above it there.
double touches(const Parabola& p, double end, double x) {
    const double away = std::sqrt(std::max(0.0, (p.at(end) - x) / p.a));
    return end > 0.0 ? end - away : end + away;
}

}  // namespace

Line through(double y0, double x0, double y1, double x1) {
    const double slope = (x1 - x0) / (y1 - y0);
    return {x0 - slope * y0, slope};
}

Line tangent(const Parabola& p, double y) { return {p.at(y) - p.slope(y) * y, p.slope(y)}; }

BowedGuides::BowedGuides(const shop::Drawing& d, const shop::Truth& t, double facing)
    : reach_(shop::runner_reach(d.sled)),
      half_table_(0.5 * d.table.depth_mm),
      half_runner_(0.5 * (reach_.front - reach_.rear)),
      pitch_error_(facing * t.pitch_error_mm),
      splay_(facing * t.slot_splay_rad),
      wander_(facing * t.slot_wander_mm),
      bend_(facing * t.runner_bend_mm),
      left_play_(t.left_play_mm),
      right_play_(t.right_play_mm),
      per_slot_(wander_ / (half_table_ * half_table_)),
      per_runner_(bend_ / (half_runner_ * half_runner_)) {}

// Of all lines the one that is lowest at both ends is the lowest everywhere.
bool LineRoom::open() const {
    if (rear_.hi - rear_.lo < -closed_gap || front_.hi - front_.lo < -closed_gap) return false;
    // Between its ends the parabola hangs through by a*h^2 at most.
    if (std::min(above_.at(-h_) - rear_.lo, above_.at(h_) - front_.lo) >= above_.a * h_ * h_) return true;
    const Line lowest = through(-h_, rear_.lo, h_, front_.lo);
    const double nearest = std::clamp((lowest.slope - above_.b) / (2.0 * above_.a), -h_, h_);
    return above_.at(nearest) - lowest.at(nearest) >= -closed_gap;
}

double LineRoom::at_front() const { return std::min(front_.hi, highest_below(above_, -h_, rear_.lo, h_)) - front_.lo; }

double LineRoom::at_rear() const { return std::min(rear_.hi, highest_below(above_, h_, front_.lo, -h_)) - rear_.lo; }

Line LineRoom::highest(double push, double spacing) const {
    const Line by_ends = through(-h_, rear_.hi, h_, front_.hi);
    if (above_.a == 0.0) return by_ends;
    const double from_rear = touches(above_, -h_, rear_.hi);
    const double from_front = touches(above_, h_, front_.hi);
    // The ends are so near that the line between them passes below all of the parabola.
    if (from_rear >= from_front) return by_ends;
    if (push < from_rear) return through(-h_, rear_.hi, from_rear, above_.at(from_rear));
    if (push > from_front) return through(from_front, above_.at(from_front), h_, front_.hi);
    Line line = tangent(above_, push);
    if (push == 0.0 && spacing > 0.0) {
        const double free = above_.a * spacing;
        line.slope = std::clamp(0.0, line.slope - free, line.slope + free);
    }
    return line;
}

Line LineRoom::pressed_right(double push, double spacing) const {
    if (side_ < 0.0) {
        const Line lowest = through(-h_, rear_.lo, h_, front_.lo);
        return {-lowest.at_0, -lowest.slope};
    }
    const Line line = highest(push, spacing);
    // A wall on the other side may be in the way at one end: there it stands, and as high as it can at the other.
    if (line.at(-h_) < rear_.lo)
        return through(-h_, rear_.lo, h_, std::min(front_.hi, highest_below(above_, -h_, rear_.lo, h_)));
    if (line.at(h_) < front_.lo)
        return through(-h_, std::min(rear_.hi, highest_below(above_, h_, front_.lo, -h_)), h_, front_.lo);
    return line;
}

}  // namespace offsquare::contact
