// The fast road of the runners against the general one, on the same samples: two walls that hold the sled, or the
// linear program of clearance.h.
#include <doctest/doctest.h>

#include <cmath>

#include "contact/curved_truth.h"
#include "contact/runners.h"
#include "contact/stand.h"
#include "shop/truth.h"

using namespace offsquare;
using namespace offsquare::contact;
using shop::Drawing;
using shop::Truth;

namespace {

/// Without a moment the middle sample, which is level, often holds the sled.
Press random_press(Draws& r) { return {r.between(0.1, 1), r.coin() ? 0.0 : r.between(-150, 150)}; }

}  // namespace

TEST_CASE(
    "two walls or the whole search: the same stand, on 40,000 places of 1,000 saws, whatever pair the search starts "
    "from") {
    Draws r(31);
    int both = 0, fast_only = 0, level = 0;
    for (int round = 0; round < 1000; ++round) {
        const Tracks tracks(Drawing{}, curved_truth(r), r.sign());
        const Press press = random_press(r);
        WallPair warm;
        double u = 0;
        for (int i = 0; i < 40; ++i) {
            const double s = -450 + 580.0 * i / 39;
            const auto guided = tracks.guided(s);
            REQUIRE(guided);
            const Samples samples = samples_of(tracks, *guided, s);
            WallPair any{static_cast<std::size_t>(r.whole(0, samples.n - 1)),
                         static_cast<std::size_t>(r.whole(0, samples.n - 1))};
            const auto general = stand_by_search(tracks, samples, press, {});
            const auto held = stand_by_pair(tracks, samples, press, u, warm);
            const auto again = stand_by_pair(tracks, samples, press, r.between(0, 1e-5), any);
            CHECK(held.has_value() == again.has_value());
            if (held) u = held->u;
            if (!held || !general) {
                fast_only += held.has_value();
                continue;
            }
            ++both;
            level += general->middle.yaw == 0.0 && press.moment_mm == 0.0 && samples.n > 2;
            // What is lower by less than 1e-13 mm is not lower to the fast road. Samples are some mm apart, so that is
            // 1e-13 rad, and more only where a random push all but meets a sample: within 1e-3 mm, 1e-10 rad.
            for (const auto& fast : {held, again}) {
                CHECK(std::abs(fast->middle.x - general->middle.x) < 1e-10);
                CHECK(std::abs(fast->middle.yaw - general->middle.yaw) < 1e-10);
                CHECK(std::abs(fast->u - general->u) < 1e-12);
            }
        }
    }
    CHECK(fast_only == 0);  // closed is closed
    CHECK(both > 20000);    // the rest are narrow: opposite walls are in the way, the fast road says so by its silence
    CHECK(level > 500);
}

TEST_CASE("without a side force the fast road is silent") {
    const Tracks tracks(Drawing{}, {}, 1.0);
    WallPair pair;
    CHECK_FALSE(stand_by_pair(tracks, samples_of(tracks, *tracks.guided(0), 0), {0, 1}, 0, pair));
}

TEST_CASE(
    "straight runners in straight slots: the written-down pose is the one that the search finds, to the last bit") {
    Draws r(33);
    int steady = 0, closed = 0;
    for (int round = 0; round < 4000; ++round) {
        const Drawing d;
        Truth t;
        t.left_play_mm = r.coin() ? r.between(0, 0.5) : 0.0;
        t.right_play_mm = r.coin() ? r.between(0, 0.5) : 0.0;
        t.pitch_error_mm = r.coin() ? r.between(-0.4, 0.4) : 0.0;
        const double side = r.coin() ? 0.0 : r.between(-1, 1);
        const double facing = side < 0 ? -1.0 : 1.0;
        const double s = r.between(-450, 130);
        const auto pose = steady_pose(d, t, {side, 0.0}, s, 130);
        const Tracks tracks(d, t, facing);
        const auto guided = tracks.guided(s);
        REQUIRE(guided);
        const auto search = stand_by_search(tracks, samples_of(tracks, *guided, s), {facing * side, 0.0}, {});
        if (!pose) {
            // Each runner may go half its play to either side, and the two stand apart by the error of their spacing:
            // no room to stand square, up to rounding.
            CHECK(std::abs(t.pitch_error_mm) > 0.5 * (t.left_play_mm + t.right_play_mm) - 1e-12);
            ++closed;
            continue;
        }
        ++steady;
        REQUIRE(search);
        CHECK(pose->s_mm == s);
        CHECK(pose->yaw_rad == 0.0);
        CHECK(pose->x_mm == facing * search->middle.x);
        CHECK(search->middle.yaw == 0.0);
    }
    CHECK(steady > 1000);
    CHECK(closed > 500);
    // Not its business: a push that turns, a splayed slot, a bent runner, a sled beyond the table.
    Truth splayed, bent;
    splayed.slot_splay_rad = 1e-4;
    bent.runner_bend_mm = 0.1;
    CHECK_FALSE(steady_pose({}, {}, {1, 10}, -100, 100));
    CHECK_FALSE(steady_pose({}, splayed, {1, 0}, -100, 100));
    CHECK_FALSE(steady_pose({}, bent, {1, 0}, -100, 100));
    CHECK_FALSE(steady_pose({}, {}, {1, 0}, -700, 100));
    CHECK_FALSE(steady_pose({}, {}, {1, 0}, -100, 700));
}
