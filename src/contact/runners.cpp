#include "contact/runners.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "contact/stand.h"
#include "contact/tracks.h"
#include "shop/truth.h"

namespace offsquare::contact {
namespace {

using shop::Drawing;
using shop::Truth;

/// arcsine of a small number; |z| <= widest_yaw, error below 1e-15.
double small_arcsine(double z) {
    const double q = z * z;
    return z * (1.0 +
                q * (1.0 / 6.0 + q * (3.0 / 40.0 + q * (15.0 / 336.0 + q * (105.0 / 3456.0 + q * (945.0 / 42240.0))))));
}

/// The sled along its travel: each pose is looked for from the one before.
class Sled {
public:
    /// A push to the left is one to the right in a mirror.
    Sled(const Drawing& drawing, const Truth& truth, const Push& push)
        : facing_(push.side < 0.0 ? -1.0 : 1.0),
          tracks_(drawing, truth, facing_),
          feelers_(tracks_),
          press_{facing_ * push.side, facing_ * push.moment_mm} {}

    Sled(const Sled&) = delete;  // its feelers look into its tracks
    Sled& operator=(const Sled&) = delete;

    /// Straight runners in straight slots, pressed without a moment, stand alike everywhere: one pose tells the travel.
    /// Asked for those that steady_pose leaves.
    bool same_everywhere() const { return tracks_.straight && press_.moment_mm == 0.0; }

    std::optional<SledPose> seat(double s) {
        const std::optional<shop::RunnerReach> guided = tracks_.guided(s);
        if (!guided) return std::nullopt;
        const Samples samples = feelers_.at(*guided, s);
        const std::optional<Stand> found =
            stand_of(tracks_, samples, press_, stand_, pair_by_numbers_from(samples.first));
        if (!found) return std::nullopt;
        stand_ = *found;
        const SlotPose& middle = stand_.middle;
        return SledPose{s, facing_ * (middle.x + guided->middle() * middle.yaw), facing_ * small_arcsine(middle.yaw)};
    }

private:
    /// The pair at the place before, whose samples were numbered from another first one; what is no longer among them
    /// becomes a number that is none.
    WallPair& pair_by_numbers_from(int first) {
        const auto later = static_cast<std::size_t>(first_ - first);
        pair_.rising += later;
        pair_.falling += later;
        first_ = first;
        return pair_;
    }

    double facing_;
    Tracks tracks_;
    Feelers feelers_;
    Press press_;
    Stand stand_;
    WallPair pair_;
    int first_ = 0;  ///< the number of the sample from which the pair counts
};

/// Sideways room of a sled that stands square, as seen in the mirror or without it.
struct Room {
    double from = 0.0;
    double to = 0.0;
};
Room square_room(const Fits& fits) {
    const double left = fits.left.x_slot - fits.left.x_runner;
    const double right = fits.right.x_slot - fits.right.x_runner;
    return {-std::min(fits.left.half_play - left, fits.right.half_play - right),
            std::min(left + fits.left.half_play, right + fits.right.half_play)};
}

/// Alike up to rounding.
bool alike(const SledPose& a, const SledPose& b) {
    return std::abs(a.x_mm - b.x_mm) < 1e-11 && std::abs(a.yaw_rad - b.yaw_rad) < 1e-13;
}

/// At the ends of `steps` equal parts. Empty: it binds somewhere.
std::optional<std::vector<SledPose>> even_poses(Sled& sled, double from, double to, int steps) {
    const int n = sled.same_everywhere() ? 1 : steps;
    std::vector<SledPose> poses;
    poses.reserve(static_cast<std::size_t>(n) + 1);
    for (int i = 0; i <= n; ++i) {
        const std::optional<SledPose> pose = sled.seat(from + (to - from) * i / n);
        if (!pose) return std::nullopt;
        poses.push_back(*pose);
    }
    return poses;
}

Travel travel_along(std::vector<SledPose> poses) {
    const SledPose first = poses.front();
    if (!std::all_of(poses.begin(), poses.end(), [&](const SledPose& p) { return alike(p, first); }))
        return {std::move(poses), false};
    return {{first, {poses.back().s_mm, first.x_mm, first.yaw_rad}}, true};
}

/// Puts poses between two others until the sled goes straight from each to the next.
class Halving {
public:
    Halving(Sled& sled, double slope, double arm_mm) : sled_(sled), slope_(slope), arm_(arm_mm) {}

