// What each check reads on one saw, against closed forms and laws that are derived here with plain geometry.
#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "measure/saw.h"
#include "shop/truth.h"

using namespace offsquare;
using measure::Check;

namespace {

struct Point {
    double x = 0.0, y = 0.0;
};
Point turned(Point p, double angle) {
    return {std::cos(angle) * p.x - std::sin(angle) * p.y, std::sin(angle) * p.x + std::cos(angle) * p.y};
}
/// x of the line through two points at y.
double x_at(Point a, Point b, double y) { return a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y); }

/// Both runners loose enough for whatever is wrong with them.
Saw loose(double play = 1.0) {
    Saw saw;
    saw.truth.left_play_mm = play;
    saw.truth.right_play_mm = play;
    return saw;
}

}  // namespace

TEST_CASE("a perfect saw: nothing to see in any check") {
    const Saw saw;
    for (const measure::CheckInfo& check : measure::checks()) {
        CAPTURE(check.name);
        const auto report = saw.run(check.check);
        REQUIRE(report);
        REQUIRE(report->readings.size() == check.readings.size());
        for (std::size_t i = 0; i < report->readings.size(); ++i) {
            CHECK(report->readings[i].what == check.readings[i].what);
            CHECK(report->readings[i].unit == check.readings[i].unit);
            CHECK(report->readings[i].u == 0.0);
        }
    }
    for (const Check none :
         {Check::flip, Check::square_on_cut, Check::cut_face, Check::fence_straightedge, Check::fence_square,
          Check::clamp_watch, Check::edge_straightedge, Check::wiggle, Check::runner_straightedge, Check::slot_ride,
          Check::tooth_indicator, Check::rim_indicator, Check::blade_square, Check::jaws, Check::gauge_in_jaws}) {
        for (const double value : saw.exact(none)) CHECK(std::abs(value) < 1e-12);
    }
    const auto strip = saw.exact(Check::five_cut);
    CHECK(std::abs(strip[0] - strip[1]) < 1e-11);
    // 12 mm of strip are asked for; two trims of 8 and two kerfs of 3.2 shorten the first edge of 320.
    CHECK(strip[0] == doctest::Approx(12.0).epsilon(1e-12));
    CHECK(strip[2] == doctest::Approx(320.0 - 2 * (8.0 + 3.2)).epsilon(1e-12));
}

TEST_CASE("strips: the interior angles of a quadrilateral sum to four right angles") {
    // Euclid, Elements I.32: four corners off by e leave 4e for the strip, by which its sides part.
    for (const double e : {-4e-3, -2e-4, 1e-4, 1.1e-3}) {
        for (const shop::Side kept : {shop::Side::left, shop::Side::right}) {
            Saw saw;
            saw.truth.fence_skew_rad = e;
            saw.drawing.board.kept = kept;
            saw.drawing.board.strip_mm = 20;
            const double wide = kept == shop::Side::left ? e : -e;
            for (const Check check : {Check::five_cut, Check::brushed, Check::same_again, Check::long_and_short}) {
                const auto v = saw.exact(check);
                REQUIRE(v.size() == measure::info(check).readings.size());
                for (std::size_t i = 0; i < v.size(); i += 3)
                    CHECK(std::atan(taper_rate(v, i)) == doctest::Approx(4 * wide).epsilon(1e-9));
            }
            const auto both = saw.exact(Check::long_and_short);
            CHECK(both[2] < 0.5 * both[5]);  // half a board, and trims as wide
        }
    }
}

TEST_CASE("shims: what squares the fence shows in the strip and on a cut") {
    Saw saw;
    saw.truth.fence_skew_rad = 1.5e-3;
    saw.shims.left_mm = saw.drawing.fence.span_mm() * std::tan(1.5e-3);
    CHECK(std::abs(taper_rate(saw.exact(Check::five_cut))) < 1e-14);
    CHECK(std::abs(saw.exact(Check::flip)[0]) < 1e-11);
    saw.shims = {0.0, saw.shims.left_mm};  // at the wrong end it doubles, to a millionth
    CHECK(saw.exact(Check::square_on_cut)[0] == doctest::Approx(150 * 3e-3).epsilon(1e-5));
}

