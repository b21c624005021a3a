// Notation. At yaw t (its sine; u is one less its cosine) a wall of sample i stops the sled at  x = square_i + u*turn_i + t*y_i : `square` for a sled that
// stands square, `turn` the x of the runner's face that meets the wall. Pressed right, all right-hand walls count: the lowest is where the sled stands.
#include "contact/stand.h"

#include <algorithm>
#include <cmath>

#include "base/lowest_line.h"

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
    const Wall left{all.left_off[i] + k.left.half_play, all.left_runner[i] + k.left.half_runner, all.y[i]};
    const Wall right{all.right_off[i] + k.right.half_play, all.right_runner + k.right.half_runner, all.y[i]};
    return left.at(0.0, u) < right.at(0.0, u) ? left : right;
}

/// Both runners if one less the yaw's cosine is u: the corridor of each sample is  -minus_lo <= x - t*y <= hi.
class Gates {
public:
    Gates(const Tracks& k, const Samples& all, double u)
        : all_(all), u_(u), left_room_(k.left.half_play + u * k.left.half_runner), right_room_(k.right.half_play + u * k.right.half_runner), right_shift_(u * all.right_runner) {}

    void fill_hi(Samples::List& hi) const {
        for (std::size_t i = 0; i < all_.count(); ++i) hi[i] = std::min(left(i) + left_room_, right(i) + right_room_);
    }
    void fill_minus_lo(Samples::List& minus_lo) const {
        for (std::size_t i = 0; i < all_.count(); ++i) minus_lo[i] = std::min(left_room_ - left(i), right_room_ - right(i));
    }

private:
    double left(std::size_t i) const { return all_.left_off[i] + u_ * all_.left_runner[i]; }
    double right(std::size_t i) const { return all_.right_off[i] + right_shift_; }

    const Samples& all_;
    double u_;
    double left_room_;
    double right_room_;
    double right_shift_;
};

double least(const Samples::List& square, const Samples& all, double t) { return base::lowest_line(square.data(), all.y.data(), all.count(), t); }

/// The yaw at which two walls stop the sled at the same x. With k the rise of their distance with u, and t0 the yaw without it,
/// t = t0 + k*(1 - sqrt(1 - t^2)), a quadratic equation; written so that small numbers lose no digits.
double crossing(const Wall& rising, const Wall& falling) {
    const double apart = rising.y - falling.y;
    const double t0 = (falling.square - rising.square) / apart;
    if (t0 == 0.0) return 0.0;
    const double k = (falling.turn - rising.turn) / apart;
    const double q = t0 * (t0 + 2.0 * k);
    return (t0 + k * q / (1.0 + std::sqrt(1.0 - q))) / (1.0 + k * k);
}

/// The search for the two walls that hold the sled, at one place.
class PairSearch {
public:
    /// `arm` is the push's moment by its side force: the push acts at y = -arm. `u` belongs to a yaw near the right one.
    PairSearch(const Tracks& tracks, const Samples& samples, double arm, double u, Pair& pair) : k_(tracks), all_(samples), arm_(arm), pair_(pair), u_(u) {}

    /// The pair is found at a cosine near the right one, where its walls cross is written down with its own cosine, and a last look shows whether it is so.
    std::optional<Stand> find() {
        if (!start()) return std::nullopt;
        for (int round = 0; round < Samples::most; ++round) {
            fill_hi();
            if (exchange() == Found::square) return stand(0.0);
            const Wall rising = first_wall(k_, all_, pair_.rising, u_);
            const double t = crossing(rising, first_wall(k_, all_, pair_.falling, u_));
            if (!(std::abs(t) <= widest_yaw)) return std::nullopt;
            u_ = one_less_cosine(t);
            fill_hi();
            lowest_ = least(hi_, all_, t);
            if (lowest_ >= rising.at(t, u_) - rounding) return stand(t);
        }
        return std::nullopt;
    }

private:
    enum class Found { pair, square };

    /// What is lower by less than the rounding of these sums is not lower: else walls in one line would take each other's place for ever.
    static constexpr double rounding = 1e-13;

    void fill_hi() { Gates(k_, all_, u_).fill_hi(hi_); }

    /// > 0 where the push would turn the sled clockwise about this sample.
    double slope(std::size_t i) const { return all_.y[i] + arm_; }

