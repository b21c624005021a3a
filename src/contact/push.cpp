#include "contact/push.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/elementary.h"
#include "contact/runners.h"
#include "contact/stand.h"
#include "contact/tracks.h"
#include "shop/truth.h"

namespace offsquare::contact {
namespace {

/// Walls nearer than this share the load [mm]: wood and steel give as much.
constexpr double touching = 1e-7;

/// Two contacts: on the left walls, which press the sled to the right, and on the right walls.
struct Bearing {
    base::Vec2 on_left;  ///< in S, y from the middle of the guided length
    base::Vec2 on_right;
    double apart() const { return on_left.y - on_right.y; }  ///< > 0 when turned counter-clockwise
    double middle_x() const { return 0.5 * (on_left.x + on_right.x); }
};

struct Turned {
    SledPose pose;
    Bearing bearing;
};

/// Both runners at one sample.
struct Side {
    double runner = 0.0;  ///< centre line, x in S
    double half = 0.0;
    double off = 0.0;
    double half_play = 0.0;
};
std::array<Side, 2> sides_at(const Tracks& k, const Samples& all, std::size_t i) {
    return {{{k.left.x_runner + all.left_bend[i], k.left.half_runner, all.left_off[i], k.left.half_play},
             {k.right.x_runner, k.right.half_runner, all.right_off[i], k.right.half_play}}};
}

/// Collects the walls of one side that touch; the outermost sample counts, and runners that touch there alike share.
class Outermost {
public:
    /// `sign` +1 looks for the greatest y.
    explicit Outermost(double sign) : sign_(sign) {}
    void add(double x, double y) {
        if (n_ > 0 && sign_ * y < sign_ * y_) return;
        if (n_ > 0 && y == y_) {
            x_ += x;
            ++n_;
            return;
        }
        x_ = x;
        y_ = y;
        n_ = 1;
    }
    std::optional<base::Vec2> point() const { return n_ == 0 ? std::nullopt : std::optional(base::Vec2{x_ / n_, y_}); }

private:
    double sign_;
    double x_ = 0.0;
    double y_ = 0.0;
    int n_ = 0;
};

/// Which walls touch at this place. Turned counter-clockwise (turn > 0) the left walls are met in front and the right
/// walls behind.
std::optional<Bearing> bearing_of(const Tracks& k, const Samples& all, const Stand& stand, double turn) {
    Outermost left(turn);
    Outermost right(-turn);
    const double t = stand.middle.yaw;
    for (std::size_t i = 0; i < all.count(); ++i) {
        for (const Side& r : sides_at(k, all, i)) {
            const double middle = r.off + stand.u * r.runner + t * all.y[i];
            const double room = r.half_play + stand.u * r.half;
            if (stand.middle.x - (middle - room) <= touching) left.add(r.runner - r.half, all.y[i]);
            if (middle + room - stand.middle.x <= touching) right.add(r.runner + r.half, all.y[i]);
        }
    }
    const auto a = left.point();
    const auto b = right.point();
    if (!a || !b) return std::nullopt;
    return Bearing{*a, *b};
}

/// Both runners in their slots, looked at anywhere along the travel.
class Runners {
public:
    Runners(const shop::Drawing& drawing, const shop::Truth& truth, Places places)
        : tracks(drawing, truth, 1.0), feelers_(tracks), places_(places) {}
    Runners(const Runners&) = delete;  // its feelers look into its tracks
    Runners& operator=(const Runners&) = delete;

    Samples at(const shop::RunnerReach& guided, double s) {
        return places_ == Places::even_parts ? samples_of(tracks, guided, s) : feelers_.at(guided, s);
    }

