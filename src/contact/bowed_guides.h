// Both runners in their slots to first order: plays, bows, splay and yaw are taken as small, the yaw's cosine is 1 and
// a bow is a parabola. Then what stops the sled is a parabola over the left runner and a straight line over the right
// one, and much can be written down that contact/runners.h has to look for.
//
// Where it stops: bows and straight faces only.
#pragma once

#include <algorithm>
#include <optional>

#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::contact {

/// c + b*y + a*y^2.
struct Parabola {
    double c = 0.0;
    double b = 0.0;
    double a = 0.0;
    double at(double y) const { return c + y * (b + y * a); }
    double slope(double y) const { return b + 2.0 * a * y; }
};

struct Line {
    double at_0 = 0.0;
    double slope = 0.0;
    double at(double y) const { return at_0 + slope * y; }
};
Line through(double y0, double x0, double y1, double x1);
Line tangent(const Parabola& parabola, double y);

/// Slot's centre line less the runner's at one place of the travel, for a sled that stands square; y from the middle of
/// the guided length, from -h to h [mm].
struct Offsets {
    Parabola left;
    Line right;
    double h = 0.0;
    double middle = 0.0;     ///< of the guided length, y in S
    double on_runner = 0.0;  ///< the same from the middle of the runners
};

class BowedGuides {
public:
    /// Seen in a mirror where `facing` is -1 (every x changes its sign); +1 as they are.
    BowedGuides(const shop::Drawing& drawing, const shop::Truth& truth, double facing);
    /// Empty: nothing of the runners lies over the table.
    std::optional<Offsets> at(double s_mm) const;
    double left_play() const { return left_play_; }
    double right_play() const { return right_play_; }
    double half_runner() const { return half_runner_; }

private:
    shop::RunnerReach reach_;
    double half_table_;
    double half_runner_;
    double pitch_error_;
    double splay_;
    double wander_;
    double bend_;
    double left_play_;
    double right_play_;
    double per_slot_;  ///< a bow of height w over [-H, H] is w - w/H^2*y^2
    double per_runner_;
};

/// The room for a sled at one place of its travel. A pose is a line over y that says how far the sled stands to the
/// right there: it must pass between the walls of both slots.
class LineRoom {
public:
    LineRoom(const Offsets& offsets, double left_play_mm, double right_play_mm);
    /// Down to contact::closed_gap of overlap.
    bool open() const;

    // The following of a room that is open.

    /// How far the sled moves sideways at y = h, and at y = -h [mm].
    double at_front() const;
    double at_rear() const;
    /// Where it stands when it is pressed to the right at y = push, which is between -h and h. `spacing`: of the places
    /// at which travel() looks along the runners, where the push acts at one of them; there it stands as nearly square
    /// as the two beside it let it. 0: nothing is looked at there.
    Line pressed_right(double push, double spacing) const;

private:
    /// Where a line may be at one end.
    struct Gap {
        double lo = 0.0;
        double hi = 0.0;
    };
    Line highest(double push, double spacing) const;

    double side_;     ///< -1: seen in a mirror, so that the parabola opens upwards, and only the upper wall of the left
                      ///< slot can be in the way between the ends
    Parabola above_;  ///< that wall
    double h_;
    Gap rear_;
    Gap front_;
};

// ---- asked for at 65 places of each of thousands of travels ----

inline std::optional<Offsets> BowedGuides::at(double s) const {
    const auto guided = shop::guided_part(reach_, half_table_, s);
    if (!guided) return std::nullopt;
    Offsets o;
    o.h = 0.5 * (guided->front - guided->rear);
    o.middle = guided->middle();
    o.on_runner = o.middle - reach_.middle();
    const double in_table = s + o.middle;
    o.left.c = 0.5 * pitch_error_ + wander_ - per_slot_ * in_table * in_table - bend_ +
               per_runner_ * o.on_runner * o.on_runner;
    o.left.b = 2.0 * (per_runner_ * o.on_runner - per_slot_ * in_table);
    o.left.a = per_runner_ - per_slot_;
    o.right = {-0.5 * pitch_error_ - splay_ * in_table, -splay_};
    return o;
}

inline LineRoom::LineRoom(const Offsets& o, double left_play, double right_play)
    : side_(o.left.a < 0.0 ? -1.0 : 1.0),
      above_{side_ * o.left.c + 0.5 * left_play, side_ * o.left.b, side_ * o.left.a},
      h_(o.h) {
    const auto gap_at = [&](double y) {
        const double left = above_.at(y);
        const double right = side_ * o.right.at(y);
        return Gap{std::max(left - left_play, right - 0.5 * right_play), std::min(left, right + 0.5 * right_play)};
    };
    rear_ = gap_at(-h_);
    front_ = gap_at(h_);
}

}  // namespace offsquare::contact
