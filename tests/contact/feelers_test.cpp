// Where runners are looked at along a travel: places that stay on them.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "contact/curved_truth.h"
#include "contact/push.h"
#include "contact/runners.h"
#include "contact/tracks.h"
#include "shop/truth.h"

using namespace offsquare;
using namespace offsquare::contact;
using shop::Drawing;
using shop::Truth;

namespace {

/// Both runners too.
Truth curved(Draws& r) {
    Truth t = curved_truth(r);
    t.right_runner_profile = r.rough(-60, 360, 0.1, r.whole(2, 40));
    return t;
}

}  // namespace

TEST_CASE("a line that is asked at any place: as the profile itself has it, wherever it was asked before") {
    Draws r(51);
    for (int round = 0; round < 200; ++round) {
        const base::Profile profile = round == 0 ? base::Profile() : r.rough(-100, 100, 1, r.whole(2, 40));
        const BrokenLine line({profile.points().data(), profile.points().size()});
        BrokenLine::Finger finger(line);
        for (int i = 0; i < 60; ++i) {
            // On its points too, where one part takes over from the other.
            const bool on_point = !profile.straight() && r.coin();
            const double t =
                on_point
                    ? profile
                          .points()[static_cast<std::size_t>(r.whole(0, static_cast<int>(profile.points().size()) - 1))]
                          .x
                    : r.between(-120, 120);
            // Heights of 1 mm, slopes of 1 and more a mm over some mm: rounding.
            CHECK(std::abs(finger.at(t) - profile.at(t)) < 1e-12);
            CHECK(finger.walk().at(t) == finger.at(t));
        }
    }
}

TEST_CASE(
    "all of the runners over the table: the same places as 32 equal parts, to the last bit, in whatever order they are "
    "asked") {
    Draws r(52);
    for (int round = 0; round < 300; ++round) {
        const Tracks tracks(Drawing{}, curved(r), r.sign());
        Feelers feelers(tracks);
        for (int i = 0; i < 5; ++i) {
            const double s = r.between(-220, -80);  // runners from -60 to 360, table from -280 to 280
            const auto guided = tracks.guided(s);
            REQUIRE(guided);
            const Samples even = samples_of(tracks, *guided, s);
            const Samples fixed = feelers.at(*guided, s);
            REQUIRE(fixed.n == even.n);
            for (std::size_t k = 0; k < even.count(); ++k) {
                CHECK(fixed.y[k] == even.y[k]);
                CHECK(fixed.left_off[k] == even.left_off[k]);
                CHECK(fixed.right_off[k] == even.right_off[k]);
                CHECK(fixed.left_bend[k] == even.left_bend[k]);
            }
        }
    }
}

TEST_CASE(
    "part of the runners over the table: its two ends, and of the 33 places those that are well between; each looked "
    "up in the profiles") {
    Draws r(53);
    int fewer = 0;
    for (int round = 0; round < 2000; ++round) {
        const Drawing d;
        const Truth truth = curved(r);
        const Tracks tracks(d, truth, 1.0);
        Feelers feelers(tracks);
        const double s = r.between(-630, 330);
        const auto guided = tracks.guided(s);
        REQUIRE(guided);
        const Samples all = feelers.at(*guided, s);
        const double middle = guided->middle(), step = 420.0 / 32;
        const auto place = [&](std::size_t k) { return middle + all.y[k]; };
        CHECK(std::abs(place(0) - std::max(-60.0, -280 - s)) < 1e-12);
        CHECK(std::abs(place(all.count() - 1) - std::min(360.0, 280 - s)) < 1e-12);
        for (std::size_t k = 1; k + 1 < all.count(); ++k) {
            const double number = (place(k) + 60) / step;
            CHECK(std::abs(number - std::round(number)) < 1e-9);
            CHECK(std::lround(number) == all.first + static_cast<int>(k));
        }
        // No gap wider than a step and a half, and no two places nearer than half a step, but for a runner that hardly
        // reaches the table.
        for (std::size_t k = 0; k + 1 < all.count(); ++k) {
            CHECK(all.y[k + 1] - all.y[k] < 1.5 * step + 1e-9);
            if (all.n > 2) CHECK(all.y[k + 1] - all.y[k] > 0.5 * step - 1e-9);
        }
        for (std::size_t k = 0; k < all.count(); ++k) {
            const double y = place(k), Y = s + y;
            const double bend = base::Profile::bow(-60, 360, truth.runner_bend_mm).at(y);
            const double left = truth.left_slot_profile.at(Y) - bend + 0.5 * truth.pitch_error_mm;
            const double right = truth.right_slot_profile.at(Y) - std::tan(truth.slot_splay_rad) * Y -
                                 truth.right_runner_profile.at(y) - 0.5 * truth.pitch_error_mm;
            CHECK(std::abs(all.left_bend[k] - bend) < 1e-12);
            CHECK(std::abs(all.left_off[k] - left) < 1e-12);
            CHECK(std::abs(all.right_off[k] - right) < 1e-12);
        }
        fewer += all.n < Samples::most;
    }
    CHECK(fewer > 500);
}

