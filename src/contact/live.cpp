#include "contact/live.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "contact/live_walls.h"
#include "contact/stand.h"
#include "contact/tracks.h"
#include "shop/truth.h"

namespace offsquare::contact {
namespace {

/// The hand as a spring and a damper, near to critical for a sled of 6 kg: it takes up a change in about 50 ms, as an
/// arm does.
constexpr double hand_n_mm = 20.0;
constexpr double hand_ns_mm = 0.7;
constexpr double slow_mm_s = 1.0;  ///< the base's friction across counts as that of a sled which goes at least so fast:
                                   ///< a sled at rest creeps instead of sticking
constexpr double fastest_mm_s = 2000.0;
constexpr double still_mm_s = 1e-9;  ///< what the rounding of forces leaves of a sled that friction has stopped
constexpr double mm_in_m = 1000.0;
constexpr double dig_mm = 0.002;  ///< a step in which an end of the sled may go farther across is taken in parts
constexpr int most_parts = 10;

double within(double value, double limit) { return std::isfinite(value) ? std::clamp(value, -limit, limit) : 0.0; }

LiveHand sound(LiveHand hand) {
    if (!hand.holds) return {false, 0.0, 0.0, 0.0};
    return {true, within(hand.x_mm, 500.0), within(hand.speed_mm_s, 1000.0),
            std::max(0.0, within(hand.force_n, 500.0))};
}

/// Drag of base and blade [N], as forces on the sled along +y.
struct Drag {
    double base = 0.0;
    double blade = 0.0;
};

}  // namespace

struct LiveSled::Works {
    Works(const shop::Drawing& d, const shop::Truth& truth, const Rub& rubbing, double s, const LiveBody& body)
        : tracks(d, truth, 1.0),
          feelers(tracks),
          rub(rubbing),
          mass(std::clamp(body.mass_kg, 0.5, 50.0)),
          dt(1e-6 * std::clamp(body.step_us, 100, 250)),
          step_ns(1000LL * std::clamp(body.step_us, 100, 250)),
          middle_y(shop::runner_middle_mm(d.sled)),
          depth_mm(d.sled.depth_mm),
          inertia(mass * (d.sled.width_mm * d.sled.width_mm + depth_mm * depth_mm) / 12.0),
          meeting(meeting_of(d)),
          ends(hand_range(d)),
          walls(tracks, middle_y, mass, inertia, rub.mu, start(d, truth, s)) {
        state.pose.s_mm = std::clamp(s, ends.from_mm, ends.to_mm);
        here = look_at(state.pose.s_mm);
        seated = state.fits = here && fits(*here);
        show();
    }

    struct Spot {
        Samples samples;
        double middle = 0.0;
    };

    Across start(const shop::Drawing& d, const shop::Truth& truth, double s) const {
        const std::optional<SledPose> seat =
            seat_runners(d, truth, {0.0, 0.0}, std::clamp(s, ends.from_mm, ends.to_mm));
        return seat ? Across{seat->x_mm - middle_y * seat->yaw_rad, seat->yaw_rad, 0.0, 0.0} : Across{};
    }

    std::optional<Spot> look_at(double s) {
        const std::optional<shop::RunnerReach> guided = tracks.guided(s);
        if (!guided) return std::nullopt;
        return Spot{feelers.at(*guided, s), guided->middle()};
    }
    /// The places of `here` where they will be then.
    Spot look_ahead(double s) {
        const std::optional<shop::RunnerReach> guided = tracks.guided(s);
        return guided ? Spot{feelers.like(here->samples, *guided, s), guided->middle()} : *here;
    }

    bool fits(const Spot& place) const { return stand_by_search(tracks, place.samples, {0.0, 1.0}, {}).has_value(); }

    void step(const LiveHand& hand) {
        if (!seated) return;
        const int parts = parts_for(hand);
        for (int i = 0; i < parts; ++i) part(hand, dt / parts);
        last_hand = hand;
        show();
    }

