// Notation. At yaw t (its sine; u is one less its cosine) a wall of sample i stops the sled at  x = square_i + u*turn_i
// + t*y_i : `square` for a sled that stands square, `turn` the x of the runner's face that meets the wall. Pressed
// right, all right-hand walls count: the lowest is where the sled stands.
#include "contact/stand.h"

#include <algorithm>
#include <cmath>

#include "base/line_pairs.h"

namespace offsquare::contact {
namespace {

/// One less the cosine, of the sine; without the loss of digits of 1 - c.
double one_less_cosine(double t) { return t * t / (1.0 + std::sqrt(1.0 - t * t)); }

struct Wall {
    double square = 0.0;
    double turn = 0.0;
    double y = 0.0;
    double at(double t, double u) const { return square + u * turn + t * y; }
};

/// Of the right-hand walls of both slots the one that stops the sled first.
Wall first_wall(const Tracks& k, const Samples& all, std::size_t i, double u) {
    const Wall left{all.left_off[i] + k.left.half_play, k.left.x_runner + all.left_bend[i] + k.left.half_runner,
                    all.y[i]};
    const Wall right{all.right_off[i] + k.right.half_play, k.right.x_runner + k.right.half_runner, all.y[i]};
    return left.at(0.0, u) < right.at(0.0, u) ? left : right;
}

/// What turning adds, for a yaw whose cosine is 1 - u: how far the right-hand walls of both slots stand beyond `off`,
/// and the left-hand ones.
base::Lift right_hand(const Tracks& k, double u) {
    return {k.left.half_play + u * (k.left.x_runner + k.left.half_runner),
            k.right.half_play + u * (k.right.x_runner + k.right.half_runner), u};
}
base::Lift left_hand(const Tracks& k, double u) {
    return {u * (k.left.x_runner - k.left.half_runner) - k.left.half_play,
            u * (k.right.x_runner - k.right.half_runner) - k.right.half_play, u};
}

base::LinePairs pairs_of(const Samples& all) {
    return {all.left_off.data(), all.left_bend.data(), all.right_off.data(), all.y.data(), all.count()};
}

/// Sine of a yaw, and one less its cosine.
struct Yaw {
    double t = 0.0;
    double u = 0.0;
};

/// The yaw at which two walls stop the sled at the same x:  t = t0 + k*u,  with k the rise of their distance with u,
/// and t0 the yaw without it. With t^2 + (1 - u)^2 = 1 this is a quadratic equation for u; written so that small
/// numbers lose no digits. Not a number: nowhere.
Yaw crossing(const Wall& rising, const Wall& falling) {
    const double apart = rising.y - falling.y;
    const double t0 = (falling.square - rising.square) / apart;
    const double k = (falling.turn - rising.turn) / apart;
    const double half = 1.0 - t0 * k;
    const double u = t0 * t0 / (half + std::sqrt(half * half - (1.0 + k * k) * (t0 * t0)));
    return {t0 + k * u, u};
}

/// The search for the two walls that hold the sled, at one place.
class PairSearch {
public:
    /// `arm` is the push's moment by its side force: the push acts at y = -arm. `u` belongs to a yaw near the right
    /// one.
    PairSearch(const Tracks& tracks, const Samples& samples, double arm, double u, WallPair& pair)
        : k_(tracks), all_(samples), walls_(pairs_of(samples)), arm_(arm), pair_(pair), u_(u) {}

    /// The pair is found at a cosine near the right one, where its walls cross is written down with its own cosine, and
    /// a last look shows whether it is so.
    std::optional<Stand> find() {
        if (!start()) return std::nullopt;
        for (int round = 0; round < Samples::most; ++round) {
            if (exchange() == Found::square)
                return unless_held_back(0.0, base::band(walls_, right_hand(k_, 0.0), left_hand(k_, 0.0), 0.0));
            const Wall rising = first_wall(k_, all_, pair_.rising, u_);
            const auto [t, u] = crossing(rising, first_wall(k_, all_, pair_.falling, u_));
            if (!(std::abs(t) <= widest_yaw)) return std::nullopt;
            u_ = u;
            const base::Band room = base::band(walls_, right_hand(k_, u_), left_hand(k_, u_), t);
            if (room.lowest >= rising.at(t, u_) - rounding) return unless_held_back(t, room);
        }
        return std::nullopt;
    }

private:
    enum class Found { pair, square };

    /// What is lower by less than the rounding of these sums is not lower: else walls in one line would take each
    /// other's place for ever.
    static constexpr double rounding = 1e-13;

