// Real readings over many seeds: their mean is the exact reading, their spread is what u and scatter_of foretell.
//
// All seeds are fixed. Means are allowed 4.5 standard errors. The relative error of a spread from n readings is
// sqrt((kurtosis - 1)/(4n)), the kurtosis found in the sample; 4.5 of these are allowed. scatter_of holds closed forms
// for small errors: another 10 % is allowed where one is used.
#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <vector>

#include "contact/draws.h"
#include "measure/saw.h"
#include "repeats.h"
#include "shop/truth.h"
#include "statistics.h"

using namespace offsquare;
using measure::Check;
using Values = std::vector<double>;

namespace {

struct Spread {
    double rms = 0.0;
    double rel = 0.0;  ///< standard error of rms, relative
};
Spread spread_of(const Values& deviations) {
    double m2 = 0, m4 = 0;
    for (const double d : deviations) m2 += d * d, m4 += d * d * d * d;
    const double n = static_cast<double>(deviations.size());
    m2 /= n, m4 /= n;
    return {std::sqrt(m2), std::sqrt((m4 / (m2 * m2) - 1) / (4 * n))};
}

void agrees(const Values& deviations, double foretold, double allowed) {
    const Spread s = spread_of(deviations);
    CHECK(std::abs(statistics::mean(deviations)) <
          4.5 * s.rms / std::sqrt(static_cast<double>(deviations.size())) + 1e-6);
    CHECK(std::abs(s.rms / foretold - 1) < 4.5 * s.rel + allowed);
}

/// What a strip shows: its taper.
double taper(const Values& v, std::size_t i = 0) { return v[i] - v[i + 1]; }

using Change = std::function<void(Saw&, Draws&)>;
Values tapers_off(Saw saw, Check check, int n, std::size_t at = 0, const Change& change = {}) {
    Draws r(77);
    Values off;
    double exact = taper(saw.exact(check), at);
    for (int i = 0; i < n; ++i) {
        if (change) {
            change(saw, r);
            exact = taper(saw.exact(check), at);
        }
        const auto v = saw.real(check, static_cast<std::uint64_t>(i) + 1);
        REQUIRE_FALSE(v.empty());
        off.push_back(taper(v, at) - exact);
    }
    return off;
}

double foretold_taper(const Saw& saw, Check check, std::size_t at = 0) {
    const auto u = measure::instrument_u(check, saw.drawing);
    const auto s = saw.scatter(check);
    return std::sqrt(u[at] * u[at] + u[at + 1] * u[at + 1] + s[at] * s[at] + s[at + 1] * s[at + 1]);
}

/// With feelers in hundredths: what is left is not swallowed by the 0.05 mm between two leaves, which are looked at in
/// feelers_test.cpp.
Saw with_fine_feelers(Saw saw) {
    saw.drawing.feelers.step_mm = 0.0;
    return saw;
}

Values off_exact(const Saw& saw, Check check, std::size_t reading, int n) {
    const double exact = saw.exact(check)[reading];
    Values off;
    for (int i = 0; i < n; ++i) off.push_back(saw.real(check, static_cast<std::uint64_t>(i) + 1)[reading] - exact);
    return off;
}

}  // namespace

TEST_CASE("each instrument: its readings spread as their u says, and lie about the exact one" *
          doctest::skip(repeats::sanitized)) {
    Saw saw = with_fine_feelers({});
    saw.truth = {};
    saw.truth.fence_skew_rad = 6e-4;
    saw.truth.fence_bow_mm = 0.12;
    saw.truth.fence_lean_rad = 3e-3;
    saw.truth.left_play_mm = saw.truth.right_play_mm = 0.3;
    saw.truth.blade_toe_rad = 4e-3;  // marks and a wobble far above nothing, below which nobody reads them
    saw.truth.blade_tilt_rad = -4e-3;
    saw.truth.blade_runout_mm = 0.2;
    saw.truth.edge_bow_mm = -0.21;
    saw.truth.slot_wander_mm = 0.07;
    saw.truth.runner_bend_mm = 0.04;
    saw.truth.caliper_zero_mm = 0.033;
    for (const measure::CheckInfo& check : measure::checks()) {
        const bool strips = check.instrument.find("tape") != std::string_view::npos;
        for (std::size_t i = 0; i < check.readings.size(); ++i) {
            CAPTURE(check.name);
            CAPTURE(check.readings[i].what);
            if (strips) continue;
            agrees(off_exact(saw, check.check, i, 3000), measure::instrument_u(check.check, saw.drawing)[i], 0.0);
        }
    }
    for (const auto& [which, at] : {std::pair{Check::five_cut, 0},
                                    {Check::same_again, 3},
                                    {Check::same_again, 6},
                                    {Check::long_and_short, 0},
                                    {Check::long_and_short, 3},
                                    {Check::brushed, 0}}) {
        const Check check = which;  // clang 14 captures no structured binding
        CAPTURE(measure::info(check).name);
        // The limits of the caliper as a rectangle, repeats of one place: the sum for two ends.
        agrees(tapers_off(saw, check, 1500, static_cast<std::size_t>(at)),
               foretold_taper(saw, check, static_cast<std::size_t>(at)), 0.0);
    }
    // The tape: half a millimetre either side rounded to halves shows one of three marks, as the true length happens to
    // lie; only the mean is sure.
    const Values lengths = off_exact(saw, Check::five_cut, 2, 3000);
    CHECK(std::abs(statistics::mean(lengths)) < 4.5 * spread_of(lengths).rms / std::sqrt(3000.0));
}

