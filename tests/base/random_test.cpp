// The random streams: known answers of the generator, independence of the address, and the shape of what comes out.
// Every statistical check uses a fixed seed, so it gives the same verdict each time; the level says how likely a sound
// generator would have been to fail when the seed was first chosen.
#include "base/random.h"
#include "statistics.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <set>
#include <vector>

using namespace offsquare::base;

namespace {

constexpr double false_alarm = 1e-4;  // of each statistical check

std::vector<double> draws(double (*draw)(const Draw&), int n, std::uint64_t seed) {
    std::vector<double> v;
    for (int i = 0; i < n; ++i)
        v.push_back(draw({.seed = seed, .purpose = Purpose::test_case, .a = static_cast<std::uint32_t>(i), .b = 3}));
    return v;
}

/// Kolmogorov's distance of a sample from a distribution.
template <class Cdf>
double kolmogorov_distance(std::vector<double> v, Cdf cdf) {
    std::sort(v.begin(), v.end());
    const double n = static_cast<double>(v.size());
    double d = 0.0;
    for (std::size_t i = 0; i < v.size(); ++i) {
        const double f = cdf(v[i]);
        d = std::max({d, f - static_cast<double>(i) / n, static_cast<double>(i + 1) / n - f});
    }
    return d;
}

/// The distance exceeded with probability `alpha`, large n: Kolmogorov's series cut after its first term, 2 exp(-2 n
/// d^2) = alpha.
double kolmogorov_limit(double alpha, double n) { return std::sqrt(-0.5 * std::log(alpha / 2.0) / n); }

double chi_square_of_even_bins(const std::vector<double>& in_unit, int bins) {
    std::vector<double> count(static_cast<std::size_t>(bins), 0.0);
    for (const double u : in_unit) count[static_cast<std::size_t>(u * bins)] += 1.0;
    const double expected = static_cast<double>(in_unit.size()) / bins;
    double sum = 0.0;
    for (const double c : count) sum += (c - expected) * (c - expected) / expected;
    return sum;
}

}  // namespace

TEST_CASE("Philox4x32-10 gives the published answers") {
    // Random123 known answers (kat_vectors, Debian librandom123-doc; check-values.md).
    using Block = std::array<std::uint32_t, 4>;
    CHECK(philox({0, 0, 0, 0}, {0, 0}) == Block{0x6627e8d5U, 0xe169c58dU, 0xbc57ac4cU, 0x9b00dbd8U});
    const std::uint32_t ones = 0xffffffffU;
    CHECK(philox({ones, ones, ones, ones}, {ones, ones}) == Block{0x408f276dU, 0x41c83b0eU, 0xa20bc7c6U, 0x6d5451fdU});
}

TEST_CASE("Philox agrees with ten rounds written from the paper") {
    // Second road: Salmon and others 2011, section 3.3: multiply two words by constants, swap, mix in the key, bump the
    // key by Weyl steps.
    const auto by_hand = [](std::array<std::uint32_t, 4> c, std::array<std::uint32_t, 2> k) {
        for (int round = 0; round < 10; ++round) {
            const std::uint64_t p0 = std::uint64_t{0xD2511F53U} * c[0];
            const std::uint64_t p1 = std::uint64_t{0xCD9E8D57U} * c[2];
            c = {static_cast<std::uint32_t>(p1 >> 32U) ^ c[1] ^ k[0], static_cast<std::uint32_t>(p1),
                 static_cast<std::uint32_t>(p0 >> 32U) ^ c[3] ^ k[1], static_cast<std::uint32_t>(p0)};
            k = {k[0] + 0x9E3779B9U, k[1] + 0xBB67AE85U};
        }
        return c;
    };
    for (std::uint32_t i = 0; i < 200; ++i)
        CHECK(philox({i, 7 * i, 100, 0}, {i * 2654435761U, ~i}) == by_hand({i, 7 * i, 100, 0}, {i * 2654435761U, ~i}));
}

TEST_CASE("a draw is addressed by seed, purpose and index, and by nothing else") {
    // The word order is part of stored sessions: counter (a, b, purpose, 0), key (low, high half of the seed).
    const Draw d{.seed = 0x0123456789abcdefULL, .purpose = Purpose::shim_thickness, .a = 11, .b = 22};
    const auto block = philox({11, 22, 5, 0}, {0x89abcdefU, 0x01234567U});
    const std::uint64_t bits = (std::uint64_t{block[1]} << 32U) | block[0];
    // The 52 leading bits name one of 2^52 equal cells; the draw is the middle of the cell.
    CHECK(uniform01(d) == std::ldexp(static_cast<double>(bits >> 12U), -52) + std::ldexp(1.0, -53));
    CHECK(uniform01(d) == uniform01(d));
    std::set<double> values;
    for (const std::uint64_t seed : {0ULL, 1ULL, 1ULL << 32U}) {
        for (const Purpose p : {Purpose::caliper_limit, Purpose::caliper_repeat, Purpose::caliper_spread,
                                Purpose::tape_limit, Purpose::shim_thickness, Purpose::test_case}) {
            for (std::uint32_t a = 0; a < 5; ++a) {
                for (std::uint32_t b = 0; b < 5; ++b) values.insert(uniform01({seed, p, a, b}));
            }
        }
    }
    CHECK(values.size() == 3 * 6 * 5 * 5);  // two of 450 alike by chance: 450^2/2^53 = 2e-11
}

