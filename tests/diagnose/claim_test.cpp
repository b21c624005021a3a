// The verdict about a fence against Bayes' sum over a grid, and against what chance really does.
#include "diagnose/claim.h"

#include <doctest/doctest.h>

#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <random>

namespace claim_of_a_fence {

using namespace offsquare;
using diagnose::ChanceCase;
using diagnose::FenceTest;
using diagnose::MayChange;
using diagnose::State;
using diagnose::Verdict;
using diagnose::Work;

namespace {

constexpr double tol = 3.5e-4;
constexpr double u = 2.4e-5;  // of one strip read with a usual caliper
constexpr double z975 = 1.959963984540054;

double squared(double x) { return x * x; }

FenceTest test_of(double skew, bool brushed = true, int stand = 0) {
    FenceTest t;
    t.skew_rad = {skew, u};
    t.stand = stand;
    t.brushed = brushed;
    t.same_push = true;
    t.per_width = 0.25 / 300.0;
    return t;
}

/// Chips as on one saw of five.
MayChange chips() {
    MayChange may;
    may.chips = {{0.8, squared(1e-5), true}, {0.15, squared(1.7e-4), false}, {0.05, squared(4e-4), false}};
    return may;
}

Verdict claim(const std::vector<FenceTest>& tests, const MayChange& may) {
    return diagnose::claim_of(tests, may, tol, 0.01, 0.01);
}

double normal(double x, double variance) {
    return std::exp(-0.5 * x * x / variance) / std::sqrt(2.0 * 3.14159265358979323846 * variance);
}

/// The same sum with the mean on a grid in place of its integral: where the distribution of the mean reaches p.
double on_a_grid(const std::vector<FenceTest>& tests, const MayChange& may, double p) {
    constexpr int points = 40001;
    const double from = -4e-3;
    const double step = 8e-3 / (points - 1);
    std::vector<double> height(points, 0.0);
    for (const ChanceCase& c : may.chips) {
        double elsewhere = 1.0;  // tests of another stand, about a mean of their own
        double other_sum = 0.0;
        for (int i = 0; i < points; ++i) {
            double product = 1.0;
            bool any = false;
            for (const FenceTest& t : tests) {
                if (t.stand == tests.back().stand) continue;
                any = true;
                product *= normal(t.skew_rad.value - (from + i * step), u * u + (t.brushed ? 0.0 : c.variance));
            }
            other_sum += any ? product * step : 0.0;
        }
        if (other_sum > 0.0) elsewhere = other_sum;
        for (int i = 0; i < points; ++i) {
            double product = c.weight * elsewhere;
            for (const FenceTest& t : tests) {
                if (t.stand != tests.back().stand) continue;
                product *= normal(t.skew_rad.value - (from + i * step), u * u + (t.brushed ? 0.0 : c.variance));
            }
            height[static_cast<std::size_t>(i)] += product;
        }
    }
    double all = 0.0;
    for (const double h : height) all += h;
    double sum = 0.0;
    for (int i = 0; i < points; ++i) {
        const double here = height[static_cast<std::size_t>(i)];
        sum += here;
        if (sum >= p * all) return from + (i + 0.5 - (sum - p * all) / here) * step;
    }
    return from;
}

}  // namespace

TEST_CASE("the interval of the fence is that of Bayes' sum over a grid of means") {
    const std::vector<std::vector<FenceTest>> sets{
        {test_of(1e-4, false)},
        {test_of(1e-4, false), test_of(1.2e-4, false)},
        {test_of(1e-4, false), test_of(5e-4, false)},
        {test_of(1e-4, false), test_of(-1e-4, true)},
        {test_of(0.0, false), test_of(2.5e-4, false), test_of(-3e-4, false), test_of(1e-4, true)},
        {test_of(8e-4, false, 0), test_of(3e-4, false, 0), test_of(1e-4, false, 1)},  // a shim between them
    };
    for (const auto& tests : sets) {
        CAPTURE(tests.size());
        const Verdict v = claim(tests, chips());
        // A thousandth of the narrowest case, 3e-8, and what a straight line within a step of 2e-7 leaves.
        CHECK(std::abs(v.coverage95.lo - on_a_grid(tests, chips(), 0.025)) < 5e-8);
        CHECK(std::abs(v.coverage95.hi - on_a_grid(tests, chips(), 0.975)) < 5e-8);
    }
}

TEST_CASE("where nothing may change, the claim is what the strips say together") {
    const Verdict one = claim({test_of(1e-4)}, {});
    CHECK(std::abs(one.coverage95.hi - (1e-4 + z975 * u)) < 1e-7);
    CHECK(one.state == State::pass);
    const Verdict two = claim({test_of(1e-4), test_of(1.4e-4)}, {});
    CHECK(std::abs(two.coverage95.lo - (1.2e-4 - z975 * u / std::sqrt(2.0))) < 1e-7);
    CHECK(std::abs(two.mean_rad - 1.2e-4) < 1e-12);
}

TEST_CASE("the caliper's rectangular limits have no tails: the interval of one strip against throws") {
    // Two ends, each off by at most a, and normal noise.
    constexpr double a = 3.6e-5;
    constexpr double noise = 1e-5;
    std::mt19937_64 random(9);
    std::uniform_real_distribution<double> limit(-a, a);
    std::normal_distribution<double> normal_noise(0.0, noise);
    FenceTest t = test_of(0.0);
    t.u_limits = a * std::sqrt(2.0 / 3.0);
    t.skew_rad.u = std::hypot(t.u_limits, noise);
    const Verdict v = claim({t}, {});
    int out = 0;
    constexpr int throws = 400000;
    for (int i = 0; i < throws; ++i) {
        const double error = limit(random) + limit(random) + normal_noise(random);
        out += error < v.coverage95.lo || error > v.coverage95.hi ? 1 : 0;
    }
    // Sampling: 0.035 points; two normal distributions are not quite that sum. As one: 4.2 in 100.
    CHECK(std::abs(100.0 * out / throws - 5.0) < 0.3);
}

TEST_CASE("one strip that passes says nothing of a fence where chips may lie; brushing, or agreement, decides it") {
    CHECK(diagnose::judge({2e-4, u}, tol).state == State::pass);
    const Verdict v = claim({test_of(2e-4, false)}, chips());
    CHECK(v.state == State::undecided);
    CHECK(v.scatter_is_open);
    CHECK(v.work == Work::test);
    CHECK(v.more_tests == 1);
    CHECK(v.tests_to_decide == 2);
    CHECK(v.work_minutes == measure::info(measure::Check::brushed).minutes);
    CHECK(claim({test_of(2e-4, true)}, chips()).state == State::pass);
    CHECK(claim({test_of(2e-4, false), test_of(2.1e-4, false)}, chips()).state == State::pass);
    CHECK(claim({test_of(2e-4, false), test_of(5e-4, false)}, chips()).state == State::undecided);
    CHECK(claim({test_of(1.6e-3, false)}, chips()).state == State::fail);  // no chip makes that
}

TEST_CASE("tests that would decide it: by adding them one by one at the mean") {
    for (const double skew : {2.2e-4, 2.9e-4, 3.2e-4, 4.1e-4, 6e-4}) {
        std::vector<FenceTest> tests{test_of(skew, false)};
        const Verdict v = claim(tests, chips());
        if (v.state != State::undecided) continue;
        CAPTURE(skew);
        REQUIRE(v.tests_to_decide >= 2);
        for (int n = 2; n <= v.tests_to_decide; ++n) {
            tests.push_back(test_of(v.mean_rad));
            CHECK((claim(tests, chips()).state == State::undecided) == (n < v.tests_to_decide));
        }
    }
}

TEST_CASE("tests disagree where chi square says so: one good saw of a hundred") {
    for (const int n : {2, 3, 4, 7}) {
        CAPTURE(n);
        const double limit = boost::math::quantile(boost::math::chi_squared(n - 1), 0.99);
        for (const double share : {0.98, 1.02}) {
            // n - 1 tests alike and one apart by d: the sum of squares about the mean is d^2 (n - 1)/n.
            const double d = u * std::sqrt(share * limit * n / (n - 1.0));
            std::vector<FenceTest> tests(static_cast<std::size_t>(n - 1), test_of(1e-3));
            tests.push_back(test_of(1e-3 + d));
            CHECK(claim(tests, {}).changes == (share > 1.0));
        }
    }
    // What changes on any good saw is no disagreement.
    MayChange may;
    may.hand = {{0.5, squared(5e-5), true}, {0.5, squared(2e-4), false}};
    std::vector<FenceTest> tests{test_of(0.0), test_of(1.5e-4)};
    for (FenceTest& t : tests) t.same_push = false;
    CHECK_FALSE(claim(tests, may).changes);
    tests.back().skew_rad.value = 4e-4;
    CHECK(claim(tests, may).changes);
    CHECK(claim(tests, may).unusual > 0.9);
}

TEST_CASE("a wandering hand: the wiggle is proposed where it spares a test, and the play that it reads is counted") {
    // A sled that turns by its left play over 400 mm, half of the pushes to either side.
    const auto reads = [](const measure::Occasion& o, const diagnose::Sizes& sizes) {
        const double play = std::max(0.0, sizes[static_cast<std::size_t>(shop::Fault::left_play)]);
        const double turn = play / 400.0;
        if (o.check == measure::Check::wiggle) return diagnose::Prediction{{play, play}, {0.0, 0.0}, {0.005, 0.005}};
        return diagnose::Prediction{{0.0}, {squared(turn) / 8.0}, {u}};
    };
    diagnose::Model model = [&](const measure::Occasion& o, const diagnose::Sizes& s) {
        return std::optional(reads(o, s));
    };
    model.binding = {shop::Fault::left_play};
    shop::Drawing drawing;
    drawing.sled.hand = shop::Hand::wandering;
    FenceTest test = test_of(1.5e-4);
    test.same_push = false;
    const auto wiggle = [](double play) {
        return measure::CheckReport{
            {measure::Check::wiggle},
            {{"front", shop::FaultUnit::mm, play, 0.005}, {"rear", shop::FaultUnit::mm, play, 0.005}}};
    };
    const auto variance_of = [&](const std::vector<measure::CheckReport>& others) {
        const MayChange may = diagnose::may_change(drawing, model, diagnose::declared_prior(), others);
        double weight = 0.0;
        double sum = 0.0;
        for (const ChanceCase& c : may.hand) {
            weight += c.weight;
            sum += c.weight * c.variance;
        }
        return sum / weight;
    };
    const auto verdict = [&](const std::vector<measure::CheckReport>& others) {
        const std::vector<FenceTest> tests{test};
        return diagnose::claim_of(tests, diagnose::may_change(drawing, model, diagnose::declared_prior(), others), tol,
                                  0.01, 0.01);
    };
    // The prior's mean square: 0.7 (0.06^2 + 0.012^2) + 0.3 (0.25^2 + 0.05^2), and 240 saws' sampling of it.
    const double prior = 0.7 * (squared(0.06) + squared(0.012)) + 0.3 * (squared(0.25) + squared(0.05));
    CHECK(std::abs(variance_of({}) / (prior / squared(400.0) / 8.0) - 1.0) < 0.25);
    // What the wiggle read, to its own uncertainty; also beyond every saw of the prior.
    CHECK(std::sqrt(variance_of({wiggle(0.0)})) < 0.005 / 400.0);
    for (const double play : {0.07, 0.3, 1.2}) {
        const double expected = (squared(play) + squared(0.005)) / squared(400.0) / 8.0;
        CAPTURE(play);
        CHECK(std::abs(std::sqrt(variance_of({wiggle(play)}) / expected) - 1.0) < 0.1);
    }
    const Verdict open = verdict({});
    CHECK(open.state == State::undecided);
    CHECK(open.hand_is_open);
    CHECK(open.work == Work::wiggle);
    CHECK(open.work_minutes == measure::info(measure::Check::wiggle).minutes);
    CHECK(verdict({wiggle(0.06)}).state == State::pass);
    CHECK(verdict({wiggle(0.5)}).state == State::undecided);
    CHECK_FALSE(verdict({wiggle(0.5)}).hand_is_open);
}

TEST_CASE("repeats that agree too well make a sticking caliper likelier; one that differs by a digit rules it out") {
    MayChange may;
    may.caliper = {{0.9, 0.0, true, 0.0, 0.0}, {0.1, 0.0, false, 0.1, 0.02}};
    const auto unusual = [&](std::vector<std::vector<double>> repeats) {
        FenceTest t = test_of(1e-4);
        t.repeats_mm = std::move(repeats);
        return claim({t}, may).unusual;
    };
    CHECK(std::abs(unusual({}) - 0.1) < 1e-9);
    CHECK(unusual({{12.01, 12.02}, {12.0, 12.0}}) < 1e-5);  // a step of a tenth is 4.4 deviations away
    CHECK(unusual({{12.0, 12.1}, {12.0, 12.0}}) > 0.99);
    // By trying: normal noise of 0.01 mm, displays rounded to 0.01 mm or to 0.1 mm.
    std::mt19937_64 random(5);
    std::normal_distribution<double> noise(0.0, 0.01);
    std::uniform_real_distribution<double> place(11.0, 13.0);
    const auto alike = [&](double step) {
        int n = 0;
        for (int i = 0; i < 200000; ++i) {
            const double at = place(random);
            n += std::round((at + noise(random)) / step) == std::round((at + noise(random)) / step) ? 1 : 0;
        }
        return n / 200000.0;
    };
    const double fine = alike(0.01);
    const double coarse = alike(0.1);
    const double expected = 0.1 * coarse * coarse / (0.1 * coarse * coarse + 0.9 * fine * fine);
    CHECK(std::abs(unusual({{12.0, 12.0}, {12.0, 12.0}}) - expected) < 0.01);  // 200,000 throws: 0.004
}

}  // namespace claim_of_a_fence
