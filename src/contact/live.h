// The sled under a hand, live: mass, play, racking and jamming in small steps of time, by Box2D. For the eye and the
// feel: every number that is shown or stored comes from push.h.
//
// Declared resolution against the quasi-static solver, with steps of 0.25 ms: 0.15 um and 6e-7 rad where the sled lies
// against its walls, over 100 mm of guided length and more (measured: 0.08 um, 2.5e-7 rad); up to 10 um beyond a wall
// for some ms while it is thrown (measured: 7 um at 500 N). It jams within 0.01 % of where statics says. Floats inside:
// the same bits for the same history on one machine, not on all. It costs 0.02 to 0.07 s of one core for a second of
// motion, 0.26 s while a hand of 500 N changes its mind all the time.
//
// Where it stops: rigid, impacts without rebound; walls taken as along the slots where they rub, as in push.h; both
// runners at up to 33 places, as there; no lateral push; the blade drags whenever the sled goes on with wood in the
// chord, be that cut already or not. Where both runners meet their walls alike within 0.1 um, the inner walls of both
// slots bear.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "contact/push.h"
#include "contact/runners.h"

namespace offsquare::contact {

/// The declared resolution, as above: how far a sled that lies against its walls may be from where statics has it.
inline constexpr double live_place_mm = 0.15e-3;
inline constexpr double live_yaw_rad = 6e-7;

/// What the hand does for a while: it holds the sled at a place and wants a speed, like a spring that gives no more
/// than its force.
struct LiveHand {
    friend bool operator==(const LiveHand&, const LiveHand&) = default;
    bool holds = false;
    double x_mm = 0.0;        ///< in S, from the blade's line, positive right; |x| <= 500
    double speed_mm_s = 0.0;  ///< wanted, > 0 pushing, < 0 pulling back; |speed| <= 1000
    double force_n = 80.0;    ///< the most that it gives, 0 to 500
};

/// A hand for so many steps: the list of these is the whole history.
struct LiveStretch {
    friend bool operator==(const LiveStretch&, const LiveStretch&) = default;
    LiveHand hand;
    std::int64_t steps = 0;
};

/// Of both runners together, on the half of their guided length in front or behind [N], >= 0.
struct WallForces {
    friend bool operator==(const WallForces&, const WallForces&) = default;
    double left_front_n = 0.0;  ///< from the walls on the left of a runner, which press it to the right
    double left_rear_n = 0.0;
    double right_front_n = 0.0;
    double right_rear_n = 0.0;
};

struct LiveState {
    friend bool operator==(const LiveState&, const LiveState&) = default;
    SledPose pose;             ///< of the sled's origin in T
    double speed_mm_s = 0.0;   ///< along the slots
    double across_mm_s = 0.0;  ///< of the base's middle
    double turning_rad_s = 0.0;
    double push_n = 0.0;  ///< what the hand gives, > 0 in the direction of feed
    WallForces walls;     ///< of the last step
    bool fits = true;     ///< false: the runners are too tight in their slots, here or just ahead
};

/// The body that is pushed.
struct LiveBody {
    double mass_kg = 6.0;  ///< invented: 60 N, as the drag of the base in Rub; spread evenly over the base
    int step_us = 250;     ///< 100 to 250; at 500 a sled thrown with 500 N came up to 80 um beyond its walls
};

class LiveSled {
public:
    /// Stands still at the travel s, midway in its play; goes no farther than hand_range. Values outside their ranges
    /// are moved to the nearest end.
    LiveSled(const shop::Drawing& drawing, const shop::Truth& truth, const Rub& rub, double s_mm,
             const LiveBody& body = {});
    ~LiveSled();
    LiveSled(LiveSled&&) noexcept;
    LiveSled& operator=(LiveSled&&) noexcept;

    void step(const LiveHand& hand, std::int64_t steps = 1);

    /// So much time has passed on the wall clock: takes the whole steps of it and keeps the rest. More than
    /// `longest_pause_s` at once is forgotten, so that a hidden window does not jump when it comes back. Returns the
    /// number of steps.
    std::int64_t advance(double seconds, const LiveHand& hand);
    static constexpr double longest_pause_s = 0.25;

    const LiveState& state() const;
    double step_s() const;

    /// Everything that the hand did since the start. Another sled that starts alike and takes these stretches ends with
    /// the same bits.
    const std::vector<LiveStretch>& history() const;

private:
    struct Works;
    std::unique_ptr<Works> works_;
};

}  // namespace offsquare::contact