TEST_CASE(
    "flip test: the offcut laid over the kept piece in numbers, corner and bevel doubled, and on which side the joint "
    "is open") {
    for (const shop::Side kept : {shop::Side::left, shop::Side::right}) {
        for (const double skew : {-1.7e-3, 2.3e-4}) {
            for (const double tilt : {-4e-3, 9e-3}) {
                Saw saw;
                saw.drawing.board.kept = kept;
                saw.truth.fence_skew_rad = skew;
                saw.truth.blade_tilt_rad = tilt;
                const double length = saw.drawing.board.length_mm, thick = saw.drawing.board.thickness_mm;
                // The board lies along the fence, which is turned by the skew; so seen from the fence the cut is turned
                // by minus the skew. Both faces are parallel. y from the fence edge, z from the underside; the offcut's
                // face turned over has y and z the other way round.
                const double mirror =
                    kept == shop::Side::left ? 1.0 : -1.0;  // seen so that the kept piece lies on the left
                const auto face = [&](double y, double z) {
                    return mirror * (y * std::tan(skew) + z * std::tan(tilt));
                };
                const auto open = [&](double y, double z) { return face(length - y, thick - z) - face(y, z); };
                const auto v = saw.exact(Check::flip);
                // Open at the fence edge, above 0. tan(2e) and 2*tan(e) part by 2e^3.
                CHECK(std::abs(v[0] - (open(0, 0) - open(length, 0))) <
                      length * 2.1 * std::pow(std::abs(skew), 3) + 1e-11);
                CHECK(std::abs(v[1] - (open(0, 0) - open(0, thick))) <
                      thick * 2.1 * std::pow(std::abs(tilt), 3) + 1e-11);
                // The square shows the same error once.
                const auto once = saw.exact(Check::square_on_cut);
                CHECK(std::atan(v[0] / length) == doctest::Approx(2 * std::atan(once[0] / 150)).epsilon(1e-9));
                CHECK(std::atan(v[1] / thick) == doctest::Approx(2 * std::atan(once[1] / thick)).epsilon(1e-12));
                CHECK(std::atan(once[0] / 150) == doctest::Approx(mirror * skew).epsilon(1e-9));
                CHECK(std::atan(once[1] / thick) == doctest::Approx(mirror * tilt).epsilon(1e-9));
            }
        }
    }
}

TEST_CASE("kerf: k*cos t + C*sin t, and what a wobble adds") {
    struct Row {
        double diameter, height, chord;
    };
    // check-values.md, "chord at the table": circle segment; Machinery's Handbook segment table (cells from memory).
    for (const Row row :
         {Row{250, 60, 213.541565}, Row{250, 25, 150.0}, Row{254, 30, 163.951212}, Row{300, 75, 259.807621}}) {
        for (const double toe : {-3e-3, -2e-4, 5e-4, std::atan(0.002)}) {
            Saw saw;
            saw.drawing.blade.diameter_mm = row.diameter;
            saw.drawing.blade.height_mm = row.height;
            saw.truth.blade_toe_rad = toe;
            const auto v = saw.exact(Check::kerf_width);
            // A rectangle k by C, turned by t, is k*cos t + C*sin t wide. The chord is printed to 5e-7 mm.
            CHECK(std::abs(v[0] - (3.2 * std::cos(toe) + row.chord * std::sin(std::abs(toe)))) < 1e-8);
            CHECK(v[1] == 3.2);
            // What the heel takes away once more is what the kerf is wider by; k*(1 - cos t) and C*t^3 apart.
            CHECK(std::abs(saw.exact(Check::cut_face)[0] - (v[0] - v[1])) <
                  3.2 * toe * toe + row.chord * std::pow(std::abs(toe), 3));
            saw.truth.blade_runout_mm = 0.12;
            CHECK(saw.exact(Check::kerf_width)[0] - v[0] == doctest::Approx(0.12 * std::cos(toe)).epsilon(1e-9));
            CHECK(saw.exact(Check::rim_indicator)[0] == doctest::Approx(0.12));
        }
    }
    Saw saw;  // check-values.md, "kerf with the plane off by t": projection
    saw.truth.blade_toe_rad = std::atan(0.002);
    CHECK(std::abs(saw.exact(Check::kerf_width)[0] - 3.6270759) < 5e-8);
}

