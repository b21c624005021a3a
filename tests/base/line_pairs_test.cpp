// Many pairs of lines at one place: two pairs at once against one line after the other.
#include <doctest/doctest.h>

#include <random>
#include <vector>

#include "base/line_pairs.h"

using namespace offsquare::base;

namespace {

struct Lists {
    std::vector<double> p, p_bend, q, rise;
    LinePairs pairs() const { return {p.data(), p_bend.data(), q.data(), rise.data(), p.size()}; }
};

/// Small whole numbers, in which every sum is exact: so that many lines are equally low, and nothing is left to
/// rounding.
Lists drawn(std::mt19937& engine, std::size_t n) {
    Lists lists;
    for (std::vector<double>* list : {&lists.p, &lists.p_bend, &lists.q, &lists.rise}) {
        for (std::size_t i = 0; i < n; ++i) list->push_back(static_cast<double>(engine() % 21) - 10.0);
    }
    return lists;
}

double whole(std::mt19937& engine) { return static_cast<double>(engine() % 11) - 5.0; }

}  // namespace

TEST_CASE(
    "the lowest and the highest of many pairs, and the first pair that is so low: as when every line is asked by "
    "itself") {
    std::mt19937 engine(7);
    int ties = 0;
    for (int round = 0; round < 4000; ++round) {
        const std::size_t n = 1 + engine() % 40;
        const Lists lists = drawn(engine, n);
        const Lift up{whole(engine), whole(engine), whole(engine)};
        const Lift down{whole(engine), whole(engine), up.bend};
        const double t = whole(engine);
        double least = 1e9, greatest = -1e9;
        std::size_t first = 0;
        int so_low = 0;
        for (std::size_t i = 0; i < n; ++i) {
            const double slope = lists.rise[i] * t, bent = lists.p[i] + up.bend * lists.p_bend[i];
            for (const double height : {bent + up.p + slope, lists.q[i] + up.q + slope}) {
                so_low = height < least ? 1 : so_low + (height == least);
                if (height < least) least = height, first = i;
            }
            for (const double height : {bent + down.p + slope, lists.q[i] + down.q + slope})
                greatest = std::max(greatest, height);
        }
        ties += so_low > 1;
        const double found = lowest(lists.pairs(), up, t);
        CHECK(found == least);
        CHECK(first_down_to(lists.pairs(), up, t, found) == first);
        const Band all = band(lists.pairs(), up, down, t);
        CHECK(all.lowest == least);
        CHECK(all.highest == greatest);
    }
    CHECK(ties > 150);
}
