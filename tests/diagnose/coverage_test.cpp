// Does the 95 % interval hold the true skew 95 times in a hundred? Real boards are cut by the cut room, real readings
// taken by the measure room, and only the readings reach the diagnosis. The truth is looked at afterwards.
//
// 100,000 trials: the share of hits has a standard deviation of sqrt(0.95*0.05/100000) = 0.0007, so a coverage inside
// the demanded 94 to 96 % is told from one outside with ease. Skew and side differ from trial to trial, so that the
// place of the widths between two steps of the caliper does, too. Measured: 94.9 to 95.7 %, and 96.0 % with limits of
// error alone.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "cut/five_cut.h"
#include "diagnose/five_cut.h"
#include "measure/instruments.h"
#include "repeats.h"
#include "shop/truth.h"

using namespace offsquare;

namespace {

/// One way to measure: an instrument, how many repeats an end, how many tests in the mean.
struct Way {
    std::string name;
    shop::Caliper caliper;
    std::uint32_t repeats;
    std::uint32_t tests;
    int held = 0;
};

base::Uncertain end_width(const Way& way, double true_mm, std::uint64_t seed, std::uint32_t test, std::uint32_t end) {
    constexpr double zero_mm = 0.02;
    std::vector<measure::Reading> readings;
    for (std::uint32_t k = 0; k < way.repeats; ++k) {
        readings.push_back(
            measure::read_caliper(way.caliper, zero_mm, true_mm, 0.0, {seed, test, end, k}, measure::Precision::real));
    }
    return measure::mean_of_repeats(way.caliper, readings, measure::Precision::real);
}

base::Uncertain one_test(const Way& way, const cut::Strip& strip, const shop::Tape& tape, std::uint64_t seed,
                         std::uint32_t test) {
    const auto length = measure::read_tape(tape, strip.length_mm, {seed, test, 0, 0}, measure::Precision::real);
    const diagnose::StripReadings r{end_width(way, strip.width_at(0.0), seed, test, 0),
                                    end_width(way, strip.width_at(strip.length_mm), seed, test, 1),
                                    measure::tape_value(tape, length, measure::Precision::real), strip.side};
    return diagnose::skew_from_strip(r);
}

bool holds_truth(const Way& way, const cut::FiveCut& five, const shop::Tape& tape, std::uint64_t seed) {
    std::vector<base::Uncertain> skews;
    for (std::uint32_t test = 1; test <= way.tests; ++test)
        skews.push_back(one_test(way, *five.strip, tape, seed, test));
    const base::Uncertain skew = way.tests == 1 ? skews.front() : diagnose::average(skews);
    const base::Interval c = base::coverage(skew);
    return c.lo <= five.skew_rad && five.skew_rad <= c.hi;
}

}  // namespace

TEST_CASE("the 95 % interval holds the true skew 94 to 96 times in a hundred" * doctest::skip(repeats::sanitized)) {
    const shop::Caliper teaching{"digital caliper", 0.01, 0.03, 0.01, 10};  // as in scenarios/teaching-saw.toml
    const shop::Caliper known{"digital caliper", 0.01, 0.03, 0.01, 0};
    const shop::Caliper vernier{"vernier", 0.05, 0.05, 0.02, 0};
    const shop::Caliper few{"caliper", 0.01, 0.03, 0.01, 5};
    const shop::Caliper few_noisy{"caliper", 0.01, 0.01, 0.02, 5};  // noise from five readings is nearly all there is
    std::vector<Way> ways{
        {"teaching saw, 1 reading an end", teaching, 1, 1},
        {"teaching saw, 2 readings an end", teaching, 2, 1},
        {"repeatability known", known, 1, 1},
        {"coarse vernier", vernier, 1, 1},
        {"repeatability from 5 readings", few, 1, 1},
        {"repeatability from 5 readings, noise rules", few_noisy, 1, 1},
        {"repeatability from 4 readings, noise rules", {"caliper", 0.01, 0.01, 0.02, 4}, 1, 1},
        {"repeatability from 3 readings", {"caliper", 0.01, 0.03, 0.01, 3}, 1, 1},
        {"repeatability from 3 readings, noise rules", {"caliper", 0.01, 0.01, 0.02, 3}, 1, 1},
        {"repeatability from 2 readings", {"caliper", 0.01, 0.03, 0.01, 2}, 1, 1},
        {"repeatability from 2 readings, noise rules", {"caliper", 0.01, 0.01, 0.02, 2}, 1, 1},
        {"old vernier, 1 reading", {"caliper", 0.05, 0.05, 0.03, 8}, 1, 1},
        {"noise rules, 3 readings an end", few_noisy, 3, 1},
        {"mean of 3 tests", teaching, 1, 3},
        {"mean of 3 tests, noise rules", few_noisy, 1, 3},
    };
    constexpr int trials = 100000;
    std::mt19937_64 engine(20240612);
    const auto uniform = [&] { return static_cast<double>(engine() >> 11U) * 0x1p-53; };
    shop::Drawing drawing;
    for (int i = 0; i < trials; ++i) {
        shop::Truth truth;
        truth.fence_skew_rad = 0.004 * uniform() - 0.002;
        drawing.board.kept = uniform() < 0.5 ? shop::Side::left : shop::Side::right;
        const cut::FiveCut five = cut::five_cut(drawing, truth, {});
        REQUIRE(five.strip);
        for (Way& way : ways) way.held += holds_truth(way, five, drawing.tape, static_cast<std::uint64_t>(i)) ? 1 : 0;
    }
    for (const Way& way : ways) {
        const double share = static_cast<double>(way.held) / trials;
        CAPTURE(way.name);
        CAPTURE(share);
        CHECK(share >= 0.94);
        CHECK(share <= 0.96);
    }
}

TEST_CASE("where the model stops: limits of error alone cover 96.0 %") {
    // Without noise and steps the difference of two equal rectangles is a triangle of half width a and u = a/sqrt(6).
    // Outside 1.95996 u lies (1 - 1.95996/sqrt(6))^2 = 0.03994 of it: the normal factor covers 0.96006. (Area of a
    // triangle.) Standard deviation of the share over 100,000 trials: 0.0006; 4.5 of them: one false alarm in 150,000
    // seeds.
    Way way{"limits only", {"caliper", 1e-6, 0.03, 0.0, 0}, 1, 1};
    const shop::Drawing drawing;
    shop::Truth truth;
    truth.fence_skew_rad = 0.0007;
    const cut::FiveCut five = cut::five_cut(drawing, truth, {});
    REQUIRE(five.strip);
    constexpr int trials = 100000;
    for (int i = 0; i < trials; ++i)
        way.held += holds_truth(way, five, drawing.tape, static_cast<std::uint64_t>(i) + 7000000U) ? 1 : 0;
    CHECK(std::abs(static_cast<double>(way.held) / trials - 0.96006) < 4.5 * 0.00062);
}