TEST_CASE("kerf: a scrap is cut through whatever stops the test") {
    Saw saw;
    saw.truth.blade_toe_rad = 1e-3;
    const double whole = saw.exact(Check::kerf_width)[0];
    saw.drawing.sled.stop_y_mm = 0.0;  // the fence stops over the blade's middle
    CHECK(saw.exact(Check::kerf_width)[0] == doctest::Approx(whole).epsilon(1e-12));
    saw.drawing.sled.stop_y_mm = Saw().drawing.sled.stop_y_mm;
    saw.truth.fence_skew_rad =
        0.02;  // 4 * 20 mrad over 298 mm is more than the strip is wide: there is no strip, but a kerf there is
    CHECK_FALSE(saw.run(Check::five_cut));
    CHECK(saw.exact(Check::kerf_width).size() == 2);
    CHECK(saw.exact(Check::kerf_width)[0] == doctest::Approx(whole).epsilon(1e-9));
    CHECK(saw.exact(Check::square_on_cut)[0] == doctest::Approx(150 * std::tan(0.02)).epsilon(1e-9));
}

TEST_CASE("indicator on a tooth: the blade's line against the slot's line") {
    for (const double toe : {-2e-3, 3e-4}) {
        Saw saw;
        saw.truth.blade_toe_rad = toe;
        const Point heel = turned({0, -100}, toe), tip = turned({0, 100}, toe);
        const double y = 0.5 * 213.541565 - 5;  // 5 mm inside the chord (check-values.md)
        const auto v = saw.exact(Check::tooth_indicator);
        CHECK(std::abs(v[0] - x_at(heel, tip, -y)) < 1e-8);
        CHECK(std::abs(v[1] - x_at(heel, tip, y)) < 1e-8);
        // A slot that bows moves both readings alike: they are as far from the middle of the table. A parabola, under
        // the two ends of a block of 80 mm; the slot's 33 points leave 1/1024 of its height.
        saw.truth.left_play_mm = saw.truth.right_play_mm = 1.0;
        saw.truth.slot_wander_mm = 0.2;
        const auto bowed = saw.exact(Check::tooth_indicator);
        CHECK(bowed[1] - bowed[0] == doctest::Approx(v[1] - v[0]).epsilon(1e-9));
        CHECK(std::abs(v[0] - bowed[0] - 0.2 * (1 - (y * y + 40.0 * 40.0) / (280.0 * 280.0))) < 0.2 / 1024 + 1e-9);
        // A slot that is turned looks like a blade that is turned the other way.
        Saw other;
        other.truth.left_slot_profile = base::Profile({{-280, 280 * std::tan(toe)}, {280, -280 * std::tan(toe)}});
        const auto seen = other.exact(Check::tooth_indicator);
        CHECK(seen[1] - seen[0] == doctest::Approx(-(v[1] - v[0])).epsilon(1e-7));
    }
}

TEST_CASE("squares and straightedges: the leaning line, the middle above its chord") {
    Saw saw = loose(2.0);
    saw.truth.fence_lean_rad = 0.007;
    saw.truth.blade_tilt_rad = -0.012;
    // 75 of the 80 mm of fence, 50 of the 60 mm of blade: a line that leans by a stands a height's tangent away from an
    // upright one.
    CHECK(saw.exact(Check::fence_square)[0] == doctest::Approx(75 * std::tan(0.007)).epsilon(1e-12));
    CHECK(saw.exact(Check::blade_square)[0] == doctest::Approx(-50 * std::tan(0.012)).epsilon(1e-12));
    saw.truth.fence_bow_mm = -0.31;
    saw.truth.edge_bow_mm = 0.27;
    saw.truth.runner_bend_mm = 0.11;
    saw.truth.slot_wander_mm = -0.13;
    // A profile of two straight parts from 0.05 at one end over 0.20 in the middle to 0.11 at the other: 0.12 above its
    // chord.
    const auto bent = [](double from, double to) {
        return base::Profile({{from, 0.05}, {0.5 * (from + to), 0.20}, {to, 0.11}});
    };
    saw.truth.fence_profile = bent(-280, 280);
    saw.truth.edge_profile = bent(0, 330);
    saw.truth.left_runner_profile = bent(-60, 360);  // the base reaches from 60 before the fence to 360 behind it
    saw.truth.left_slot_profile = bent(-280, 280);
    CHECK(saw.exact(Check::fence_straightedge)[0] == doctest::Approx(-0.31 + 0.12));
    CHECK(saw.exact(Check::edge_straightedge)[0] == doctest::Approx(0.27 + 0.12));
    CHECK(saw.exact(Check::runner_straightedge)[0] == doctest::Approx(0.11 + 0.12));
    // A block of 80 mm goes 480 of the slot's 560 and bears at its two ends: of a parabola (6/7)^2 is left, of two
    // straight parts 5/7.
    CHECK(saw.exact(Check::slot_ride)[0] == doctest::Approx(-0.13 * 36.0 / 49.0 + 0.12 * 5.0 / 7.0));
    saw.drawing.block = {0.0, 0.0};  // a point
    CHECK(saw.exact(Check::slot_ride)[0] == doctest::Approx(-0.13 + 0.12));
}

