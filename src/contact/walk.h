// A broken line that is asked at increasing places.
#pragma once

#include <boost/container/small_vector.hpp>

#include "base/frame.h"
#include "base/profile.h"

namespace offsquare::contact {

/// Reads what base::Profile::at reads, but walks along instead of searching each time. Looks into points that must outlive it; their x must not decrease.
class Walk {
public:
    Walk() = default;
    Walk(const base::Vec2* points, std::size_t n) : points_(points), n_(n) {
        for (std::size_t i = 0; i + 1 < n_; ++i) slopes_.push_back((points_[i + 1].y - points_[i].y) / (points_[i + 1].x - points_[i].x));
    }
    explicit Walk(const base::Profile& profile) : Walk(profile.points().data(), profile.points().size()) {}

    bool straight() const { return n_ == 0; }

    /// Height at t; `i` is where the last look-up ended, 0 before the first. Level beyond the ends.
    double at(double t, std::size_t& i) const {
        if (n_ == 0) return 0.0;
        while (i + 1 < n_ && points_[i + 1].x <= t) ++i;
        if (i + 1 == n_ || t <= points_[0].x) return points_[i].y;
        return points_[i].y + slopes_[i] * (t - points_[i].x);
    }

private:
    const base::Vec2* points_ = nullptr;
    std::size_t n_ = 0;
    boost::container::small_vector<double, 36> slopes_;
};

}  // namespace offsquare::contact