TEST_CASE(
    "a bowed runner, wholly over the table or not: it stands on the two corners of its bow between which the push "
    "lies") {
    // The bow is drawn by 33 points, one each 1/32 of the runner; pressed at the middle of what is guided, the sled
    // lies along the side of that polygon there.
    Draws r(54);
    const Drawing d;
    const double step = 420.0 / 32;
    const auto bow = [](double y, double height) { return height * (1 - (y - 150) * (y - 150) / (210.0 * 210.0)); };
    for (int round = 0; round < 500; ++round) {
        Truth t;
        t.runner_bend_mm = r.between(0.02, 0.3);
        t.left_play_mm = 0.5;
        t.right_play_mm = 4;
        const double s = r.between(-450, 132);
        const double middle = 0.5 * (std::max(-60.0, -280 - s) + std::min(360.0, 280 - s));
        if (std::abs(middle - 150) < 1e-6) continue;  // a corner right under the push: another test
        const double from = -60 + step * std::floor((middle + 60) / step);
        const double rise = (bow(from + step, t.runner_bend_mm) - bow(from, t.runner_bend_mm)) / step;
        const auto pose = seat_runners(d, t, {1, 0}, s);
        REQUIRE(pose);
        // The cosine changes the rise by yaw^2/2 of itself: with yaws up to 1.5e-3, 2e-9.
        CHECK(std::abs(std::sin(pose->yaw_rad) - rise) < 2e-9);
    }
}

TEST_CASE("a pushed sled stands where a pressed one does: statics looks at the runners where a cut does") {
    // No hand turns it more than its play lets it; pressed by a moment alone, a cut's sled stands there too. Half of
    // the runners may hang over the table's edge.
    Draws r(55);
    const Drawing d;
    double by_even_parts = 0.0;
    int compared = 0;
    for (int round = 0; round < 300; ++round) {
        const Truth t = curved(r);
        const double s = r.between(-400, 100);
        const double turn = r.sign();
        const HandPush hand{{{-1e9, 1000.0 * turn}}};
        const Rub slippery{0.0, 1.0, 0.0, 0.0};
        const auto pressed = seat_runners(d, t, {0.0, turn}, s);
        const PushedPass pushed = push_sled(d, t, hand, slippery, s, s + 1e-9, 1);
        REQUIRE(pressed.has_value() == !pushed.path.empty());
        if (!pressed) continue;
        ++compared;
        // Rounding of the two roads to the yaw.
        CHECK(std::abs(pushed.path.front().yaw_rad - pressed->yaw_rad) < 1e-12);
        CHECK(std::abs(pushed.path.front().x_mm - pressed->x_mm) < 1e-9);
        const PushedPass even = push_sled(d, t, hand, slippery, s, s + 1e-9, 1, Places::even_parts);
        if (!even.path.empty())
            by_even_parts = std::max(by_even_parts, std::abs(even.path.front().yaw_rad - pressed->yaw_rad));
    }
    CHECK(compared > 200);
    CHECK(by_even_parts > 1e-6);  // as it once was
}

TEST_CASE("a little farther along: the same places by their numbers, its ends where the table's edge is by then") {
    Draws r(56);
    const Drawing d;
    for (int round = 0; round < 500; ++round) {
        const Truth t = curved(r);
        const Tracks tracks(d, t, 1.0);
        Feelers feelers(tracks);
        const double s = r.between(-600, 300);
        const double next = s + r.between(-0.5, 0.5);
        const auto guided = tracks.guided(s);
        const auto then = tracks.guided(next);
        REQUIRE(guided);
        REQUIRE(then);
        const Samples before = feelers.at(*guided, s);
        const Samples after = feelers.like(before, *then, next);
        REQUIRE(after.n == before.n);
        REQUIRE(after.first == before.first);
        for (std::size_t i = 0; i < before.count(); ++i) {
            const double moved = then->middle() + after.y[i] - (guided->middle() + before.y[i]);
            const bool end = i == 0 || i + 1 == before.count();
            // Places stay on the runner; an end goes along with the table's edge, or stays where the runner ends.
            CHECK((std::abs(moved) < 1e-12 || (end && std::abs(moved - (s - next)) < 1e-9) ||
                   (end && std::abs(moved) <= std::abs(s - next))));
        }
    }
}