    /// Knocked over, the sled would dig into the other wall by what it goes in a step, and its speed after a blow at
    /// one end cannot be foreseen: then the step is taken in parts.
    int parts_for(const LiveHand& hand) const {
        const Across& a = walls.across();
        const double arm = 0.5 * depth_mm;
        const double gained =
            held_still(hand) ? 0.0 : hand.force_n * std::abs(hand.x_mm) * mm_in_m / inertia * arm * dt;
        const double way = (std::abs(a.speed_mm_s) + std::abs(a.turning_rad_s) * arm + gained) * dt;
        return std::clamp(static_cast<int>(way / dig_mm) + 1, 1, most_parts);
    }

    /// Between two walls by a hand that goes on pressing it there.
    bool held_still(const LiveHand& hand) const {
        const WallForces& w = state.walls;
        const bool between = w.left_front_n + w.left_rear_n > 0.0 && w.right_front_n + w.right_rear_n > 0.0;
        return between && hand == last_hand && pull_of(hand, state.speed_mm_s) * state.push_n > 0.0;
    }

    void part(const LiveHand& hand, double h) {
        const double speed = state.speed_mm_s;
        state.push_n = pull(hand, speed, h);
        const Load load = load_of(hand, speed, h);
        const Spot next = look_ahead(state.pose.s_mm + speed * h);
        const double change = walls.step({here->samples, next.samples, here->middle, next.middle}, speed, load, h);
        go_on(std::clamp(speed + change, -fastest_mm_s, fastest_mm_s), h);
    }

    double pull(const LiveHand& hand, double speed, double h) {
        if (!hand.holds) return stretch_mm = 0.0;
        const double lag = hand.speed_mm_s - speed;
        const double longest = hand.force_n / hand_n_mm;
        stretch_mm = std::clamp(stretch_mm + lag * h, -longest, longest);
        return pull_of(hand, speed);
    }
    double pull_of(const LiveHand& hand, double speed) const {
        return std::clamp(hand_n_mm * stretch_mm + hand_ns_mm * (hand.speed_mm_s - speed), -hand.force_n, hand.force_n);
    }

    /// Dry friction: all of it where the sled slides, else as much as keeps it still.
    Drag drag_of(double speed, double h) const {
        const double blade = wood_in_the_chord(meeting, state.pose.s_mm) ? rub.blade_n : 0.0;
        const double keeps_still = -(mass * speed / (mm_in_m * h) + state.push_n);
        const double all = std::clamp(keeps_still, -(rub.base_n + blade), rub.base_n);
        if (all >= 0.0 || blade == 0.0) return {all, 0.0};
        const double share = all / (rub.base_n + blade);
        return {share * rub.base_n, share * blade};
    }

    Load load_of(const LiveHand& hand, double speed, double h) const {
        const Drag drag = drag_of(speed, h);
        const double slide = std::max(std::abs(speed), slow_mm_s) / mm_in_m;
        const double across =
            rub.base_n / slide;  // [N s/m]: friction points against the slip, which goes mostly along the slots
        return {state.push_n + drag.base + drag.blade, state.push_n * hand.x_mm + drag.base * rub.base_x_mm,
                across / mass, across * depth_mm * depth_mm / (12.0 * inertia), most_wall_n(hand)};
    }

    /// N = (P x - D x_D)/(L - 2 mu e) with P = D + 2 mu N gives N <= P e/L; threefold, as a wall may bear for two.
    double most_wall_n(const LiveHand& hand) const {
        const double guided = here->samples.y[here->samples.count() - 1] - here->samples.y[0];
        const double arm =
            std::abs(hand.x_mm) + std::max(std::abs(tracks.left.x_runner), std::abs(tracks.right.x_runner));
        return 3.0 * (std::abs(state.push_n) + rub.base_n + rub.blade_n) * arm / guided;
    }

