// Feeler gauges go leaf by leaf: what is found is that one goes in and the next does not.
#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <vector>

#include "measure/gauges.h"
#include "measure/saw.h"

using namespace offsquare;
using measure::Check;

namespace {

/// The other road: leaves are tried one after the other, from the thinnest, until one does not go in.
double tried_leaf_by_leaf(double gap, int leaf_um) {
    const double size = std::abs(gap);
    int goes_um = 0;
    while (1e-3 * (goes_um + leaf_um) <= size) goes_um += leaf_um;
    const double middle = 1e-3 * (goes_um + 0.5 * leaf_um);
    return gap < 0.0 ? -middle : middle;
}

}  // namespace

TEST_CASE("what a set of feelers tells is between two leaves: tried one after the other") {
    std::mt19937_64 engine(5);
    for (int i = 0; i < 5000; ++i) {
        const double gap = 2.0 * (static_cast<double>(engine() >> 11U) * 0x1p-53 - 0.5);
        for (const int leaf : {50, 100, 20}) {
            const double told = measure::between_leaves(gap, 1e-3 * leaf);
            REQUIRE(std::abs(told - tried_leaf_by_leaf(gap, leaf)) < 1e-12);
            REQUIRE(std::abs(told - gap) <= 0.5e-3 * leaf + 1e-12);
            REQUIRE(measure::between_leaves(-gap, 1e-3 * leaf) == -told);
        }
    }
}

TEST_CASE("readings with feelers are never finer than the set, and their errors over all gaps are what u says") {
    // Faces, edges and squares anywhere between two leaves: the error is a rectangle of one step, and what the gauge,
    // its straightedge or square, and the hand add. An rms of 6,000 has a relative standard deviation below 0.0092; 4.5
    // are allowed.
    std::mt19937_64 engine(6);
    const auto between = [&](double lo, double hi) {
        return lo + (hi - lo) * static_cast<double>(engine() >> 11U) * 0x1p-53;
    };
    for (const double step : {0.05, 0.1}) {
        for (const Check check : {Check::fence_straightedge, Check::edge_straightedge, Check::runner_straightedge,
                                  Check::fence_square, Check::blade_square}) {
            CAPTURE(measure::info(check).name);
            Saw saw;
            saw.drawing.feelers.step_mm = step;
            double sum = 0.0;
            constexpr int n = 6000;
            for (std::uint64_t seed = 1; seed <= n; ++seed) {
                saw.truth.fence_bow_mm = between(-6 * step, 6 * step);
                saw.truth.edge_bow_mm = between(-6 * step, 6 * step);
                saw.truth.runner_bend_mm = between(-6 * step, 6 * step);
                saw.truth.fence_lean_rad = between(-6 * step, 6 * step) / 75.0;
                saw.truth.blade_tilt_rad = between(-6 * step, 6 * step) / 50.0;
                const double read = saw.real(check, seed)[0];
                // Odd numbers of half steps, and nothing between.
                const double halves = read / (0.5 * step);
                REQUIRE(std::abs(halves - std::round(halves)) < 1e-9);
                REQUIRE(std::lround(halves) % 2 != 0);
                const double off = read - saw.exact(check)[0];
                sum += off * off;
            }
            const double u = measure::instrument_u(check, saw.drawing)[0];
            CHECK(std::abs(std::sqrt(sum / n) / u - 1.0) < 4.5 * 0.0092);
            CHECK(u > step / std::sqrt(12.0));
        }
    }
}

TEST_CASE("the same gap lies between the same two leaves again, where the feel does not carry it over one") {
    // Read twice in one session, the feel apart, over gaps anywhere between two leaves: half the mean square of the
    // difference is what is new each time, the rest of u lasts.
    for (const double step : {0.05, 0.1, 0.02}) {
        CAPTURE(step);
        Saw saw;
        saw.drawing.feelers.step_mm = step;
        std::mt19937_64 engine(7);
        double fresh = 0.0;
        constexpr int n = 20000;
        for (std::uint64_t seed = 1; seed <= n; ++seed) {
            saw.truth.fence_bow_mm = 6.0 * step * (static_cast<double>(engine() >> 11U) * 0x1p-53 - 0.5);
            const double d =
                saw.real(Check::fence_straightedge, seed, 0)[0] - saw.real(Check::fence_straightedge, seed, 1)[0];
            fresh += 0.5 * d * d / n;
        }
        const auto gauge = measure::gauges_of(Check::fence_straightedge, saw.drawing)[0];
        const double u = measure::u_of(gauge), lasting = measure::u_lasting_of(gauge, true);
        // A mean of 20,000 squares, most of them 0 or one step: below 0.012 of it is one standard deviation; 4.5 are
        // allowed.
        CHECK(std::abs(fresh / (u * u - lasting * lasting) - 1.0) < 4.5 * 0.012);
    }
}

TEST_CASE("how much of a step lasts: rounding of the same value by fine slices of the noise") {
    // The other road: shown() tells the mean of what is shown of one value; the mean square of what that is off, over
    // values anywhere in a step.
    for (const double noise : {0.0, 0.002, 0.01, 0.02}) {
        for (const double step : {0.05, 0.1}) {
            double off = 0.0;
            constexpr int parts = 2000;
            for (int i = 0; i < parts; ++i) {
                const double value = step * (i + 0.5) / parts;
                const double d = measure::shown(value, noise, step).mean - value;
                off += d * d / parts;
            }
            CHECK(std::abs(measure::lasting_step_variance(step, noise) - off) < 0.011 * step * step / 12.0);
        }
    }
}