    const Tracks tracks;

private:
    Feelers feelers_;
    Places places_;
};

/// The sled turned as far as its play lets it.
std::optional<Turned> turned(Runners& runners, double s, double turn) {
    const Tracks& tracks = runners.tracks;
    const std::optional<shop::RunnerReach> guided = tracks.guided(s);
    if (!guided) return std::nullopt;
    const Samples samples = runners.at(*guided, s);
    const std::optional<Stand> stand = stand_by_search(tracks, samples, {0.0, turn}, {});
    if (!stand) return std::nullopt;
    const std::optional<Bearing> bearing = bearing_of(tracks, samples, *stand, turn);
    if (!bearing) return std::nullopt;
    const SlotPose& middle = stand->middle;
    return Turned{{s, middle.x + guided->middle() * middle.yaw,
                   base::atan_of(middle.yaw / std::sqrt(1.0 - middle.yaw * middle.yaw))},
                  *bearing};
}

/// The sled in the middle of its play and as straight as it fits, with the walls that would bear if it were turned
/// counter-clockwise.
std::optional<Turned> midway(Runners& runners, double s) {
    std::optional<Turned> lies = turned(runners, s, 1.0);
    const std::optional<shop::RunnerReach> guided = runners.tracks.guided(s);
    if (!lies || !guided) return std::nullopt;
    const std::optional<Stand> stand = stand_by_search(runners.tracks, runners.at(*guided, s), {0.0, 0.0}, {});
    if (!stand) return std::nullopt;
    const SlotPose& middle = stand->middle;
    lies->pose = {s, middle.x + guided->middle() * middle.yaw,
                  base::atan_of(middle.yaw / std::sqrt(1.0 - middle.yaw * middle.yaw))};
    return lies;
}

struct Step {
    Stuck stuck = Stuck::no;
    PushedPose pose;
};

class Pusher {
public:
    Pusher(const shop::Drawing& drawing, const shop::Truth& truth, const HandPush& hand, const Rub& rub, Places places)
        : runners_(drawing, truth, places),
          hand_(hand),
          rub_(rub),
          way_(hand.way == Way::push ? 1.0 : -1.0),
          meeting_(meeting_of(drawing)) {}

    /// The sled at s. Which way it is turned follows from the hand; a hand on the line of the drag leaves it as
    /// `last_turn` had it.
    Step at(double s, double& last_turn) {
        const double x = grip_at(hand_, s);
        const double blade = cuts(s) ? rub_.blade_n : 0.0;
        const double drag = rub_.base_n + blade;
        const double moment =
            drag * x - rub_.base_n * rub_.base_x_mm;  // that turns the sled counter-clockwise when pushed
        const double wanted = way_ * moment;
        const double turn = wanted > 0.0 ? 1.0 : wanted < 0.0 ? -1.0 : last_turn;
        // Never turned by any hand, it lies midway and touches nothing; where it would jam is told for a turn
        // counter-clockwise.
        const std::optional<Turned> lies = turn != 0.0 ? turned(runners_, s, turn) : midway(runners_, s);
        if (!lies) return {Stuck::does_not_fit, {s, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0}};
        last_turn = turn;
        return weighed(*lies, x, drag, moment);
    }

private:
    /// Pulled back, the blade runs in its kerf.
    bool cuts(double s) const { return hand_.way == Way::push && wood_in_the_chord(meeting_, s); }

    Step weighed(const Turned& lies, double x, double drag, double moment) const {
        PushedPose pose{
            lies.pose.s_mm, lies.pose.x_mm, lies.pose.yaw_rad, drag, 0.0, x - lies.bearing.middle_x(), 0.0, 0.0};
        const double apart = lies.bearing.apart();
        pose.critical_mm = rub_.mu > 0.0 ? std::abs(apart) / (2.0 * rub_.mu) : std::numeric_limits<double>::infinity();
        pose.share = way_ * 2.0 * rub_.mu * pose.eccentricity_mm / apart;
        const double left_over = apart * (1.0 - pose.share);
        if (moment != 0.0) {
            pose.wall_n = way_ * moment / left_over;
            if (!(pose.wall_n >= 0.0) || !std::isfinite(pose.wall_n)) return {Stuck::jams, pose};
        }
        pose.push_n = drag + 2.0 * rub_.mu * pose.wall_n;
        return {pose.push_n > hand_.force_n ? Stuck::too_weak : Stuck::no, pose};
    }

