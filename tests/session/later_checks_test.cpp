// Board against an indicator, pieces to a stop, two calipers, the half turn, diagonals: held to closed forms.
#include <doctest/doctest.h>

#include <cmath>

#include "diagnose/observe.h"
#include "measure/run_check.h"
#include "shop/truth.h"

using namespace offsquare;
using measure::Check;

namespace later {

/// One saw: its drawing, its errors, and what a check reads on it exactly.
struct Bench {
    shop::Drawing drawing;
    shop::Truth truth;

    measure::Stand stand() const { return {drawing, truth, {}, {}, 0}; }
    base::Result<measure::CheckReport> run(Check check) const {
        return measure::run_check(check, stand(), 0, 0, measure::Precision::exact);
    }
    std::vector<double> exact(Check check) const {
        const auto report = run(check);
        REQUIRE(report);
        std::vector<double> all;
        for (const auto& r : report->readings) all.push_back(r.value);
        return all;
    }
};

}  // namespace later
using later::Bench;

TEST_CASE("an indicator against the board's end reads what the board slides while it is pushed on by its length") {
    for (const double creep : {-1e-3, 0.0, 4e-4}) {
        Bench saw;
        saw.truth.board_creep_rad = creep;
        // atan and tan of an angle this small part by its cube.
        CHECK(std::abs(saw.exact(Check::board_end)[0] - saw.drawing.board.length_mm * creep) < 320.0 * 1e-9);
    }
}

TEST_CASE("three pieces to a stop that slips grow by the slip one by one; a caliper's zero does not matter") {
    Bench saw;
    saw.truth.stop_slip_mm = 0.13;
    saw.truth.caliper_zero_mm = 0.07;
    const auto v = saw.exact(Check::stop_pieces);
    CHECK(std::abs(v[1] - v[0] - 0.13) < 1e-12);
    CHECK(std::abs(v[2] - v[1] - 0.13) < 1e-12);
    const auto seen = diagnose::observe(*saw.run(Check::stop_pieces), saw.drawing);
    REQUIRE(seen);
    CHECK(std::abs((*seen)[0].value - 0.26) < 1e-12);
}

TEST_CASE("two calipers: zeros of either cancel between the pieces, and only one that sticks parts them") {
    Bench saw;
    saw.truth.caliper_zero_mm = 0.2;
    const auto exact = diagnose::observe(*saw.run(Check::second_caliper), saw.drawing);
    REQUIRE(exact);
    for (const auto& o : *exact) CHECK(std::abs(o.value) < 1e-12);
    // Read for real by one that moves in steps of 0.1 mm, its zero shifted evenly over a step: each rounding error has
    // the variance step^2/12 (GUM, 4.3.7), and two of widths that lie a part f of a step apart go together by
    // 1 - 6 f (1 - f), the second Bernoulli polynomial (Abramowitz and Stegun 23.1, from memory). The widths end on
    // 0.07, 0.04 and 0.01: 0.3, 0.3 and 0.6 of a step apart.
    double first = 0.0;
    double second = 0.0;
    constexpr int times = 400;
    for (int n = 0; n < times; ++n) {
        Bench sticks;
        sticks.truth.caliper_step_mm = 0.1;
        sticks.truth.caliper_zero_mm = 0.1 * n / times;  // shifts where the steps lie
        const auto report = measure::run_check(Check::second_caliper, sticks.stand(), 7, static_cast<std::uint32_t>(n));
        REQUIRE(report);
        const auto seen = diagnose::observe(*report, sticks.drawing);
        REQUIRE(seen);
        first += (*seen)[0].value * (*seen)[0].value / times;
        second += (*seen)[1].value * (*seen)[1].value / times;
    }
    const auto together = [](double f) { return 1.0 - 6.0 * f * (1.0 - f); };
    const double ab = together(0.3), ac = together(0.6), bc = together(0.3);
    const double rounding = 0.01 / 12.0;
    // Sampling (400) is a tenth, and what both calipers leave besides comes on top: 0.01 mm
    // of each, to the second power a tenth of it.
    CHECK(first > rounding * (1.5 - ab - ac + 0.5 * bc) * 0.9);
    CHECK(first < rounding * (1.5 - ab - ac + 0.5 * bc) * 1.35);
    CHECK(second > rounding * (2.0 - 2.0 * bc) * 0.9);
    CHECK(second < rounding * (2.0 - 2.0 * bc) * 1.35);
}

TEST_CASE("a blade turned half round: what is its own changes sides against the arbor's") {
    // Two faces that lean against each other: one leans with the flange, the other with the plate; half a turn of the
    // plate takes it to the other side. Wobble at the rim is twice the lean's height there.
    for (const double blade : {0.0, 0.03, 0.12}) {
        for (const double arbor : {0.0, 0.05, 0.12}) {
            Bench saw;
            saw.truth.blade_runout_mm = blade;
            saw.truth.arbor_runout_mm = arbor;
            const auto v = saw.exact(Check::half_turn);
            const double radius = 100.0;
            const auto wobble = [&](double turn) {
                const double lean = std::atan(0.5 * arbor / radius) + std::cos(turn) * std::atan(0.5 * blade / radius);
                return 2.0 * radius * std::abs(std::tan(lean));
            };
            CHECK(std::abs(v[0] - wobble(0.0)) < 1e-6);
            CHECK(std::abs(v[1] - wobble(M_PI)) < 1e-6);
            CHECK(std::abs(saw.exact(Check::rim_indicator)[0] - v[0]) < 1e-12);
        }
    }
}

TEST_CASE("diagonals of a panel whose ends are cut off square: the sides of two triangles") {
    for (const double skew : {-2e-3, 0.0, 5e-4}) {
        for (const shop::Side kept : {shop::Side::left, shop::Side::right}) {
            Bench saw;
            saw.drawing.board.kept = kept;
            saw.truth.fence_skew_rad = skew;
            const auto v = saw.exact(Check::diagonals);
            // Corner by corner in coordinates: two edges along x, ends that lean by the skew.
            const double w = std::max(0.9 * saw.drawing.fence.length_mm, 1.5 * saw.drawing.board.length_mm);
            const double l = saw.drawing.board.length_mm;
            const double e = (kept == shop::Side::left ? 1.0 : -1.0) * skew;
            const double corner = M_PI / 2 + e;
            const double x = w + l * std::cos(M_PI - corner), y = l * std::sin(corner);
            const double from_the_other = std::hypot(x, y);
            const double x2 = w - l * std::cos(M_PI - corner);
            const double from_cut = std::hypot(x2, y);
            CHECK(std::abs(v[0] - from_cut) < 1e-6);
            CHECK(std::abs(v[1] - from_the_other) < 1e-6);
        }
    }
}
