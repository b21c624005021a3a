// What chance does at each cut, counted over many tests. All seeds are fixed; bounds are 4.5 standard deviations of
// what is counted.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "cut/chance.h"
#include "shop/truth.h"

using namespace offsquare;
using cut::Chances;

namespace {

bool same(const Chances& a, const Chances& b) {
    for (std::size_t i = 0; i < a.size(); ++i) {
        if (!(a[i].push == b[i].push) || a[i].chip.has_value() != b[i].chip.has_value()) return false;
        if (a[i].chip && (a[i].chip->place != b[i].chip->place || a[i].chip->thickness_mm != b[i].chip->thickness_mm))
            return false;
    }
    return true;
}

/// Largest distance between the sample's own distribution and the even one over [0, 1] (Kolmogorov).
double unevenness(std::vector<double> x) {
    std::sort(x.begin(), x.end());
    double worst = 0;
    const double n = static_cast<double>(x.size());
    for (std::size_t i = 0; i < x.size(); ++i)
        worst = std::max(
            {worst, std::abs(x[i] - static_cast<double>(i) / n), std::abs(x[i] - static_cast<double>(i + 1) / n)});
    return worst;
}

}  // namespace

TEST_CASE("a steady hand: the drawing's side, the middle for a wandering one, and never a chip") {
    const std::pair<shop::Hand, double> hands[] = {
        {shop::Hand::left, -1}, {shop::Hand::right, 1}, {shop::Hand::middle, 0}, {shop::Hand::wandering, 0}};
    for (const auto& [hand, side] : hands) {
        shop::Drawing d;
        d.sled.hand = hand;
        for (const cut::Chance& c : cut::steady(d)) {
            CHECK(c.push.side == side);
            CHECK(c.push.moment_mm == 0.0);
            CHECK_FALSE(c.chip);
        }
        if (hand == shop::Hand::wandering) continue;
        shop::Truth dusty;
        dusty.dust_mm = 0.2;
        for (const cut::Chance& c : cut::chances_of(d, dusty, 3, 4)) CHECK(c.push == contact::Push{side, 0.0});
    }
}

TEST_CASE("chips: every second cut, anywhere along the edge, of one thickness") {
    shop::Truth t;
    t.dust_mm = 0.13;
    std::vector<double> places;
    constexpr int tests = 4000;
    int pairs = 0;
    for (std::uint32_t test = 0; test < tests; ++test) {
        const Chances c = cut::chances_of({}, t, 11, test);
        for (std::size_t i = 0; i < 5; ++i) {
            if (c[i].chip) places.push_back(c[i].chip->place);
            if (c[i].chip) CHECK(c[i].chip->thickness_mm == 0.13);
            if (i > 0 && c[i].chip && c[i - 1].chip) ++pairs;
        }
    }
    const double n = 5.0 * tests;
    CHECK(std::abs(static_cast<double>(places.size()) - 0.5 * n) < 4.5 * std::sqrt(0.25 * n));
    // One cut's chip says nothing of the next one's: a quarter of all neighbours. Counts of overlapping pairs spread by
    // sqrt(5/16) of their number's root at most.
    CHECK(std::abs(pairs - 0.25 * 4 * tests) < 4.5 * std::sqrt(5.0 / 16 * 4 * tests));
    CHECK(unevenness(places) <
          2.4 / std::sqrt(static_cast<double>(places.size())));  // Kolmogorov: 2*exp(-2*2.4^2) = 2e-5
    for (const cut::Chance& c : cut::chances_of({}, {}, 11, 1)) CHECK_FALSE(c.chip);
}

TEST_CASE("a wandering hand: either side alike, its place even over two guided lengths") {
    shop::Drawing d;
    d.sled.hand = shop::Hand::wandering;
    d.sled.runner_length_mm = 390;
    std::vector<double> places;
    double right = 0, both = 0;
    constexpr int tests = 3000;
    for (std::uint32_t test = 0; test < tests; ++test) {
        for (const cut::Chance& c : cut::chances_of(d, {}, 12, test)) {
            CHECK(std::abs(c.push.side) == 1.0);
            CHECK_FALSE(c.chip);
            places.push_back((c.push.moment_mm + 390) / 780);
            right += c.push.side > 0;
            both += c.push.side * c.push.moment_mm > 0;
        }
    }
    const double n = 5.0 * tests;
    CHECK(std::abs(right - 0.5 * n) < 4.5 * std::sqrt(0.25 * n));
    CHECK(std::abs(both - 0.5 * n) < 4.5 * std::sqrt(0.25 * n));
    CHECK(unevenness(places) < 2.4 / std::sqrt(n));
}

TEST_CASE("the same seed and test give the same chances, others give others, and more dust changes no place") {
    shop::Drawing d;
    d.sled.hand = shop::Hand::wandering;
    shop::Truth t;
    t.dust_mm = 0.1;
    CHECK(same(cut::chances_of(d, t, 5, 6), cut::chances_of(d, t, 5, 6)));
    CHECK_FALSE(same(cut::chances_of(d, t, 5, 6), cut::chances_of(d, t, 5, 7)));
    CHECK_FALSE(same(cut::chances_of(d, t, 5, 6), cut::chances_of(d, t, 4, 6)));
    shop::Truth more = t;
    more.dust_mm = 0.7;
    const Chances a = cut::chances_of(d, t, 5, 6), b = cut::chances_of(d, more, 5, 6);
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK(a[i].push == b[i].push);
        REQUIRE(a[i].chip.has_value() == b[i].chip.has_value());
        if (a[i].chip) CHECK(a[i].chip->place == b[i].chip->place);
    }
}