    /// Goes on from the last of `poses` to the next one. False: it binds between them.
    bool go_on(std::vector<SledPose>& poses, const SledPose& to) {
        const SledPose from = poses.back();
        const double way = to.s_mm - from.s_mm;
        if (way > shortest_mm) {
            const std::optional<SledPose> middle = sled_.seat(from.s_mm + 0.5 * way);
            if (!middle) return false;
            const double off = std::abs(middle->x_mm - 0.5 * (from.x_mm + to.x_mm)) +
                               arm_ * std::abs(middle->yaw_rad - 0.5 * (from.yaw_rad + to.yaw_rad));
            if (off > slope_ * way) return go_on(poses, *middle) && go_on(poses, to);
        }
        poses.push_back(to);
        return true;
    }

private:
    static constexpr double shortest_mm = 0.1;

    Sled& sled_;
    double slope_;
    double arm_;
};

std::optional<Travel> steady_travel(const Drawing& drawing, const Truth& truth, const Push& push, double from,
                                    double to) {
    const auto steady = steady_pose(drawing, truth, push, from, to);
    if (!steady) return std::nullopt;
    return Travel{{*steady, {from + (to - from), steady->x_mm, 0.0}}, true};
}

}  // namespace

std::optional<SledPose> steady_pose(const Drawing& drawing, const Truth& truth, const Push& push, double from_mm,
                                    double to_mm) {
    if (push.moment_mm != 0.0 || !straight_guides(truth)) return std::nullopt;
    const shop::RunnerReach runners = shop::runner_reach(drawing.sled);
    const double half_table = 0.5 * drawing.table.depth_mm;
    if (!shop::guided_part(runners, half_table, from_mm) || !shop::guided_part(runners, half_table, to_mm))
        return std::nullopt;
    const double facing = push.side < 0.0 ? -1.0 : 1.0;
    const Room room = square_room(fits_of(drawing, truth, facing));
    if (room.from > room.to) return std::nullopt;
    return SledPose{from_mm, facing * (push.side == 0.0 ? 0.5 * (room.to + room.from) : room.to), 0.0};
}

std::optional<SledPose> seat_runners(const Drawing& drawing, const Truth& truth, const Push& push, double s_mm) {
    if (const auto steady = steady_pose(drawing, truth, push, s_mm, s_mm)) return steady;
    return Sled(drawing, truth, push).seat(s_mm);
}

Guided guided_travel(const Drawing& drawing) {
    const double middle = shop::runner_middle_mm(drawing.sled);
    const double half = 0.5 * (drawing.sled.runner_length_mm + drawing.table.depth_mm);
    // A millimetre more than nothing, which holds nothing.
    return {-middle - half + 1.0, -middle + half - 1.0};
}

std::optional<Travel> travel(const Drawing& drawing, const Truth& truth, const Push& push, double from_mm, double to_mm,
                             int steps) {
    if (auto alike_all_along = steady_travel(drawing, truth, push, from_mm, to_mm)) return alike_all_along;
    Sled sled(drawing, truth, push);
    auto poses = even_poses(sled, from_mm, to_mm, steps);
    if (!poses) return std::nullopt;
    return travel_along(std::move(*poses));
}

std::optional<Travel> fine_travel(const Drawing& drawing, const Truth& truth, const Push& push, double from_mm,
                                  double to_mm, double slope, double arm_mm) {
    if (auto alike_all_along = steady_travel(drawing, truth, push, from_mm, to_mm)) return alike_all_along;
    Sled sled(drawing, truth, push);
    constexpr int first_steps = 64;
    const auto coarse = even_poses(sled, from_mm, to_mm, first_steps);
    if (!coarse) return std::nullopt;
    Halving halving(sled, slope, arm_mm);
    std::vector<SledPose> poses{coarse->front()};
    for (std::size_t i = 1; i < coarse->size(); ++i) {
        if (!halving.go_on(poses, (*coarse)[i])) return std::nullopt;
    }
    return travel_along(std::move(poses));
}

}  // namespace offsquare::contact
