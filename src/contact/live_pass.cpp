#include "contact/live_pass.h"

#include <algorithm>
#include <cmath>

#include "contact/live.h"
#include "shop/truth.h"

namespace offsquare::contact {
namespace {

constexpr double speed_mm_s = 60.0;
constexpr double at_rest_s = 1.0;  ///< so long without a step ahead is stuck
constexpr double a_step_ahead_mm = 0.01;
constexpr double last_step_mm = 0.1;  ///< the sled stops at the end of its range, or up to a step before

/// The pose between two steps at the travel s.
PushedPose between(const LiveState& a, const LiveState& b, double s) {
    const double f = b.pose.s_mm == a.pose.s_mm ? 0.0 : (s - a.pose.s_mm) / (b.pose.s_mm - a.pose.s_mm);
    PushedPose pose;
    pose.s_mm = s;
    pose.x_mm = a.pose.x_mm + f * (b.pose.x_mm - a.pose.x_mm);
    pose.yaw_rad = a.pose.yaw_rad + f * (b.pose.yaw_rad - a.pose.yaw_rad);
    pose.push_n = std::abs(b.push_n);
    return pose;
}

/// The travels to look at, in the order of the motion, as far as the live sled goes.
std::vector<double> stations(const shop::Drawing& drawing, Way way, double from, double to, int steps) {
    const PushRange range = hand_range(drawing);
    std::vector<double> all;
    for (int i = 0; i <= steps; ++i) {
        const double s = from + (to - from) * (way == Way::push ? i : steps - i) / steps;
        if (s >= range.from_mm + last_step_mm && s <= range.to_mm - last_step_mm) all.push_back(s);
    }
    return all;
}

/// Tells when the sled has not come ahead for a while.
class Rest {
public:
    explicit Rest(double place) : mark_(place) {}
    bool after(double place, double seconds) {
        if (std::abs(place - mark_) > a_step_ahead_mm) {
            mark_ = place;
            since_s_ = 0.0;
        }
        since_s_ += seconds;
        return since_s_ > at_rest_s;
    }

private:
    double mark_;
    double since_s_ = 0.0;
};

}  // namespace

LivePass live_pass(const shop::Drawing& drawing, const shop::Truth& truth, const HandPush& hand, const Rub& rub,
                   double from_mm, double to_mm, int steps) {
    const double along = hand.way == Way::push ? 1.0 : -1.0;
    const std::vector<double> places = stations(drawing, hand.way, from_mm, to_mm, steps);
    LivePass pass;
    if (places.empty()) return pass;
    LiveSled sled(drawing, truth, rub, places.front());
    LiveState before = sled.state();
    Rest rest(before.pose.s_mm);
    for (std::size_t next = 0; next < places.size();) {
        sled.step(
            {true, grip_at(hand, before.pose.s_mm), along * speed_mm_s, std::min(hand.force_n, strongest_live_n)});
        const LiveState& now = sled.state();
        // The first station is where the sled stands still: it counts once the sled has left it.
        for (; next < places.size() && along * (now.pose.s_mm - places[next]) > 0.0; ++next) {
            pass.path.push_back(between(before, now, places[next]));
            pass.push_needed_n = std::max(pass.push_needed_n, pass.path.back().push_n);
        }
        before = now;
        if (rest.after(now.pose.s_mm, sled.step_s())) {
            pass.bound = true;
            pass.bound_at_mm = now.pose.s_mm;
            return pass;
        }
    }
    return pass;
}

Apart apart(const PushedPass& pass, const LivePass& live, const HandPush& hand) {
    Apart most;
    if (pass.path.empty() || live.path.empty()) return most;
    const double along = hand.way == Way::push ? 1.0 : -1.0;
    // Travels at which the sled starts or is knocked over.
    std::vector<double> flips{live.path.front().s_mm};
    for (std::size_t i = 1; i < pass.path.size(); ++i) {
        if (pass.path[i].yaw_rad * pass.path[i - 1].yaw_rad < 0.0) flips.push_back(pass.path[i - 1].s_mm);
    }
    for (const Grip& g : hand.grips) flips.push_back(g.from_mm);
    const double grid = pass.path.size() > 1 ? std::abs(pass.path[1].s_mm - pass.path[0].s_mm) : 0.0;
    // Both have looked at the same travels, but perhaps not at all of them.
    auto b = live.path.begin();
    for (const PushedPose& a : pass.path) {
        while (b != live.path.end() && along * (b->s_mm - a.s_mm) < -1e-9) ++b;
        if (b == live.path.end()) break;
        if (b->s_mm != a.s_mm) continue;
        const bool near_flip = std::any_of(flips.begin(), flips.end(), [&](double s) {
            return along * (a.s_mm - s) > -1e-9 && along * (a.s_mm - s) < settling_mm + grid;
        });
        if (near_flip) continue;
        most.x_mm = std::max(most.x_mm, std::abs(a.x_mm - b->x_mm));
        most.yaw_rad = std::max(most.yaw_rad, std::abs(a.yaw_rad - b->yaw_rad));
    }
    return most;
}

}  // namespace offsquare::contact