    /// Where the runners leave the table, come to the stop or do not fit, the sled stands.
    void go_on(double speed, double h) {
        const double s = state.pose.s_mm + speed * h;
        std::optional<Spot> next;
        if (s >= ends.from_mm && s <= ends.to_mm) next = look_at(s);
        const bool fit = next && fits(*next);
        state.fits = !next || fit;
        state.speed_mm_s = fit && std::abs(speed) > still_mm_s ? speed : 0.0;
        if (!fit) return;
        state.pose.s_mm = s;
        here = next;
    }

    void show() {
        const Across& a = walls.across();
        state.pose.yaw_rad = a.yaw_rad;
        state.pose.x_mm = a.x_mm + middle_y * std::copysign(sine_of_small(std::abs(a.yaw_rad)), a.yaw_rad);
        state.across_mm_s = a.speed_mm_s;
        state.turning_rad_s = a.turning_rad_s;
        if (here) state.walls = {sum(1, -1.0), sum(-1, -1.0), sum(1, 1.0), sum(-1, 1.0)};
    }

    /// To 1e-12 for the yaws that the play allows.
    static double sine_of_small(double a) { return a * (1.0 - a * a / 6.0 * (1.0 - a * a / 20.0)); }

    /// Forces of the walls on one side (-1 left), at one end (+1 front).
    double sum(int end, double side) const {
        double n = 0.0;
        for (std::size_t i = 0; i < here->samples.count(); ++i) {
            if ((here->samples.y[i] >= 0.0) != (end > 0)) continue;
            const std::size_t place = static_cast<std::size_t>(here->samples.first) + i;
            n += side < 0.0 ? walls.force_n(Row::left_left, place) + walls.force_n(Row::right_left, place)
                            : walls.force_n(Row::left_right, place) + walls.force_n(Row::right_right, place);
        }
        return n;
    }

    Tracks tracks;
    Feelers feelers;
    Rub rub;
    double mass;
    double dt;
    std::int64_t step_ns;
    double middle_y;  ///< of the base, in S
    double depth_mm;
    double inertia;  ///< about the base's middle [kg mm^2]
    Meeting meeting;
    PushRange ends;
    LiveWalls walls;
    std::optional<Spot> here;
    bool seated = false;  ///< else the runners did not fit where the sled was to start
    LiveState state;
    LiveHand last_hand;
    double stretch_mm = 0.0;
    std::int64_t unspent_ns = 0;
    std::vector<LiveStretch> history;
};

LiveSled::LiveSled(const shop::Drawing& drawing, const shop::Truth& truth, const Rub& rub, double s_mm,
                   const LiveBody& body)
    : works_(std::make_unique<Works>(drawing, truth, rub, s_mm, body)) {}
LiveSled::~LiveSled() = default;
LiveSled::LiveSled(LiveSled&&) noexcept = default;
LiveSled& LiveSled::operator=(LiveSled&&) noexcept = default;

void LiveSled::step(const LiveHand& hand, std::int64_t steps) {
    if (steps <= 0) return;
    const LiveHand held = sound(hand);
    std::vector<LiveStretch>& all = works_->history;
    if (all.empty() || !(all.back().hand == held)) all.push_back({held, 0});
    all.back().steps += steps;
    for (std::int64_t i = 0; i < steps; ++i) works_->step(held);
}

std::int64_t LiveSled::advance(double seconds, const LiveHand& hand) {
    if (!(seconds > 0.0)) return 0;
    works_->unspent_ns += std::llround(1e9 * std::min(seconds, longest_pause_s));
    const std::int64_t steps = works_->unspent_ns / works_->step_ns;
    works_->unspent_ns -= steps * works_->step_ns;
    step(hand, steps);
    return steps;
}

const LiveState& LiveSled::state() const { return works_->state; }
double LiveSled::step_s() const { return works_->dt; }
const std::vector<LiveStretch>& LiveSled::history() const { return works_->history; }

}  // namespace offsquare::contact