TEST_CASE("an indicator on a block: laid into the slot at two points, ends first, and carried along it") {
    // The other road: the block is a rod whose two ends are put on the slot's curve (by bisection of its length along
    // the chord, which the slope hardly shortens), the indicator in its middle.
    for (const double length : {20.0, 80.0, 300.0}) {
        for (const double height : {0.2, -0.05}) {
            Saw saw = loose(2.0);
            saw.drawing.block.length_mm = length;
            saw.truth.slot_wander_mm = height;
            const auto slot = [&](double y) { return height * (1.0 - y * y / (280.0 * 280.0)); };
            const auto middle_of_rod = [&](double from) {
                double lo = 0.5 * length, hi = 1.5 * length;
                for (int i = 0; i < 80; ++i) {
                    const double reach = 0.5 * (lo + hi);
                    (std::hypot(reach, slot(from + reach) - slot(from)) < length ? lo : hi) = reach;
                }
                return 0.5 * (slot(from) + slot(from + lo));
            };
            const double rode =
                middle_of_rod(-0.5 * length) - 0.5 * (middle_of_rod(-280.0) + middle_of_rod(280.0 - length));
            CHECK(std::abs(saw.exact(Check::slot_ride)[0] - rode) < 1e-6);
        }
    }
}

TEST_CASE("a block that is not quite held to its side: the line of a blade is surer with a block that fits") {
    // Toe by two readings on one tooth, 2y apart; each has the indicator's own u and how the block was held. Over many
    // sessions, with the blade true.
    const auto rms_of_toe = [](double play) {
        Saw saw;
        saw.drawing.block.play_mm = play;
        double sum = 0.0;
        constexpr int n = 4000;
        for (std::uint64_t seed = 1; seed <= n; ++seed) {
            const auto v = saw.real(Check::tooth_indicator, seed);
            sum += (v[1] - v[0]) * (v[1] - v[0]);
        }
        return std::sqrt(sum / n);
    };
    // A dial indicator of 10 um limits (5 um), 5 um repeats and hundredths; a fifth of the play of the block
    // (invented). An rms of 4,000 has a relative standard deviation of 0.011; 4.5 are allowed.
    for (const double play : {0.0, 0.05, 0.2}) {
        const double said = std::sqrt(2.0) * std::hypot(0.005, 0.005, std::hypot(0.01 / std::sqrt(12.0), play / 5.0));
        CHECK(std::abs(rms_of_toe(play) / said - 1.0) < 4.5 * 0.011);
    }
}

TEST_CASE("widths with the caliper: play is a difference, and the zero error cancels in it") {
    for (const double zero : {0.0, 0.07, -0.2}) {
        Saw saw;
        saw.truth.left_play_mm = 0.15;
        saw.truth.right_play_mm = 0.4;
        saw.truth.blade_toe_rad = 1e-3;
        const auto without = saw.exact(Check::kerf_width);
        saw.truth.caliper_zero_mm = zero;
        const auto fit = saw.exact(Check::runner_fit);
        for (const std::size_t slot : {0UL, 2UL}) CHECK(fit[slot] == doctest::Approx(19.0 + zero).epsilon(1e-12));
        CHECK(fit[0] - fit[1] == doctest::Approx(0.15).epsilon(1e-12));
        CHECK(fit[2] - fit[3] == doctest::Approx(0.40).epsilon(1e-12));
        const auto kerf = saw.exact(Check::kerf_width);
        CHECK(kerf[1] - without[1] == doctest::Approx(zero));
        CHECK(kerf[0] - kerf[1] == doctest::Approx(without[0] - without[1]).epsilon(1e-12));
        CHECK(saw.exact(Check::jaws)[0] == zero);
        for (const double off : saw.exact(Check::gauge_in_jaws)) CHECK(std::abs(off - zero) < 1e-15);
        // In the strip, really read: a caliper without steps, the same draws; both ends move, their difference does
        // not.
        saw.drawing.caliper.step_mm = 0.0;
        const auto with = saw.real(Check::five_cut, 7);
        saw.truth.caliper_zero_mm = 0.0;
        const auto plain = saw.real(Check::five_cut, 7);
        CHECK(std::abs(with[0] - plain[0] - zero) < 1e-12);
        CHECK(std::abs((with[0] - with[1]) - (plain[0] - plain[1])) < 1e-12);
    }
}

