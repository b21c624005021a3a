#include "contact/runners.h"

#include <algorithm>
#include <cmath>

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
    if (const auto steady = steady_pose(drawing, truth, push, from_mm, to_mm))
        return Travel{{*steady, {from_mm + (to_mm - from_mm), steady->x_mm, 0.0}}, true};
    Sled sled(drawing, truth, push);
    const int n = sled.same_everywhere() ? 1 : steps;
    Travel result;
    result.poses.reserve(static_cast<std::size_t>(n) + 1);
    for (int i = 0; i <= n; ++i) {
        const std::optional<SledPose> pose = sled.seat(from_mm + (to_mm - from_mm) * i / n);
        if (!pose) return std::nullopt;
        result.poses.push_back(*pose);
    }
    const SledPose first = result.poses.front();
    result.constant =
        std::all_of(result.poses.begin(), result.poses.end(), [&](const SledPose& p) { return alike(p, first); });
    if (result.constant) result.poses = {first, {result.poses.back().s_mm, first.x_mm, first.yaw_rad}};
    return result;
}

}  // namespace offsquare::contact