TEST_CASE("a lasting error stays with the place for all runs of a session, another is drawn anew") {
    Saw saw;
    for (const measure::CheckInfo& check : measure::checks()) {
        if (check.instrument.find("tape") != std::string_view::npos) continue;
        CAPTURE(check.name);
        const bool lasting = check.check == Check::slot_ride ||  // the bow of the straightedge
                             (check.instrument.find("feeler") != std::string_view::npos && check.check != Check::flip &&
                              check.check != Check::gauge_in_jaws);
        Values apart, about;
        for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
            const double a = saw.real(check.check, seed, 0)[0], b = saw.real(check.check, seed, 1)[0];
            apart.push_back(a - b);
            about.push_back(a - saw.exact(check.check)[0]);
        }
        // Two independent readings part by sqrt(2) of one's spread; where the instrument's limits are shared by both,
        // by less. Sampling: 3 % at 4.5 sd.
        const double ratio = spread_of(apart).rms / spread_of(about).rms / std::sqrt(2.0);
        // The smallest lasting share is a feeler's: limits of 12 um (6 as one sd), 10 um of repeat, 2.9 of step: the
        // ratio is 0.87.
        if (lasting) CHECK(ratio < 0.92);
        else if (check.check != Check::cut_face && check.check != Check::rim_indicator &&
                 check.check != Check::half_turn)
            CHECK(std::abs(ratio - 1) < 0.08);
    }
}

TEST_CASE("dust: strips, flip and square scatter as the chips' triangles say; brushed, they do not") {
    for (const double dust : {0.08, 0.25}) {
        for (const bool large : {true, false}) {
            CAPTURE(dust);
            CAPTURE(large);
            Saw saw;
            saw.truth.dust_mm = dust;
            saw.truth.fence_skew_rad = 4e-4;
            saw.drawing.caliper = {"fine", 0.001, 0.002, 0.001, 0};
            saw.drawing.board.strip_mm = 20;
            if (!large) saw.drawing.board.width_mm = 210, saw.drawing.board.length_mm = 180;
            agrees(tapers_off(saw, Check::five_cut, 4000), foretold_taper(saw, Check::five_cut), 0.10);
            agrees(tapers_off(saw, Check::long_and_short, 2000), foretold_taper(saw, Check::long_and_short), 0.10);
            agrees(tapers_off(saw, Check::long_and_short, 2000, 3), foretold_taper(saw, Check::long_and_short, 3),
                   0.10);
            agrees(tapers_off(saw, Check::same_again, 2000, 6), foretold_taper(saw, Check::same_again, 6), 0.10);
            agrees(tapers_off(saw, Check::brushed, 1500), foretold_taper(saw, Check::brushed), 0.0);
            for (const Check check : {Check::flip, Check::square_on_cut}) {
                const double u = measure::instrument_u(check, saw.drawing)[0], s = saw.scatter(check)[0];
                agrees(off_exact(saw, check, 0, 4000), std::hypot(u, s), 0.10);
            }
        }
    }
}