TEST_CASE("a sticking caliper shows in five gauges, by hand") {
    // Without noise, steps of 0.05: 0.50 stays, 0.53 shows 0.55, 0.57 shows 0.55, 0.62 shows 0.60, 0.68 shows 0.70.
    // Steps of 0.1: 0.5 0.5 0.6 0.6 0.7.
    Saw saw;
    saw.drawing.caliper = {"quiet", 0.01, 0.0, 0.0, 0};
    const auto off = [&](double step) {
        saw.truth.caliper_step_mm = step;
        return saw.real(Check::gauge_in_jaws, 3);
    };
    const std::array<double, 5> five{0.0, 0.02, -0.02, -0.02, 0.02}, ten{0.0, -0.03, 0.03, -0.02, 0.02};
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK(std::abs(off(0.0)[i]) < 1e-12);
        CHECK(std::abs(off(0.05)[i] - five[i]) < 1e-12);
        CHECK(std::abs(off(0.1)[i] - ten[i]) < 1e-12);
    }
}

TEST_CASE("between the slots: the walls of a turned slot as lines") {
    for (const double splay : {-6e-3, 2e-4, 8e-3}) {
        Saw saw;
        saw.truth.slot_splay_rad = splay;
        // The right slot's inner wall, 9.5 mm left of a centre line that is turned about its own middle; the left
        // slot's is at -140 + 9.5.
        const Point a = turned({-9.5, -300}, splay), b = turned({-9.5, 300}, splay);
        const auto v = saw.exact(Check::slot_widths);
        CHECK(v[0] == doctest::Approx(140 + x_at(a, b, -280) + 130.5).epsilon(1e-13));
        CHECK(v[1] == doctest::Approx(140 + x_at(a, b, 280) + 130.5).epsilon(1e-13));
        CHECK((v[0] - v[1]) * splay > 0);  // above 0 they close towards the far end
    }
}

TEST_CASE("spacing: inner faces in the middle and half of each width") {
    Saw saw;
    saw.truth.pitch_error_mm = -0.21;
    saw.truth.slot_wander_mm = 0.06;
    saw.truth.runner_bend_mm = 0.17;
    saw.truth.left_play_mm = 0.3;
    saw.truth.right_play_mm = 0.9;
    // Slots: inner walls at -140 + 0.06 + 9.5 and 140 - 9.5, two half widths of 9.5. Runners: 279.79 apart where they
    // are not bent, the left one's middle 0.17 to the right; half widths 9.35 and 9.05.
    const double slots = (140 - 9.5) - (-140 + 0.06 + 9.5) + 9.5 + 9.5;
    const double runners = (279.79 - 9.05) - (0.17 + 9.35) + 9.05 + 9.35;
    CHECK(saw.exact(Check::runner_spacing)[0] == doctest::Approx(slots).epsilon(1e-12));
    CHECK(saw.exact(Check::runner_spacing)[1] == doctest::Approx(runners).epsilon(1e-12));
}

TEST_CASE("clamp watch: one turn moves the left shim point by span times tangent") {
    Saw saw;
    saw.truth.clamp_creep_rad = 4e-4;
    CHECK(saw.exact(Check::clamp_watch) == std::vector<double>(4, 0.0));
    // Really read, the fence turns by as much for twice the fault: the same draws, instrument and rounding apart.
    saw.drawing.fence.shim_left_x_mm = -270;
    saw.drawing.fence.shim_right_x_mm = 230;
    const auto once = saw.real(Check::clamp_watch, 5);
    saw.truth.clamp_creep_rad = 4e-3;
    const auto ten = saw.real(Check::clamp_watch, 5);
    saw.drawing.fence.shim_left_x_mm = -135;
    saw.drawing.fence.shim_right_x_mm = 115;
    const auto half = saw.real(Check::clamp_watch, 5);
    for (std::size_t i = 0; i < 4; ++i) {
        // The instrument's own share is the same in all but for rounding to 0.01: 0.005 each, tenfold for the first;
        // tangents of 16 mrad part by 1e-4 of themselves.
        const double instrument = (10 * once[i] - ten[i]) / 9;
        CHECK(std::abs(instrument) < 0.04);
        CHECK(std::abs((ten[i] - instrument) - 2 * (half[i] - instrument)) < 0.03);
    }
}