TEST_CASE("uniform draws are uniform") {
    const int n = 50000;
    const std::vector<double> u = draws(uniform01, n, 42);
    CHECK(*std::min_element(u.begin(), u.end()) > 0.0);
    CHECK(*std::max_element(u.begin(), u.end()) < 1.0);
    CHECK(kolmogorov_distance(u, [](double x) { return x; }) < kolmogorov_limit(false_alarm, n));
    const boost::math::chi_squared chi(127);
    CHECK(chi_square_of_even_bins(u, 128) < quantile(complement(chi, false_alarm)));
    // The low bits too: the fractional part of 2^20 u is uniform as well.
    std::vector<double> low;
    for (const double x : u) low.push_back(std::ldexp(x, 20) - std::floor(std::ldexp(x, 20)));
    CHECK(chi_square_of_even_bins(low, 128) < quantile(complement(chi, false_alarm)));
}

TEST_CASE("the checks above can fail: a slightly crooked sample is caught") {
    const int n = 50000;
    std::vector<double> u = draws(uniform01, n, 42);
    for (double& x : u) x = x * x * 0.05 + x * 0.95;
    CHECK(kolmogorov_distance(u, [](double x) { return x; }) > kolmogorov_limit(false_alarm, n));
}

TEST_CASE("neighbouring draws and neighbouring seeds are not correlated") {
    const int n = 20000;
    const std::vector<double> one = draws(standard_normal, n, 7);
    const std::vector<double> next_seed = draws(standard_normal, n, 8);
    const std::vector<double> head(one.begin(), one.end() - 1);
    const std::vector<double> tail(one.begin() + 1, one.end());
    // A correlation of independent samples is normal with sd 1/sqrt(n) for large n.
    const double limit = quantile(complement(boost::math::normal(), false_alarm / 2.0)) / std::sqrt(n);
    CHECK(std::fabs(statistics::correlation(one, next_seed)) < limit);
    CHECK(std::fabs(statistics::correlation(head, tail)) < limit);
}

TEST_CASE("normal draws are normal, with mean 0 and spread 1") {
    const int n = 50000;
    const std::vector<double> z = draws(standard_normal, n, 2024);
    const boost::math::normal normal;
    CHECK(kolmogorov_distance(z, [&](double x) { return cdf(normal, x); }) < kolmogorov_limit(false_alarm, n));
    double sum = 0.0;
    double squares = 0.0;
    for (const double x : z) {
        sum += x;
        squares += x * x;
    }
    const double limit = quantile(complement(normal, false_alarm / 2.0));
    CHECK(std::fabs(sum / n) < limit / std::sqrt(n));
    CHECK(std::fabs(squares / n - 1.0) < limit * std::sqrt(2.0 / n));  // variance of x^2 is 2
}

TEST_CASE("the normal quantile is that of Boost.Math to 1e-14, from the middle to the far tails") {
    const boost::math::normal_distribution<long double> normal;
    const auto relative_error = [&](double p) {
        const long double exact = p > 0.5 ? quantile(complement(normal, 1.0L - static_cast<long double>(p)))
                                          : quantile(normal, static_cast<long double>(p));
        return static_cast<double>(std::fabs((static_cast<long double>(inverse_normal(p)) - exact) / exact));
    };
    for (int i = 1; i < 4000; ++i) {
        if (i == 2000) continue;  // the middle is exactly zero, below
        CAPTURE(i);
        CHECK(relative_error(i / 4000.0) < 1e-14);
    }
    for (int power = 3; power <= 300; power += 3) {
        CAPTURE(power);
        CHECK(relative_error(std::pow(10.0, -power)) < 1e-14);
    }
    for (const double p : {0.075, 0.925, std::nextafter(0.075, 0.0), std::nextafter(0.925, 1.0), std::exp(-25.0),
                           std::nextafter(std::exp(-25.0), 0.0)}) {
        CAPTURE(p);  // the seams between the three regions
        CHECK(relative_error(p) < 1e-14);
    }
    CHECK(inverse_normal(0.5) == 0.0);
    // The smallest and largest draw that uniform01 can give mirror each other.
    CHECK(inverse_normal(0x1p-53) == -inverse_normal(1.0 - 0x1p-53));
}
