// Choosing pieces, against trying every choice there is.
#include "shim/stacks.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <vector>

using namespace offsquare;
using shim::Count;

namespace {

using Drawer = std::vector<shop::Shim>;

/// Thicknesses are whole hundredths, so that equal choices really are equal (sums differ by rounding only, far below
/// 1e-9).
struct Case {
    Drawer drawer;
    Count available;
};

Case random_case(std::mt19937_64& engine, int lines, int most_pieces) {
    std::uniform_int_distribution<int> hundredths(1, 60);
    std::uniform_int_distribution<int> count(0, 3);
    std::uniform_int_distribution<int> u(1, 9);
    Case c;
    int pieces = 0;
    for (int i = 0; i < lines; ++i) {
        const int n = std::min(count(engine), most_pieces - pieces);
        pieces += n;
        c.drawer.push_back({"s" + std::to_string(i), 0.01 * hundredths(engine), 0.001 * u(engine), 3});
        c.available.push_back(n);
    }
    return c;
}

/// Calls f for every choice within `available`, counting up like an odometer.
template <class F>
void for_each_choice(const Count& available, F f) {
    Count c(available.size(), 0);
    for (;;) {
        f(c);
        std::size_t i = 0;
        while (i < c.size() && c[i] == available[i]) c[i++] = 0;
        if (i == c.size()) return;
        ++c[i];
    }
}

double total(const Drawer& d, const Count& c) {
    double sum = 0.0;
    for (std::size_t i = 0; i < d.size(); ++i) sum += d[i].thickness_mm * c[i];
    return sum;
}

double variance(const Drawer& d, const Count& c) {
    double sum = 0.0;
    for (std::size_t i = 0; i < d.size(); ++i) sum += d[i].u_mm * d[i].u_mm * c[i];
    return sum;
}

int pieces(const Count& c) {
    int sum = 0;
    for (const int n : c) sum += n;
    return sum;
}

}  // namespace

TEST_CASE("the nearest stack of 500 random drawers: nothing nearer, no fewer pieces, nothing surer") {
    std::mt19937_64 engine(11);
    std::uniform_int_distribution<int> lines(1, 6);
    std::uniform_int_distribution<int> target(-20, 260);
    for (int i = 0; i < 500; ++i) {
        const Case c = random_case(engine, lines(engine), 12);
        const double wanted = 0.01 * target(engine) + (i % 3 == 0 ? 0.003 : 0.0);
        double nearest = 1e9;
        for_each_choice(c.available,
                        [&](const Count& k) { nearest = std::min(nearest, std::abs(total(c.drawer, k) - wanted)); });
        int fewest = 1000;
        for_each_choice(c.available, [&](const Count& k) {
            if (std::abs(total(c.drawer, k) - wanted) < nearest + 1e-9) fewest = std::min(fewest, pieces(k));
        });
        double surest = 1e9;
        for_each_choice(c.available, [&](const Count& k) {
            if (std::abs(total(c.drawer, k) - wanted) < nearest + 1e-9 && pieces(k) == fewest)
                surest = std::min(surest, variance(c.drawer, k));
        });
        const Count found = shim::nearest_stack(c.drawer, c.available, wanted);
        CAPTURE(i);
        REQUIRE(found.size() == c.drawer.size());
        for (std::size_t k = 0; k < found.size(); ++k) {
            REQUIRE(found[k] >= 0);
            REQUIRE(found[k] <= c.available[k]);
        }
        REQUIRE(std::abs(total(c.drawer, found) - wanted) < nearest + 1e-9);
        REQUIRE(pieces(found) == fewest);
        REQUIRE(variance(c.drawer, found) <= surest + 1e-15);
    }
}