    /// At a fixed cosine: the wall in the way of the pair takes the place of one of the two, until none is in the way.
    Found exchange() {
        for (int round = 0; round < Samples::most; ++round) {
            const double t = (hi_[pair_.falling] - hi_[pair_.rising]) / (all_.y[pair_.rising] - all_.y[pair_.falling]);
            lowest_ = least(hi_, all_, t);
            if (lowest_ >= hi_[pair_.rising] + t * all_.y[pair_.rising] - rounding) break;
            const std::size_t in_the_way = lowest_sample(t);
            if (slope(in_the_way) == 0.0) {
                if (holds_square(in_the_way)) return Found::square;
            } else {
                (slope(in_the_way) > 0.0 ? pair_.rising : pair_.falling) = in_the_way;
            }
        }
        return Found::pair;
    }

    std::size_t lowest_sample(double t) const {
        std::size_t i = 0;
        while (i + 1 < all_.count() && hi_[i] + t * all_.y[i] > lowest_) ++i;
        return i;
    }

    /// Unless a left-hand wall is in the way.
    std::optional<Stand> stand(double t) {
        Gates(k_, all_, u_).fill_minus_lo(minus_lo_);
        const double highest = -least(minus_lo_, all_, -t);
        if (highest > lowest_ + rounding) return std::nullopt;
        return Stand{{lowest_, t}, u_};
    }

    /// A pair to start from: what was handed in, and the outermost samples where that is none. False: the push lies beyond all samples of one side.
    bool start() {
        if (!(slope(pair_.rising) > 0.0)) pair_.rising = all_.count() - 1;
        if (!(slope(pair_.falling) < 0.0)) pair_.falling = 0;
        return slope(pair_.rising) > 0.0 && slope(pair_.falling) < 0.0;
    }

    /// A level wall, right before the push, stops the sled alike at many yaws; of these the one nearest to zero counts: zero itself, or else where the wall that
    /// forbids zero takes over.
    bool holds_square(std::size_t level) {
        u_ = 0.0;
        fill_hi();
        lowest_ = least(hi_, all_, 0.0);
        if (lowest_ >= hi_[level] - rounding) return true;
        const std::size_t other = lowest_sample(0.0);
        pair_ = slope(other) > 0.0 ? Pair{other, level} : Pair{level, other};
        return false;
    }

    const Tracks& k_;
    const Samples& all_;
    double arm_;
    Pair& pair_;
    Samples::List hi_;   ///< at the cosine of u_
    Samples::List minus_lo_;
    double u_;
    double lowest_ = 0.0;
};

/// The general road's corridor.
Corridor corridor_of(const Tracks& k, const Samples& all, double u) {
    Samples::List minus_lo;
    Samples::List hi;
    const Gates gates(k, all, u);
    gates.fill_minus_lo(minus_lo);
    gates.fill_hi(hi);
    Corridor corridor(all.count());
    for (std::size_t i = 0; i < all.count(); ++i) corridor[i] = {all.y[i], -minus_lo[i], hi[i]};
    return corridor;
}

}  // namespace

std::optional<Stand> stand_by_search(const Tracks& k, const Samples& all, const Press& push, Stand stand) {
    constexpr int rounds = 8;
    for (int round = 0; round < rounds; ++round) {
        const std::optional<Place> place = press(corridor_of(k, all, stand.u), push.side, push.moment_mm, stand.middle.yaw);
        if (!place) return std::nullopt;
        stand.middle = *place;
        const double before = stand.u;
        stand.u = one_less_cosine(place->yaw);
        // Times the runner's distance from the blade, some 100 mm: 1e-12 mm.
        if (std::abs(stand.u - before) <= 1e-14) break;
    }
    return stand;
}

std::optional<Stand> stand_by_pair(const Tracks& k, const Samples& all, const Press& push, double u, Pair& pair) {
    if (push.side == 0.0) return std::nullopt;
    return PairSearch(k, all, push.moment_mm / push.side, u, pair).find();
}

std::optional<Stand> stand_of(const Tracks& k, const Samples& all, const Press& push, Stand start, Pair& pair) {
    const std::optional<Stand> held = stand_by_pair(k, all, push, start.u, pair);
    return held ? held : stand_by_search(k, all, push, start);
}

}  // namespace offsquare::contact