    /// > 0 where the push would turn the sled clockwise about this sample.
    double slope(std::size_t i) const { return all_.y[i] + arm_; }

    /// At a fixed cosine: the wall in the way of the pair takes the place of one of the two, until none is in the way.
    Found exchange() {
        base::Lift walls = right_hand(k_, u_);
        for (int round = 0; round < Samples::most; ++round) {
            const double rising = base::lower_of(walls_, walls, pair_.rising, 0.0);
            const double t = (base::lower_of(walls_, walls, pair_.falling, 0.0) - rising) /
                             (all_.y[pair_.rising] - all_.y[pair_.falling]);
            const double lowest = base::lowest(walls_, walls, t);
            if (lowest >= rising + t * all_.y[pair_.rising] - rounding) break;
            const std::size_t in_the_way = base::first_down_to(walls_, walls, t, lowest);
            if (slope(in_the_way) == 0.0) {
                if (holds_square(in_the_way)) return Found::square;
                walls = right_hand(k_, u_);
            } else {
                (slope(in_the_way) > 0.0 ? pair_.rising : pair_.falling) = in_the_way;
            }
        }
        return Found::pair;
    }

    /// Where the walls on the right stop the sled, unless one on the left stands in the way.
    std::optional<Stand> unless_held_back(double t, const base::Band& room) const {
        if (room.highest > room.lowest + rounding) return std::nullopt;
        return Stand{{room.lowest, t}, u_};
    }

    /// A pair to start from: what was handed in, and the outermost samples where that is none. False: the push lies
    /// beyond all samples of one side.
    bool start() {
        const std::size_t last = all_.count() - 1;
        if (pair_.rising > last || !(slope(pair_.rising) > 0.0)) pair_.rising = last;
        if (pair_.falling > last || !(slope(pair_.falling) < 0.0)) pair_.falling = 0;
        return slope(pair_.rising) > 0.0 && slope(pair_.falling) < 0.0;
    }

    /// A level wall, right before the push, stops the sled alike at many yaws; of these the one nearest to zero counts:
    /// zero itself, or else where the wall that forbids zero takes over.
    bool holds_square(std::size_t level) {
        u_ = 0.0;
        const base::Lift walls = right_hand(k_, 0.0);
        const double lowest = base::lowest(walls_, walls, 0.0);
        if (lowest >= base::lower_of(walls_, walls, level, 0.0) - rounding) return true;
        const std::size_t other = base::first_down_to(walls_, walls, 0.0, lowest);
        pair_ = slope(other) > 0.0 ? WallPair{other, level} : WallPair{level, other};
        return false;
    }

    const Tracks& k_;
    const Samples& all_;
    base::LinePairs walls_;
    double arm_;
    WallPair& pair_;
    double u_;
};

/// The general road's clearance.
Clearance clearance_of(const Tracks& k, const Samples& all, double u) {
    const base::LinePairs walls = pairs_of(all);
    const base::Lift right = right_hand(k, u);
    const base::Lift left = left_hand(k, u);
    Clearance clearance(all.count());
    for (std::size_t i = 0; i < all.count(); ++i)
        clearance[i] = {all.y[i], base::higher_of(walls, left, i, 0.0), base::lower_of(walls, right, i, 0.0)};
    return clearance;
}

}  // namespace

std::optional<Stand> stand_by_search(const Tracks& k, const Samples& all, const Press& push, Stand stand) {
    constexpr int rounds = 8;
    for (int round = 0; round < rounds; ++round) {
        const std::optional<SlotPose> place =
            press(clearance_of(k, all, stand.u), push.side, push.moment_mm, stand.middle.yaw);
        if (!place) return std::nullopt;
        stand.middle = *place;
        const double before = stand.u;
        stand.u = one_less_cosine(place->yaw);
        // Times the runner's distance from the blade, some 100 mm: 1e-12 mm.
        if (std::abs(stand.u - before) <= 1e-14) break;
    }
    return stand;
}

std::optional<Stand> stand_by_pair(const Tracks& k, const Samples& all, const Press& push, double u, WallPair& pair) {
    if (push.side == 0.0) return std::nullopt;
    return PairSearch(k, all, push.moment_mm / push.side, u, pair).find();
}

std::optional<Stand> stand_of(const Tracks& k, const Samples& all, const Press& push, Stand start, WallPair& pair) {
    const std::optional<Stand> held = stand_by_pair(k, all, push, start.u, pair);
    return held ? held : stand_by_search(k, all, push, start);
}

}  // namespace offsquare::contact