TEST_CASE("dust before a fence that is not straight: a belly lets the board rock on a speck, a hollow swallows it") {
    for (const double bow : {0.3, 0.1, -0.1, -0.3}) {
        for (const double dust : {0.005, 0.1}) {
            CAPTURE(bow);
            CAPTURE(dust);
            Saw saw;
            saw.truth.dust_mm = dust;
            saw.truth.fence_bow_mm = bow;
            saw.drawing.caliper = {"fine", 0.001, 0.002, 0.001, 0};
            saw.drawing.board.strip_mm = 20;
            agrees(tapers_off(saw, Check::five_cut, 4000), foretold_taper(saw, Check::five_cut), 0.10);
            const double u = measure::instrument_u(Check::flip, saw.drawing)[0], s = saw.scatter(Check::flip)[0];
            agrees(off_exact(saw, Check::flip, 0, 4000), std::hypot(u, s), 0.10);
        }
    }
}

TEST_CASE("three tests of one visit draw their chips apart") {
    Saw saw;
    saw.truth.dust_mm = 0.2;
    Values first, second, third;
    for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
        const auto v = saw.real(Check::same_again, seed);
        first.push_back(taper(v, 0));
        second.push_back(taper(v, 3));
        third.push_back(taper(v, 6));
    }
    // Uncorrelated samples of 2000: 1/sqrt(2000) is one standard deviation.
    for (const double r : {statistics::correlation(first, second), statistics::correlation(second, third),
                           statistics::correlation(first, third)})
        CHECK(std::abs(r) < 4.5 / std::sqrt(2000.0));
}

TEST_CASE("made again, a check draws its chips, its hand, its clampings and its readings anew") {
    struct Chance {
        const char* what;
        Check check;
        std::function<void(Saw&)> of;
    };
    const auto fine = [](Saw& s) { s.drawing.caliper = {"fine", 0.001, 0.002, 0.001, 0}; };
    const auto dusty = [&](Saw& s) { fine(s), s.truth.dust_mm = 0.2; };
    const auto wandering = [&](Saw& s) {
        fine(s);
        s.truth.left_play_mm = s.truth.right_play_mm = 0.2;
        s.drawing.sled.hand = shop::Hand::wandering;
    };
    const auto creeping = [](Saw& s) { s.truth.clamp_creep_rad = 1e-3; };
    const std::vector<Chance> chances{{"chips", Check::five_cut, dusty},
                                      {"chips", Check::long_and_short, dusty},
                                      {"chips", Check::flip, dusty},
                                      {"chips", Check::square_on_cut, dusty},
                                      {"hand", Check::five_cut, wandering},
                                      {"clampings", Check::clamp_watch, creeping},
                                      {"caliper", Check::five_cut, [](Saw&) {}}};
    for (const Chance& chance : chances) {
        CAPTURE(chance.what);
        CAPTURE(measure::info(chance.check).name);
        Saw saw;
        saw.truth.fence_skew_rad = 4e-4;
        chance.of(saw);
        constexpr int seeds = repeats::of(1000, 200);
        Values first, again;
        // Of a strip its taper: the error of the caliper's scale is the same each time, and no part of it.
        const bool strips = measure::info(chance.check).strips != measure::Strips::none;
        const auto read = [&](std::uint64_t seed, std::uint32_t number) {
            const auto v = saw.real(chance.check, seed, number);
            return strips ? taper(v) : v[0];
        };
        for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
            first.push_back(read(seed, 0));
            again.push_back(read(seed, 1));
        }
        // Uncorrelated samples of n: 1/sqrt(n) is one standard deviation. The same chance again would give nearly 1.
        CHECK(std::abs(statistics::correlation(first, again)) < 4.5 / std::sqrt(static_cast<double>(seeds)));
    }
}

TEST_CASE("a wandering hand") {
    struct Row {
        double left, right, pitch;
    };
    for (const Row row : {Row{0.2, 0.2, 0.0}, Row{0.15, 0.6, 0.0}, Row{0.3, 0.3, -0.15}}) {
        for (const bool large : {true, false}) {
            CAPTURE(row.left);
            CAPTURE(row.right);
            CAPTURE(large);
            Saw saw;
            saw.truth.left_play_mm = row.left;
            saw.truth.right_play_mm = row.right;
            saw.truth.pitch_error_mm = row.pitch;
            saw.drawing.sled.hand = shop::Hand::wandering;
            saw.drawing.table.depth_mm = 1400;  // the runners never leave their slots
            saw.drawing.caliper = {"fine", 0.001, 0.002, 0.001, 0};
            saw.drawing.board.strip_mm = 20;
            if (!large) saw.drawing.board.width_mm = 210, saw.drawing.board.length_mm = 180;
            agrees(tapers_off(saw, Check::five_cut, 900), foretold_taper(saw, Check::five_cut), 0.10);
            const double u = measure::instrument_u(Check::flip, saw.drawing)[0], s = saw.scatter(Check::flip)[0];
            agrees(off_exact(saw, Check::flip, 0, 900), std::hypot(u, s), 0.10);
        }
    }
}

