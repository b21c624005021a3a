// Notation. A pose is a line over y (along the runners): how far the sled stands to the right there. It must run
// between lo and hi at every place; both runners count in each.
#include "session/slide.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/elementary.h"
#include "contact/clearance.h"
#include "shop/truth.h"

namespace offsquare::session {
namespace {

constexpr std::size_t places = Slide::places;
using List = Slide::List;
using Stop = Slide::Stop;

struct Clearance {
    const List& y;
    List lo;
    List hi;
};

/// Height of a bow of 1 mm over [-half, half]; 0 outside.
double bow_of_one(double t, double half) {
    const double share = t / half;
    return std::abs(share) >= 1.0 ? 0.0 : 1.0 - share * share;
}

/// Empty: nothing of the runners lies over the table.
std::optional<Stop> stop_at(const shop::Drawing& d, double s) {
    const shop::RunnerReach all = shop::runner_reach(d.sled);
    const double half_table = 0.5 * d.table.depth_mm;
    const auto guided = shop::guided_part(all, half_table, s);
    if (!guided) return std::nullopt;
    const double middle = guided->middle();
    Stop stop;
    for (std::size_t i = 0; i < places; ++i) {
        const double y = guided->rear + (guided->front - guided->rear) * static_cast<double>(i) / (places - 1);
        stop.y[i] = y - middle;
        stop.in_table[i] = s + y;
        stop.slot_bow[i] = bow_of_one(s + y, half_table);
        stop.runner_bow[i] = bow_of_one(y - all.middle(), 0.5 * d.sled.runner_length_mm);
    }
    return stop;
}

Clearance clearance_at(const Stop& stop, const shop::Truth& t) {
    const double half_pitch = 0.5 * t.pitch_error_mm;
    const double half_left = 0.5 * t.left_play_mm;
    const double half_right = 0.5 * t.right_play_mm;
    Clearance c{stop.y, {}, {}};
    for (std::size_t i = 0; i < places; ++i) {
        const double left = half_pitch + t.slot_wander_mm * stop.slot_bow[i] - t.runner_bend_mm * stop.runner_bow[i];
        const double right = -half_pitch - t.slot_splay_rad * stop.in_table[i];
        c.lo[i] = std::max(left - half_left, right - half_right);
        c.hi[i] = std::min(left + half_left, right + half_right);
    }
    return c;
}

/// Where lines of one slope have least room on each side.
struct Pinch {
    double room = 0.0;  ///< below 0: no line of this slope goes through
    double turn = 0.0;  ///< above 0: a larger slope has more room
};

Pinch pinch_of(const Clearance& c, double slope) {
    std::size_t low = 0;
    std::size_t high = 0;
    for (std::size_t i = 1; i < places; ++i) {
        if (c.hi[i] - slope * c.y[i] < c.hi[high] - slope * c.y[high]) high = i;
        if (c.lo[i] - slope * c.y[i] > c.lo[low] - slope * c.y[low]) low = i;
    }
    return {(c.hi[high] - slope * c.y[high]) - (c.lo[low] - slope * c.y[low]), c.y[low] - c.y[high]};
}

/// Where two pinches of a concave room meet: no slope between has more room than `most` there.
struct Meeting {
    double slope = 0.0;
    double most = 0.0;
};
Meeting meeting_of(double lo, const Pinch& at_lo, double hi, const Pinch& at_hi) {
    const double step = (at_hi.room - at_lo.room - at_hi.turn * (hi - lo)) / (at_lo.turn - at_hi.turn);
    return {lo + step, at_lo.room + at_lo.turn * step};
}

/// Runners without any play fill their slots and go, as the contact room has it.
bool open(double room) { return room >= -contact::closed_gap; }

/// The room is a concave function of the slope, made of straight parts: where those of both sides meet is the next
/// slope to look at, until one has room or none between can have any.
bool goes_through(const Clearance& c) {
    constexpr int most_parts = 2 * places;
    double lo = -0.05;
    double hi = 0.05;
    Pinch here = pinch_of(c, 0.0);
    if (open(here.room)) return true;
    Pinch at_lo = here.turn > 0.0 ? here : pinch_of(c, lo);
    Pinch at_hi = here.turn < 0.0 ? here : pinch_of(c, hi);
    (here.turn > 0.0 ? lo : hi) = 0.0;
    for (int i = 0; i < most_parts; ++i) {
        if (open(at_lo.room) || open(at_hi.room)) return true;
        if (!(at_lo.turn > 0.0 && at_hi.turn < 0.0)) return false;
        const Meeting next = meeting_of(lo, at_lo, hi, at_hi);
        if (!open(next.most)) return false;
        here = pinch_of(c, next.slope);
        if (open(here.room)) return true;
        if (here.turn == 0.0 || next.slope <= lo || next.slope >= hi) return false;
        (here.turn > 0.0 ? lo : hi) = next.slope;
        (here.turn > 0.0 ? at_lo : at_hi) = here;
    }
    return false;
}

/// Highest value at the last place of a line that goes through: held by hi there, or levered over a lo by a hi between.
double highest_at_end(const List& y, const List& lo, const List& hi) {
    double best = hi.back();
    for (std::size_t i = 1; i + 1 < places; ++i) {
        for (std::size_t j = 0; j < i; ++j)
            best = std::min(best, hi[i] + (hi[i] - lo[j]) / (y[i] - y[j]) * (y.back() - y[i]));
    }
    return best;
}

List turned(const List& list) {
    List out = list;
    for (double& x : out) x = -x;
    return out;
}

double room_at_end(const List& y, const List& lo, const List& hi) {
    return highest_at_end(y, lo, hi) + highest_at_end(y, turned(hi), turned(lo));
}

List reversed(List list) {
    std::reverse(list.begin(), list.end());
    return list;
}

}  // namespace

Slide::Slide(const shop::Drawing& d) : start_(stop_at(d, measure::way_in(d).from_mm)) {
    constexpr int steps = 8;
    // The pass of cut/set_up.h, but for a skewed fence and a rough board's lean, which it widens for; and a sled of
    // which no runner is over the table somewhere does not go.
    const double reach = 0.5 * shop::chord_mm(d.blade) + 25.0;
    const double from = -reach - 1.05 * std::max(d.board.width_mm, d.board.length_mm);
    const double to = std::max(from + 1.0, std::min(reach, d.sled.stop_y_mm));
    for (int i = 0; i <= steps; ++i) {
        const auto stop = stop_at(d, from + (to - from) * i / steps);
        if (!stop) {
            stops_.clear();
            return;
        }
        stops_.push_back(*stop);
    }
}

bool Slide::goes(const shop::Truth& truth) const {
    return !stops_.empty() && std::all_of(stops_.begin(), stops_.end(),
                                          [&](const Stop& stop) { return goes_through(clearance_at(stop, truth)); });
}

measure::Going Slide::how_it_goes(const shop::Truth& truth) const {
    if (goes(truth)) return measure::Going::goes;
    const bool goes_in = start_ && goes_through(clearance_at(*start_, truth));
    return goes_in ? measure::Going::sticks : measure::Going::does_not_go_in;
}

bool sled_goes(const shop::Drawing& drawing, const shop::Truth& truth) { return Slide(drawing).goes(truth); }

std::optional<Room> room_of(const shop::Drawing& d, const shop::Truth& truth) {
    const auto stop = stop_at(d, -shop::runner_reach(d.sled).middle());
    if (!stop) return std::nullopt;
    const Clearance c = clearance_at(*stop, truth);
    if (!goes_through(c)) return std::nullopt;
    return Room{room_at_end(c.y, c.lo, c.hi), room_at_end(turned(reversed(c.y)), reversed(c.lo), reversed(c.hi))};
}

}  // namespace offsquare::session
