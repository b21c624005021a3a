// A broken line that is asked at increasing places.
#pragma once

#include <boost/container/small_vector.hpp>
#include <limits>
#include <span>

#include "base/frame.h"

namespace offsquare::contact {

/// Reads what base::Profile::at reads, but walks along instead of searching each time, and divides once for each part
/// instead of at each look-up.
class BrokenLine {
    /// Holds from x to the next part's x. The first one holds before its x too; the last one, at infinity, only ends
    /// the line.
    struct Part {
        double x = 0.0;
        double y = 0.0;
        double slope = 0.0;
        double at(double t) const { return y + slope * (t - x); }
    };

public:
    /// Points by increasing x; none: zero everywhere. Level beyond the ends.
    explicit BrokenLine(std::span<const base::Vec2> points = {}) : straight_(points.empty()) {
        parts_.reserve(points.size() + 2);
        parts_.push_back(straight_ ? Part{} : Part{points.front().x, points.front().y, 0.0});
        for (std::size_t i = 0; i + 1 < points.size(); ++i) add(points[i], points[i + 1]);
        if (!straight_) parts_.push_back({points.back().x, points.back().y, 0.0});
        parts_.push_back({std::numeric_limits<double>::infinity(), 0.0, 0.0});
    }

    bool straight() const { return straight_; }

    /// Looks into the line, which must outlive it.
    class Walk {
    public:
        explicit Walk(const BrokenLine& line) : part_(line.parts_.data()) {}
        explicit Walk(const Part* part) : part_(part) {}
        /// Height at t, which must not decrease from one call to the next.
        double at(double t) {
            // Mostly there is one step or none, which of them the processor cannot guess: it counts instead of jumping.
            part_ += part_[1].x <= t ? 1 : 0;
            while (part_[1].x <= t) ++part_;
            return part_->at(t);
        }

    private:
        const Part* part_;
    };

    /// Looks into the line, which must outlive it, at places of any order; quickly where the last one was near.
    class Finger {
    public:
        explicit Finger(const BrokenLine& line) : first_(line.parts_.data()), part_(first_) {}
        /// Height at t.
        double at(double t) {
            while (part_[1].x <= t) ++part_;
            while (part_ != first_ && part_->x > t) --part_;
            return part_->at(t);
        }
        /// Walks on from the last place.
        Walk walk() const { return Walk(part_); }

    private:
        const Part* first_;
        const Part* part_;
    };

private:
    void add(base::Vec2 a, base::Vec2 b) { parts_.push_back({a.x, a.y, (b.y - a.y) / (b.x - a.x)}); }

    boost::container::small_vector<Part, 36> parts_;
    bool straight_;
};

}  // namespace offsquare::contact
