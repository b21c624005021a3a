// How a face that should be straight departs from straight.
#pragma once

#include <boost/container/small_vector.hpp>

#include "base/frame.h"

namespace offsquare::base {

/// Points (t, d): position along the face t [mm] strictly increasing, departure d [mm]; straight between points, level
/// beyond the ends. No points: exactly straight.
class Profile {
public:
    using Points = boost::container::small_vector<Vec2, 4>;
    Profile() = default;
    /// Copies: moving a small_vector makes g++ 12 warn wrongly about reading past the inner buffer.
    explicit Profile(const Points& points) : points_(points) {}

    bool straight() const { return points_.empty(); }
    const Points& points() const { return points_; }
    /// Departure at t [mm].
    double at(double t) const {
        if (points_.empty()) return 0.0;
        if (t <= points_.front().x) return points_.front().y;
        if (t >= points_.back().x) return points_.back().y;
        std::size_t i = 1;
        while (points_[i].x < t) ++i;
        const Vec2 a = points_[i - 1];
        const Vec2 b = points_[i];
        return a.y + (b.y - a.y) * ((t - a.x) / (b.x - a.x));
    }

    /// A shallow bow over [from, to]: zero at both ends, `sagitta` in the middle, a parabola through n points (n >= 3,
    /// odd keeps the peak).
    static Profile bow(double from, double to, double sagitta, int n = 33) {
        Points p;
        for (int i = 0; i < n; ++i) {
            const double f = static_cast<double>(i) / (n - 1);
            p.push_back({from + (to - from) * f, 4.0 * sagitta * f * (1.0 - f)});
        }
        return Profile(p);
    }

    /// A wave over [from, to], `height` from trough to crest, zero and rising at t = 0; twelve points a wave: within 2
    /// % of its height of a sine. height >= 0, wave_mm > 0.
    static Profile wave(double from, double to, double height, double wave_mm);

private:
    Points points_;
};

/// The sum of two profiles, with the points of both.
Profile sum(const Profile& a, const Profile& b);

}  // namespace offsquare::base