    Runners runners_;
    const HandPush& hand_;
    const Rub& rub_;
    double way_;
    Meeting meeting_;
};

/// Between a travel where it goes and one where it does not.
double first_stuck(Pusher& pusher, double goes, double stuck, double turn) {
    constexpr double near_enough = 1e-6;
    while (std::abs(stuck - goes) > near_enough) {
        const double middle = 0.5 * (goes + stuck);
        double kept = turn;
        (pusher.at(middle, kept).stuck == Stuck::no ? goes : stuck) = middle;
    }
    return stuck;
}

}  // namespace

double grip_at(const HandPush& hand, double s_mm) {
    if (hand.grips.empty()) return 0.0;
    const auto later = std::upper_bound(hand.grips.begin(), hand.grips.end(), s_mm,
                                        [](double s, const Grip& g) { return s < g.from_mm; });
    return (later == hand.grips.begin() ? later : std::prev(later))->x_mm;
}

Meeting meeting_of(const shop::Drawing& drawing) {
    return {0.5 * shop::chord_mm(drawing.blade), drawing.board.length_mm};
}
bool wood_in_the_chord(const Meeting& meeting, double s_mm) {
    return s_mm + meeting.board_mm > -meeting.half_chord_mm && s_mm < meeting.half_chord_mm;
}

Rub rub_of(const shop::Feed& feed) { return {feed.friction, feed.base_drag_n, 0.0, feed.blade_drag_n}; }

PushRange hand_range(const shop::Drawing& d) {
    const Guided guided = guided_travel(d);
    const double kept = std::min({least_guided_mm, 0.9 * d.sled.runner_length_mm, 0.9 * d.table.depth_mm});
    return {guided.from_mm + kept, std::min(guided.to_mm - kept, d.sled.stop_y_mm)};
}

PushRange usual_pass(const shop::Drawing& d) {
    const double reach = 0.5 * shop::chord_mm(d.blade);
    const PushRange range = hand_range(d);
    const double from = std::max(range.from_mm, -(reach + d.board.length_mm + 25.0));
    return {from, std::max(from + 1.0, std::min(range.to_mm, reach + 25.0))};
}

Travel travel_of(const PushedPass& pass) {
    Travel travel;
    travel.constant = false;
    for (const PushedPose& p : pass.path) travel.poses.push_back({p.s_mm, p.x_mm, p.yaw_rad});
    const bool a_bit_further =
        pass.stuck != Stuck::no && !travel.poses.empty() && pass.stuck_at_mm > travel.poses.back().s_mm;
    if (a_bit_further)
        travel.poses.push_back({pass.stuck_at_mm, travel.poses.back().x_mm, travel.poses.back().yaw_rad});
    return travel;
}

PushedPass push_sled(const shop::Drawing& drawing, const shop::Truth& truth, const HandPush& hand, const Rub& rub,
                     double from_mm, double to_mm, int steps, Places places) {
    Pusher pusher(drawing, truth, hand, rub, places);
    PushedPass pass;
    pass.path.reserve(static_cast<std::size_t>(steps) + 1);
    const bool back = hand.way == Way::pull_back;
    double turn = 0.0;
    for (int i = 0; i <= steps; ++i) {
        const int k = back ? steps - i : i;
        const double s = from_mm + (to_mm - from_mm) * k / steps;
        const double turn_before = turn;
        const Step step = pusher.at(s, turn);
        if (step.stuck != Stuck::no) {
            pass.stuck = step.stuck;
            pass.stuck_at_mm = pass.path.empty() ? s : first_stuck(pusher, pass.path.back().s_mm, s, turn_before);
            if (step.stuck != Stuck::does_not_fit) pass.at_worst = step.pose;
            if (step.stuck == Stuck::too_weak) pass.push_needed_n = std::max(pass.push_needed_n, step.pose.push_n);
            return pass;
        }
        pass.path.push_back(step.pose);
        pass.push_needed_n = std::max(pass.push_needed_n, step.pose.push_n);
        if (i == 0 || step.pose.share > pass.at_worst.share) pass.at_worst = step.pose;
    }
    return pass;
}

}  // namespace offsquare::contact
