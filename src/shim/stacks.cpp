#include "shim/stacks.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace offsquare::shim {
namespace {

using Drawer = std::vector<shop::Shim>;

/// How good a choice is: nearer first, then fewer pieces, then surer.
struct Merit {
    double miss = std::numeric_limits<double>::infinity();
    int pieces = 0;
    double variance = 0.0;

    bool better_than(const Merit& other, double equal) const {
        if (miss < other.miss - equal) return true;
        if (miss > other.miss + equal) return false;
        if (pieces != other.pieces) return pieces < other.pieces;
        return variance < other.variance - 1e-18;
    }
};

/// One count for every line of the drawer, none below zero.
Count usable(Count available, const Drawer& drawer) {
    available.resize(drawer.size(), 0);
    for (int& n : available) n = std::max(n, 0);
    return available;
}

/// Lines of the drawer, thickest first: then the bounds cut early.
std::vector<std::size_t> thickest_first(const Drawer& drawer) {
    std::vector<std::size_t> order(drawer.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return drawer[a].thickness_mm > drawer[b].thickness_mm; });
    return order;
}

class Search {
public:
    Search(const Drawer& drawer, const Count& available, double target, double equal)
        : drawer_(drawer),
          available_(usable(available, drawer)),
          target_(target),
          equal_(equal),
          order_(thickest_first(drawer)),
          rest_(order_.size() + 1, 0.0),
          now_(drawer.size(), 0),
          best_(drawer.size(), 0) {
        for (std::size_t i = order_.size(); i-- > 0;) {
            rest_[i] = rest_[i + 1] + available_[order_[i]] * drawer_[order_[i]].thickness_mm;
        }
    }

    Count run() {
        visit(0, 0.0, 0, 0.0);
        return best_;
    }

private:
    void visit(std::size_t depth, double total, int pieces, double variance) {
        // Thicknesses are positive: once over the target by more than the best miss, or unable to come that near from
        // below, nothing deeper can be better.
        if (total - target_ > merit_.miss + equal_) return;
        if (target_ - (total + rest_[depth]) > merit_.miss + equal_) return;
        const Merit here{std::abs(target_ - total), pieces, variance};
        if (here.better_than(merit_, equal_)) {
            merit_ = here;
            best_ = now_;
        }
        if (depth == order_.size()) return;
        const std::size_t line = order_[depth];
        const double u2 = drawer_[line].u_mm * drawer_[line].u_mm;
        for (int k = available_[line]; k >= 0; --k) {
            now_[line] = k;
            visit(depth + 1, total + k * drawer_[line].thickness_mm, pieces + k, variance + k * u2);
        }
        now_[line] = 0;
    }

    const Drawer& drawer_;
    Count available_;
    double target_;
    double equal_;
    std::vector<std::size_t> order_;
    std::vector<double> rest_;
    Count now_;
    Count best_;
    Merit merit_;
};

/// A choice with its sums.
struct Choice {
    Count count;
    double thickness_mm = 0.0;
    int pieces = 0;
    double variance = 0.0;
};

/// Every choice of at most two pieces.
std::vector<Choice> up_to_two(const Drawer& drawer, const Count& available) {
    const std::size_t n = available.size();
    std::vector<Choice> choices{{Count(n, 0)}};
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t k = i; k <= n; ++k) {
            Count c(n, 0);
            ++c[i];
            if (k < n) ++c[k];
            const bool there = c[i] <= available[i] && (k >= n || c[k] <= available[k]);
            if (there) choices.push_back({c, thickness_of(drawer, c), pieces_in(c), variance_of(drawer, c)});
        }
    }
    return choices;
}

bool disjoint(const Count& a, const Count& b, const Count& available) {
    for (std::size_t i = 0; i < a.size(); ++i) {
        if (a[i] + b[i] > available[i]) return false;
    }
    return true;
}

}  // namespace

int pieces_in(const Count& count) { return std::accumulate(count.begin(), count.end(), 0); }

double thickness_of(const Drawer& drawer, const Count& count) {
    double total = 0.0;
    for (std::size_t i = 0; i < count.size(); ++i) total += count[i] * drawer[i].thickness_mm;
    return total;
}

double variance_of(const Drawer& drawer, const Count& count) {
    double total = 0.0;
    for (std::size_t i = 0; i < count.size(); ++i) total += count[i] * drawer[i].u_mm * drawer[i].u_mm;
    return total;
}

Count nearest_stack(const Drawer& drawer, const Count& available, double target_mm, double equal_mm) {
    return Search(drawer, available, target_mm, equal_mm).run();
}

BothEnds nearest_pair(const Drawer& drawer, const Count& available_pieces, double target_mm, double equal_mm) {
    const Count available = usable(available_pieces, drawer);
    const std::vector<Choice> choices = up_to_two(drawer, available);
    BothEnds best{Count(drawer.size(), 0), Count(drawer.size(), 0), 0.0};
    Merit merit;
    for (const Choice& near : choices) {
        for (const Choice& far : choices) {
            const double difference = near.thickness_mm - far.thickness_mm;
            const Merit here{std::abs(target_mm - difference), near.pieces + far.pieces, near.variance + far.variance};
            if (!here.better_than(merit, equal_mm) || !disjoint(near.count, far.count, available)) continue;
            merit = here;
            best = {near.count, far.count, difference};
        }
    }
    return best;
}

}  // namespace offsquare::shim
