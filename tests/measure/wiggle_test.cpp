// Side play at both ends of the runners, against a rectangle in a strip, interval arithmetic, and brute force over
// poses.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "contact/draws.h"
#include "measure/saw.h"
#include "shop/truth.h"

using namespace offsquare;
using measure::Check;

TEST_CASE("the yaw limit of a runner in its slot, read off the wiggle") {
    struct Row {
        double length, width, play, yaw;
    };
    // check-values.md, "yaw in a slot": a rectangle turned in a strip, L*sin t + w*cos t = w + c.
    for (const Row row : {Row{600, 19, 0.1, 1.6666710725541517e-4}, Row{600, 19, 0.2, 3.3333509878e-4},
                          Row{450, 19.05, 0.05, 1.1111137266e-4}, Row{300, 19, 0.3, 1.00003183536e-3}}) {
        Saw saw;
        saw.drawing.table.depth_mm = 1400;
        saw.drawing.sled.depth_mm = row.length;
        saw.drawing.sled.runner_length_mm = row.length;
        saw.drawing.slots.width_mm = row.width + row.play;  // the rows give the width of the runner
        saw.truth.left_play_mm = row.play;
        saw.truth.right_play_mm = 2.0;  // the left runner alone guides
        const auto v = saw.exact(Check::wiggle);
        REQUIRE(v.size() == 2);
        // Turned as far as it goes to either side about its own middle, its end moves by twice half its length times
        // the sine. The rows have 11 to 17 digits.
        for (const double moved : v) CHECK(std::abs(std::asin(moved / row.length) / row.yaw - 1) < 2e-11);
    }
}

TEST_CASE("two runners: what both allow") {
    Draws r(801);
    int bound = 0;
    for (int round = 0; round < 400; ++round) {
        Saw saw;
        saw.truth.left_play_mm = r.between(0, 0.6);
        saw.truth.right_play_mm = r.between(0, 0.6);
        saw.truth.pitch_error_mm = r.between(-0.5, 0.5);
        // The left runner may stand anywhere within +-half its play, and the right one, further out by the pitch error,
        // within +-half of its own.
        const double least =
            std::max(-0.5 * saw.truth.left_play_mm, -0.5 * saw.truth.right_play_mm - saw.truth.pitch_error_mm);
        const double most =
            std::min(0.5 * saw.truth.left_play_mm, 0.5 * saw.truth.right_play_mm - saw.truth.pitch_error_mm);
        const auto v = saw.exact(Check::wiggle);
        CHECK(v.empty() == (least > most));
        if (v.empty()) {
            ++bound;
            continue;
        }
        // Second order: yaws of up to 0.6/420 turn 19 mm of width and 280 of spacing: 3e-4 mm.
        for (const double moved : v) CHECK(std::abs(moved - (most - least)) < 3e-4);
    }
    CHECK(bound > 40);
}

TEST_CASE("two loose runners that bear on the inner walls leave no side play at all") {
    for (const double play : {0.1, 0.4, 1.5}) {
        Saw saw;
        saw.truth.left_play_mm = play;
        saw.truth.right_play_mm = play;
        saw.truth.pitch_error_mm = -play;
        for (const double moved : saw.exact(Check::wiggle)) CHECK(std::abs(moved) < 1e-11);
        CHECK(saw.exact(Check::runner_fit)[0] - saw.exact(Check::runner_fit)[1] ==
              doctest::Approx(play));     // and yet each is loose
        saw.truth.pitch_error_mm = play;  // on the outer walls as well
        for (const double moved : saw.exact(Check::wiggle)) CHECK(std::abs(moved) < 1e-11);
    }
}

TEST_CASE("bowed slots, bent runners, splay: brute force over all poses") {
    Draws r(802);
    for (int round = 0; round < 25; ++round) {
        Saw saw;
        saw.truth.left_play_mm = r.between(0.3, 0.8);
        saw.truth.right_play_mm = r.between(0.3, 0.8);
        saw.truth.slot_wander_mm = r.between(-0.15, 0.15);
        saw.truth.runner_bend_mm = r.between(-0.15, 0.15);
        saw.truth.slot_splay_rad = r.between(-3e-4, 3e-4);
        const auto v = saw.exact(Check::wiggle);
        if (v.empty()) continue;
        // The runners, 420 long, stand in the middle of the table. With slope t the room of both runners at height y is
        // an interval; the end's range is that of a + t*y.
        const auto range = [&](double end) {
            double low = 1e9, high = -1e9;
            for (int k = -2000; k <= 2000; ++k) {
                const double t = k * 2e-6;
                double lo = -1e9, hi = 1e9;
                for (int i = 0; i <= 105; ++i) {
                    const double y = -210 + 4.0 * i;
                    const double left = saw.truth.slot_wander_mm * (1 - y * y / (280.0 * 280.0)) -
                                        saw.truth.runner_bend_mm * (1 - y * y / (210.0 * 210.0));
                    const double right = -saw.truth.slot_splay_rad * y;
                    lo = std::max({lo, left - 0.5 * saw.truth.left_play_mm - t * y,
                                   right - 0.5 * saw.truth.right_play_mm - t * y});
                    hi = std::min({hi, left + 0.5 * saw.truth.left_play_mm - t * y,
                                   right + 0.5 * saw.truth.right_play_mm - t * y});
                }
                if (lo > hi) continue;
                low = std::min(low, lo + t * end);
                high = std::max(high, hi + t * end);
            }
            return high - low;
        };
        // The grid of slopes: 1e-6 * 420 for each side; between its places 4 mm apart a bow rises by 1e-5; the 33
        // points of a bow 0.15/1024 for each; second order as above.
        CHECK(std::abs(v[0] - range(210)) < 1.5e-3);
        CHECK(std::abs(v[1] - range(-210)) < 1.5e-3);
    }
}

TEST_CASE("a saw that binds is refused with a reason") {
    Saw saw;
    saw.truth.pitch_error_mm = 0.2;
    for (const Check check : {Check::wiggle, Check::five_cut, Check::flip, Check::kerf_width}) {
        const auto report = saw.run(check);
        REQUIRE_FALSE(report);
        CHECK(report.error().message.find("do not fit") != std::string::npos);
    }
    CHECK(saw.run(Check::runner_spacing));  // with the sled lifted off, this one still tells why
}
