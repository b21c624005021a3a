#include "contact/live_pass.h"

#include <algorithm>
#include <cmath>

#include "contact/live.h"

namespace offsquare::contact {
namespace {

constexpr double speed_mm_s = 60.0;
constexpr double at_rest_s = 1.0;        ///< so long without a step ahead is stuck
constexpr double a_step_ahead_mm = 0.01;
constexpr double most_force_n = 500.0;   ///< of the live hand

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

}  // namespace

LivePass live_pass(const shop::Drawing& drawing, const shop::Truth& truth, const HandPush& hand, const Rub& rub, const std::vector<PushedPose>& like) {
    const double along = hand.way == Way::push ? 1.0 : -1.0;
    LiveSled sled(drawing, truth, rub, like.front().s_mm);
    LivePass pass;
    LiveState before = sled.state();
    double mark = before.pose.s_mm;
    double since_mark_s = 0.0;
    for (std::size_t next = 0; next < like.size();) {
        sled.step({true, grip_at(hand, before.pose.s_mm), along * speed_mm_s, std::min(hand.force_n, most_force_n)});
        const LiveState& now = sled.state();
        for (; next < like.size() && along * (now.pose.s_mm - like[next].s_mm) >= 0.0; ++next) {
            pass.path.push_back(between(before, now, like[next].s_mm));
            pass.push_needed_n = std::max(pass.push_needed_n, pass.path.back().push_n);
        }
        before = now;
        since_mark_s += sled.step_s();
        if (along * (now.pose.s_mm - mark) > a_step_ahead_mm) {
            mark = now.pose.s_mm;
            since_mark_s = 0.0;
        } else if (since_mark_s > at_rest_s) {
            pass.bound = true;
            pass.bound_at_mm = now.pose.s_mm;
            return pass;
        }
    }
    return pass;
}

Apart apart(const PushedPass& pass, const LivePass& live, const HandPush& hand) {
    Apart most;
    if (pass.path.empty()) return most;
    const double along = hand.way == Way::push ? 1.0 : -1.0;
    // Travels at which the sled starts or is knocked over.
    std::vector<double> flips{pass.path.front().s_mm};
    for (std::size_t i = 1; i < pass.path.size(); ++i) {
        if (pass.path[i].yaw_rad * pass.path[i - 1].yaw_rad < 0.0) flips.push_back(pass.path[i - 1].s_mm);
    }
    for (const Grip& g : hand.grips) flips.push_back(g.from_mm);
    const double grid = pass.path.size() > 1 ? std::abs(pass.path[1].s_mm - pass.path[0].s_mm) : 0.0;
    for (std::size_t i = 0; i < std::min(pass.path.size(), live.path.size()); ++i) {
        const PushedPose& a = pass.path[i];
        const bool near_flip = std::any_of(flips.begin(), flips.end(), [&](double s) { return along * (a.s_mm - s) > -1e-9 && along * (a.s_mm - s) < settling_mm + grid; });
        if (near_flip) continue;
        most.x_mm = std::max(most.x_mm, std::abs(a.x_mm - live.path[i].x_mm));
        most.yaw_rad = std::max(most.yaw_rad, std::abs(a.yaw_rad - live.path[i].yaw_rad));
    }
    return most;
}

}  // namespace offsquare::contact