TEST_CASE("a wandering hand where runners leave the table") {
    // Partly out of their slots they turn further, and the kerf grows wider there: no closed form. The spread holds to
    // a quarter, and the mean moves by less than that.
    for (const double size : {330.0, 210.0}) {
        Saw saw;
        saw.truth.left_play_mm = saw.truth.right_play_mm = 0.2;
        saw.drawing.sled.hand = shop::Hand::wandering;
        saw.drawing.board.strip_mm = 20;
        saw.drawing.board.width_mm = saw.drawing.board.length_mm = size;
        const Spread s = spread_of(tapers_off(saw, Check::five_cut, 900));
        CHECK(std::abs(s.rms / foretold_taper(saw, Check::five_cut) - 1) < 4.5 * s.rel + 0.25);
        CHECK(std::abs(statistics::mean(tapers_off(saw, Check::five_cut, 900))) < 0.25 * s.rms);
    }
}

TEST_CASE("a creeping clamp") {
    Saw saw;
    saw.truth.clamp_creep_rad = 3e-4;
    for (std::size_t i = 0; i < 4; ++i) {
        const double u = measure::instrument_u(Check::clamp_watch, saw.drawing)[i],
                     s = saw.scatter(Check::clamp_watch)[i];
        CHECK(s == doctest::Approx(500 * std::tan(3e-4)).epsilon(1e-6));
        agrees(off_exact(saw, Check::clamp_watch, i, 4000), std::hypot(u, s), 0.0);
    }
}

TEST_CASE("a sticking caliper, over saws whose sizes lie anywhere between two of its steps") {
    for (const double step : {0.05, 0.2}) {
        CAPTURE(step);
        Saw saw;
        saw.truth.caliper_step_mm = step;
        const Change sizes = [&](Saw& s, Draws& r) {
            s.drawing.board.strip_mm = r.between(12, 12 + 3 * step);
            s.truth.fence_skew_rad = r.between(-1e-3, 1e-3);
        };
        // The caliper's own 0.01 mm is rounded away: it counts in u all the same, a tenth at most.
        agrees(tapers_off(saw, Check::five_cut, 3000, 0, sizes), foretold_taper(saw, Check::five_cut), 0.10);
        Draws r(78);
        for (const Check check : {Check::kerf_width, Check::runner_fit, Check::jaws}) {
            CAPTURE(measure::info(check).name);
            for (std::size_t i = 0; i < measure::info(check).readings.size(); ++i) {
                Values off;
                for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
                    saw.drawing.blade.kerf_mm = r.between(3, 3 + 2 * step);
                    saw.drawing.slots.width_mm = r.between(19, 19 + 2 * step);
                    saw.truth.left_play_mm = saw.truth.right_play_mm = r.between(0.1, 0.1 + 2 * step);
                    saw.truth.caliper_zero_mm = r.between(-2 * step, 2 * step);
                    off.push_back(saw.real(check, seed)[i] - saw.exact(check)[i]);
                }
                agrees(off, std::hypot(measure::instrument_u(check, saw.drawing)[i], saw.scatter(check)[i]), 0.02);
            }
        }
        // Five gauges together, over all zeros.
        Values off;
        for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
            saw.truth.caliper_zero_mm = r.between(-0.5 * step, 0.5 * step);
            const auto v = saw.real(Check::gauge_in_jaws, seed), exact = saw.exact(Check::gauge_in_jaws);
            for (std::size_t i = 0; i < 5; ++i) off.push_back(v[i] - exact[i]);
        }
        agrees(off,
               std::hypot(measure::instrument_u(Check::gauge_in_jaws, saw.drawing)[0],
                          saw.scatter(Check::gauge_in_jaws)[0]),
               0.02);
    }
}

TEST_CASE("nobody reads marks or a wobble below none") {
    const Saw saw;
    bool some = false;
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
        for (const Check check : {Check::cut_face, Check::rim_indicator}) {
            const double v = saw.real(check, seed)[0];
            CHECK(v >= 0.0);
            some = some || v > 0.0;
        }
    }
    CHECK(some);
}