TEST_CASE("the nearest pair of 500 random drawers: at most two pieces an end, taken from one drawer") {
    std::mt19937_64 engine(12);
    std::uniform_int_distribution<int> lines(1, 5);
    std::uniform_int_distribution<int> target(-80, 120);
    for (int i = 0; i < 500; ++i) {
        const Case c = random_case(engine, lines(engine), 8);
        const double wanted = 0.01 * target(engine) + (i % 3 == 0 ? 0.004 : 0.0);
        double nearest = 1e9;
        int fewest = 1000;
        const auto with_all_pairs = [&](auto f) {
            for_each_choice(c.available, [&](const Count& near) {
                if (pieces(near) > 2) return;
                Count rest = c.available;
                for (std::size_t k = 0; k < rest.size(); ++k) rest[k] -= near[k];
                for_each_choice(rest, [&](const Count& far) {
                    if (pieces(far) <= 2)
                        f(std::abs(total(c.drawer, near) - total(c.drawer, far) - wanted), pieces(near) + pieces(far));
                });
            });
        };
        with_all_pairs([&](double miss, int) { nearest = std::min(nearest, miss); });
        with_all_pairs([&](double miss, int n) {
            if (miss < nearest + 1e-9) fewest = std::min(fewest, n);
        });
        const shim::BothEnds found = shim::nearest_pair(c.drawer, c.available, wanted);
        CAPTURE(i);
        REQUIRE(pieces(found.near) <= 2);
        REQUIRE(pieces(found.far) <= 2);
        for (std::size_t k = 0; k < c.available.size(); ++k) REQUIRE(found.near[k] + found.far[k] <= c.available[k]);
        REQUIRE(found.difference_mm ==
                doctest::Approx(total(c.drawer, found.near) - total(c.drawer, found.far)).epsilon(1e-12));
        REQUIRE(std::abs(found.difference_mm - wanted) < nearest + 1e-9);
        REQUIRE(pieces(found.near) + pieces(found.far) == fewest);
    }
}

TEST_CASE("an empty drawer, and one with nothing left, give nothing") {
    CHECK(shim::nearest_stack({}, {}, 0.3).empty());
    CHECK(shim::nearest_pair({}, {}, 0.3).difference_mm == 0.0);
    const Drawer d{{"brass", 0.1, 0.003, 2}, {"card", 0.2, 0.01, 1}};
    CHECK(shim::nearest_stack(d, {0, 0}, 0.3) == Count{0, 0});
    CHECK(shim::nearest_pair(d, {0, 0}, 0.3).near == Count{0, 0});
    CHECK(shim::nearest_pair(d, {0, 0}, 0.3).far == Count{0, 0});
}

TEST_CASE("counts that no drawer has: less than nothing counts as nothing, and the other lines are still looked at") {
    const Drawer d{{"card", 0.2, 0.01, 1}, {"brass", 0.1, 0.003, 2}};
    CHECK(shim::nearest_stack(d, {-1, 2}, 0.2) == Count{0, 2});
    CHECK(shim::nearest_pair(d, {-3, 1}, 0.2).near == Count{0, 1});
}

TEST_CASE("an empty stack where every piece would make it worse") {
    const Drawer d{{"plate", 5.0, 0.01, 4}};
    CHECK(shim::nearest_stack(d, {4}, 2.4) == Count{0});
    CHECK(shim::nearest_stack(d, {4}, 2.6) == Count{1});
    CHECK(shim::nearest_stack(d, {4}, -1.0) == Count{0});
}

TEST_CASE("equally near above and below: the fewer pieces") {
    const Drawer d{{"a", 0.2, 0.001, 1}, {"b", 0.05, 0.001, 2}};
    CHECK(shim::nearest_stack(d, {1, 2}, 0.15) == Count{1, 0});  // 0.20 is 0.05 over, 0.10 is 0.05 short
}

TEST_CASE("sums over pieces: thickness, number, variance of independent pieces (GUM 5.1.2)") {
    const Drawer d{{"a", 0.2, 0.003, 2}, {"b", 0.05, 0.004, 1}};
    CHECK(shim::pieces_in({2, 1}) == 3);
    CHECK(shim::thickness_of(d, {2, 1}) == doctest::Approx(0.45).epsilon(1e-14));
    CHECK(shim::variance_of(d, {2, 1}) == doctest::Approx(34e-6).epsilon(1e-12));  // 9 + 9 + 16
}
