#include "contact/tracks.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "base/profile.h"
#include "shop/truth.h"

namespace offsquare::contact {
namespace {

using shop::Drawing;
using shop::Truth;

/// A profile as it looks in the mirror or without it.
BrokenLine faced(const base::Profile& profile, double facing) {
    base::Profile::Points points(profile.points());
    for (base::Vec2& p : points) p.y *= facing;
    return BrokenLine({points.data(), points.size()});
}

/// A profile with a bow on top of it.
base::Profile bowed(const base::Profile& profile, double from, double to, double sagitta) {
    return sagitta == 0.0 ? profile : base::sum(profile, base::Profile::bow(from, to, sagitta));
}

/// Mostly the right runner is straight.
void take_off(const BrokenLine& right_bend, double middle, Samples& all) {
    if (right_bend.straight()) return;
    BrokenLine::Walk bend(right_bend);
    for (std::size_t i = 0; i < all.count(); ++i) all.right_off[i] -= bend.at(middle + all.y[i]);
}

}  // namespace

bool has_profiles(const Truth& t) {
    return !t.left_slot_profile.straight() || !t.right_slot_profile.straight() || !t.left_runner_profile.straight() ||
           !t.right_runner_profile.straight();
}

bool straight_guides(const Truth& t) {
    return t.slot_splay_rad == 0.0 && t.slot_wander_mm == 0.0 && t.runner_bend_mm == 0.0 && !has_profiles(t);
}

Fits fits_of(const Drawing& d, const Truth& t, double facing) {
    const double splay = t.slot_splay_rad == 0.0 ? 0.0 : base::tan_of(t.slot_splay_rad);
    const double half = 0.5 * d.slots.width_mm;
    Fits fits;
    fits.left.x_slot = facing * d.slots.left_x_mm;
    fits.left.x_runner = facing * (d.slots.left_x_mm - 0.5 * t.pitch_error_mm);
    fits.left.half_play = 0.5 * t.left_play_mm;
    fits.left.half_runner = half - fits.left.half_play;
    fits.right.x_slot = facing * d.slots.right_x_mm;
    fits.right.x_runner = facing * (d.slots.right_x_mm + 0.5 * t.pitch_error_mm);
    fits.right.half_runner = half - 0.5 * t.right_play_mm;
    // Turned counter-clockwise, the far end of a slot goes to the left; across x a turned slot is wider.
    fits.right.slope = -facing * splay;
    fits.right.half_play = 0.5 * t.right_play_mm + half * (std::sqrt(1.0 + splay * splay) - 1.0);
    return fits;
}

Tracks::Tracks(const Drawing& d, const Truth& t, double facing_)
    : facing(facing_),
      reach(shop::runner_reach(d.sled)),
      half_table(0.5 * d.table.depth_mm),
      straight(straight_guides(t)) {
    const Fits fits = fits_of(d, t, facing);
    static_cast<Fit&>(left) = fits.left;
    static_cast<Fit&>(right) = fits.right;
    left.slot = faced(bowed(t.left_slot_profile, -half_table, half_table, t.slot_wander_mm), facing);
    right.slot = faced(t.right_slot_profile, facing);
    left.bend = faced(bowed(t.left_runner_profile, reach.rear, reach.front, t.runner_bend_mm), facing);
    right.bend = faced(t.right_runner_profile, facing);
}

Samples samples_of(const Tracks& k, const shop::RunnerReach& g, double s) {
    Samples all;
    all.n = k.straight ? 2 : Samples::most;
    const double half_step = 0.5 * (g.front - g.rear) / (all.n - 1);
    const double middle = g.middle();
    const double left = k.left.x_slot - k.left.x_runner;
    const double right = k.right.x_slot - k.right.x_runner;
    BrokenLine::Walk left_slot(k.left.slot);
    BrokenLine::Walk right_slot(k.right.slot);
    BrokenLine::Walk left_bend(k.left.bend);
    for (std::size_t i = 0; i < all.count(); ++i) {
        // Exactly zero in the middle and exactly alike before and behind it, so that rounding never turns a sled that
        // is pressed at its middle.
        const double y = half_step * (2 * static_cast<int>(i) - (all.n - 1));
        const double Y = s + (middle + y);
        all.y[i] = y;
        all.left_bend[i] = left_bend.at(middle + y);
        all.left_off[i] = left + left_slot.at(Y) - all.left_bend[i];
        all.right_off[i] = right + k.right.slope * Y + right_slot.at(Y);
    }
    take_off(k.right.bend, middle, all);
    return all;
}

Feelers::Feelers(const Tracks& k)
    : k_(k),
      left_(k.left.x_slot - k.left.x_runner),
      right_(k.right.x_slot - k.right.x_runner),
      half_step_(0.5 * (k.reach.front - k.reach.rear) / last),
      left_slot_(k.left.slot),
      right_slot_(k.right.slot),
      left_rear_(k.left.bend),
      left_front_(k.left.bend),
      right_rear_(k.right.bend),
      right_front_(k.right.bend) {
    BrokenLine::Walk left(k.left.bend);
    BrokenLine::Walk right(k.right.bend);
    for (std::size_t j = 0; j <= last; ++j) {
        // Exactly alike before and behind the middle, so that rounding never turns a sled that is pressed there.
        from_middle_[j] = half_step_ * (2 * static_cast<int>(j) - last);
        y_[j] = k.reach.middle() + from_middle_[j];
        left_bend_[j] = left.at(y_[j]);
        right_bend_[j] = right.at(y_[j]);
    }
}

// A place that is nearer than half a step to an end of the guided length is left out for it.
Feelers::Range Feelers::between_ends(const shop::RunnerReach& g) const {
    if (k_.straight) return {1, 0};
    const double per_step = 0.5 / half_step_;
    return {std::max(1, static_cast<int>((g.rear - k_.reach.rear) * per_step + 1.5)),
            std::min(last - 1, static_cast<int>((g.front - k_.reach.rear) * per_step - 0.5))};
}

Samples Feelers::at(const shop::RunnerReach& g, double s) { return at(between_ends(g), g, s); }

Samples Feelers::like(const Samples& before, const shop::RunnerReach& g, double s) {
    return at(Range{before.first + 1, before.first + before.n - 2}, g, s);
}

Samples Feelers::at(const Range& range, const shop::RunnerReach& g, double s) {
    const double half = 0.5 * (g.front - g.rear);
    const double to_middle = k_.reach.middle() - g.middle();
    left_slot_.at(s + (g.middle() - half));
    right_slot_.at(s + (g.middle() - half));
    BrokenLine::Walk left_slot = left_slot_.walk();
    BrokenLine::Walk right_slot = right_slot_.walk();
    Samples all;
    all.first = range.from - 1;
    all.n = range.to - range.from + 3;
    const auto feel = [&](std::size_t i, double place, double left_bend, double right_bend) {
        const double Y = s + place;
        all.left_bend[i] = left_bend;
        all.left_off[i] = left_ + left_slot.at(Y) - left_bend;
        all.right_off[i] = right_ + k_.right.slope * Y + right_slot.at(Y) - right_bend;
    };
    const std::size_t end = all.count() - 1;
    const auto from = static_cast<std::size_t>(range.from);
    for (std::size_t i = 1; i < end; ++i) all.y[i] = from_middle_[from + i - 1] + to_middle;
    all.y[0] = -half;
    all.y[end] = half;
    feel(0, g.middle() - half, left_rear_.at(g.rear), right_rear_.at(g.rear));
    for (std::size_t i = 1, j = from; i < end; ++i, ++j) feel(i, y_[j], left_bend_[j], right_bend_[j]);
    feel(end, g.middle() + half, left_front_.at(g.front), right_front_.at(g.front));
    return all;
}

}  // namespace offsquare::contact
