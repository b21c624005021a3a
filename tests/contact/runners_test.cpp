// Runners in slots against the rectangle turned in a strip, against every sample looked at by hand, and against laws of
// symmetry.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "contact/draws.h"
#include "contact/runners.h"
#include "shop/truth.h"

using namespace offsquare;
using contact::Push;
using contact::seat_runners;
using contact::SledPose;
using shop::Drawing;
using shop::Truth;

namespace {

/// A table so long that the runners never leave their slots.
Drawing long_table() {
    Drawing d;
    d.table.depth_mm = 4000;
    return d;
}

/// One runner of length L and width w in a slot of w + c; the other has 2 mm of play and never touches.
struct OneRunner {
    Drawing d = long_table();
    Truth t;
    OneRunner(double length, double w, double c, bool left) {
        d.sled.runner_length_mm = length;
        d.slots.width_mm = w + c;
        t.left_play_mm = left ? c : 2.0;
        t.right_play_mm = left ? 2.0 : c;
    }
};

/// The yaw at which a rectangle L by w just fits in a strip of w + c: L sin t + w cos t = w + c, by halving in long
/// double.
double turned_in_strip(long double length, long double w, long double c) {
    long double lo = 0, hi = 0.5L;
    for (int i = 0; i < 120; ++i) {
        const long double t = 0.5L * (lo + hi);
        (length * std::sin(t) + w * std::cos(t) < w + c ? lo : hi) = t;
    }
    return static_cast<double>(lo);
}

constexpr Push turn_ccw{0, 1};
constexpr Push turn_cw{0, -1};

/// The walls and faces of both runners, looked at in another way than the solver does: each sample by its distance to
/// each wall. A wall is looked up at the sample's y, as the header says.
struct Look {
    double deepest = -1e9;  ///< how far the worst sample is inside wood or iron
    int touching = 0;       ///< samples that touch
    bool middle_touches = false;
};

Look look(const Drawing& d, const Truth& t, const SledPose& p, double rear, double front) {
    Look result;
    const double half_slot = d.slots.width_mm / 2;
    const double slope = std::tan(t.slot_splay_rad);
    const double middle = (d.sled.depth_mm / 2 - d.sled.fence_from_rear_mm);
    for (int i = 0; i < 33; ++i) {
        const double y = rear + (front - rear) * i / 32;
        const double u = (y - middle) / (d.sled.runner_length_mm / 2);
        const double bend =
            t.runner_bend_mm * (1 - u * u);  // the 33 samples of a runner in full contact are the points of the bow
        const auto one = [&](double centre, double half, double runner, double play) {
            for (const double side : {1.0, -1.0}) {
                const double face = runner + side * (d.slots.width_mm - play) / 2;
                const double x = p.x_mm + face * std::cos(p.yaw_rad) - y * std::sin(p.yaw_rad);
                const double depth = side * (x - (centre + side * half));
                result.deepest = std::max(result.deepest, depth);
                if (std::abs(depth) >= 1e-8) continue;
                ++result.touching;
                result.middle_touches |= i == 16;
            }
        };
        const double Y = p.s_mm + y;
        one(d.slots.left_x_mm + t.left_slot_profile.at(Y), half_slot, d.slots.left_x_mm - t.pitch_error_mm / 2 + bend,
            t.left_play_mm);
        one(d.slots.right_x_mm - slope * Y + t.right_slot_profile.at(Y), half_slot / std::cos(t.slot_splay_rad),
            d.slots.right_x_mm + t.pitch_error_mm / 2, t.right_play_mm);
    }
    return result;
}

}  // namespace

TEST_CASE("yaw limit of one runner: the values of a rectangle turned in a strip") {
    // Source: rectangle turned in a strip, check-values.md ("yaw in a slot").
    const double rows[4][4] = {{600, 19, 0.1, 1.6666710725541517e-4},
                               {600, 19, 0.2, 3.3333509878e-4},
                               {450, 19.05, 0.05, 1.1111137266e-4},
                               {300, 19, 0.3, 1.00003183536e-3}};
    for (const auto& row : rows) {
        CHECK(turned_in_strip(row[0], row[1], row[2]) == doctest::Approx(row[3]).epsilon(1e-10));
        for (const bool left : {true, false}) {
            const OneRunner one(row[0], row[1], row[2], left);
            CHECK(std::abs(seat_runners(one.d, one.t, turn_ccw, 0)->yaw_rad - row[3]) < 1e-9);
            CHECK(std::abs(seat_runners(one.d, one.t, turn_cw, 0)->yaw_rad + row[3]) < 1e-9);
        }
    }
}

TEST_CASE("yaw limit of one runner for any play and length, and it is not c/L") {
    for (double c = 0.02; c < 0.301; c += 0.02) {
        for (const double length : {100.0, 300.0, 420.0, 610.0}) {
            const OneRunner one(length, 19.05 - c, c, true);
            const double exact = turned_in_strip(length, 19.05L - c, c);
            CHECK(std::abs(seat_runners(one.d, one.t, turn_ccw, -30)->yaw_rad - exact) < 1e-12);
            CHECK((exact - c / length) / exact > 1e-7);  // w*t/(2L) of itself
        }
    }
}

TEST_CASE("two loose runners on the inner walls, or on the outer, leave no play at all") {
    // Common practice, no source: runner slack does not matter once both runners bear on the inner walls.
    for (const double play : {0.05, 0.1, 0.37, 1.0}) {
        for (const double outward : {-1.0, 1.0}) {
            Drawing d;
            Truth t;
            t.left_play_mm = t.right_play_mm = play;
            t.pitch_error_mm = outward * play;
            for (const Push push :
                 {Push{1, 0}, Push{-1, 0}, Push{0, 1}, Push{0, -1}, Push{1, 400}, Push{-1, 400}, Push{0, 0}}) {
                const auto pose = seat_runners(d, t, push, 0);
                REQUIRE(pose);
                CHECK(std::abs(pose->x_mm) < 1e-9);
                CHECK(std::abs(pose->yaw_rad) < 1e-11);
            }
            // A hundredth wider apart still and nothing fits.
            t.pitch_error_mm = outward * (play + 0.01);
            CHECK_FALSE(seat_runners(d, t, {1, 0}, 0));
            // A hundredth less, and there is that hundredth of play.
            t.pitch_error_mm = outward * (play - 0.01);
            CHECK(seat_runners(d, t, {1, 0}, 0)->x_mm == doctest::Approx(0.005));
            CHECK(seat_runners(d, t, {-1, 0}, 0)->x_mm == doctest::Approx(-0.005));
        }
    }
}

TEST_CASE("pressed sideways the tighter runner stops the sled, and nothing turns it") {
    Truth t;
    t.left_play_mm = 0.3;
    t.right_play_mm = 0.1;
    const auto right = seat_runners({}, t, {1, 0}, 0);
    CHECK(right->x_mm == doctest::Approx(0.05));
    CHECK(right->yaw_rad == 0.0);
    const auto left = seat_runners({}, t, {-1, 0}, 0);
    CHECK(left->x_mm == doctest::Approx(-0.05));
    CHECK(left->yaw_rad == 0.0);
}

TEST_CASE("mirror law of the whole saw") {
    Draws r(21);
    for (int round = 0; round < 300; ++round) {
        Drawing d, m;
        d.slots.left_x_mm = -r.between(60, 200);
        d.slots.right_x_mm = r.between(60, 200);
        m.slots.left_x_mm = -d.slots.right_x_mm;
        m.slots.right_x_mm = -d.slots.left_x_mm;
        Truth t, u;
        u.right_play_mm = t.left_play_mm = r.between(0.5, 2);
        u.left_play_mm = t.right_play_mm = r.between(0.5, 2);
        u.pitch_error_mm = t.pitch_error_mm = r.between(-0.3, 0.3);
        if (r.coin()) {
            t.left_slot_profile = r.wavy(-280, 280, 0.1);
            t.right_slot_profile = r.wavy(-280, 280, 0.1);
            const auto flip = [](const base::Profile& p) {
                base::Profile::Points points(p.points());
                for (auto& q : points) q.y = -q.y;
                return base::Profile(points);
            };
            u.left_slot_profile = flip(t.right_slot_profile);
            u.right_slot_profile = flip(t.left_slot_profile);
        }
        const Push push{r.between(-1, 1), r.between(-300, 300)};
        const double s = r.between(-350, 150);
        const auto one = seat_runners(d, t, push, s);
        const auto other = seat_runners(m, u, {-push.side, -push.moment_mm}, s);
        REQUIRE(one);
        REQUIRE(other);
        CHECK(std::abs(one->x_mm + other->x_mm) < 1e-10);
        CHECK(std::abs(one->yaw_rad + other->yaw_rad) < 1e-12);
    }
}

TEST_CASE("splayed slots close where the play is used up") {
    // Lines: at the place Y of the table the slots are off each other's pitch by tan(splay)*Y; the two plays can take
    // up (pl + pr)/2. Both bands are convex, so a straight pair of runners fits as soon as it fits at its two ends.
    Drawing d = long_table();
    Truth t;
    t.slot_splay_rad = 1e-3;
    t.left_play_mm = 0.2;
    t.right_play_mm = 0.25;
    const double reach = 0.5 * (0.2 + 0.25) / std::tan(1e-3);  // 225 mm from the blade's centre
    const double front = d.sled.depth_mm / 2 - d.sled.fence_from_rear_mm + d.sled.runner_length_mm / 2;
    CHECK(seat_runners(d, t, {1, 0}, reach - front - 0.1));
    CHECK_FALSE(seat_runners(d, t, {1, 0}, reach - front + 0.1));
    CHECK_FALSE(contact::travel(d, t, {1, 0}, -450, 130));
    t.left_play_mm = 1.0;
    t.right_play_mm = 1.0;
    CHECK(contact::travel(d, t, {1, 0}, -450, 130));
    // A quarter turn of sign is no help: the same distance on the near side.
    t.left_play_mm = 0.2;
    t.right_play_mm = 0.25;
    t.slot_splay_rad = -1e-3;
    CHECK(seat_runners(d, t, {1, 0}, reach - front - 0.1));
    CHECK_FALSE(seat_runners(d, t, {1, 0}, reach - front + 0.1));
}

TEST_CASE("a runner part out of its slot may turn further: the guided length counts") {
    OneRunner one(420, 18.9, 0.1, true);
    one.d.table.depth_mm = 560;
    const double whole =
        seat_runners(one.d, one.t, turn_ccw, -100)->yaw_rad;  // -60 to 360 in the sled, -160 to 260 on the table
    CHECK(std::abs(whole - turned_in_strip(420, 18.9L, 0.1L)) < 1e-12);
    double before = whole;
    for (const double s : {0.0, 60.0, 120.0, 200.0}) {
        const double yaw = seat_runners(one.d, one.t, turn_ccw, s)->yaw_rad;
        const double guided = 280 - (s - 60);
        CHECK(yaw > before);
        // The slot's mouth, not the runner's corner, touches at one end: that differs from the rectangle in the square
        // of the yaw only.
        CHECK(yaw == doctest::Approx(turned_in_strip(guided, 18.9L, 0.1L)).epsilon(1e-4).scale(0));
        before = yaw;
    }
    CHECK_FALSE(seat_runners(one.d, one.t, turn_ccw, 340));   // the runners have left the table
    CHECK_FALSE(seat_runners(one.d, one.t, turn_ccw, -641));  // and not yet come to it
}

TEST_CASE("bent runners in curved slots: no sample penetrates, two touch, and no small step gains") {
    Draws r(22);
    int seated = 0;
    for (int round = 0; round < 400; ++round) {
        Drawing d = long_table();
        Truth t;
        t.left_play_mm = r.between(0.2, 1);
        t.right_play_mm = r.between(0.2, 1);
        t.pitch_error_mm = r.between(-0.1, 0.1);
        t.runner_bend_mm = r.coin() ? r.between(-0.3, 0.3) : 0.0;
        t.slot_splay_rad = r.coin() ? r.between(-3e-4, 3e-4) : 0.0;
        t.left_slot_profile = r.coin() ? r.wavy(-280, 280, 0.2) : r.rough(-280, 280, 0.08);
        if (r.coin()) t.right_slot_profile = r.wavy(-280, 280, 0.2);
        const Push push{r.sign() * r.between(0.1, 1), r.coin() ? r.between(-300, 300) : 0.0};
        const double s = r.between(-300, 100);
        const auto pose = seat_runners(d, t, push, s);
        if (!pose) continue;
        ++seated;
        const double rear = -60, front = 360, middle = 150;
        const Look here = look(d, t, *pose, rear, front);
        CHECK(here.deepest < 1e-9);
        // One touching sample is enough only where it stands right before the push, which then turns nothing.
        CHECK(here.touching >= (push.moment_mm == 0.0 && here.middle_touches ? 1 : 2));
        // A step of 1e-5 mm in any direction that the push likes by more than the rounding ends inside a wall.
        for (int k = 0; k < 360; ++k) {
            const double dx = 1e-5 * std::cos(k * M_PI / 180), turn = 1e-5 / 210 * std::sin(k * M_PI / 180);
            const double gain = push.side * (dx - turn * middle) + push.moment_mm * turn;
            if (gain < 1e-8) continue;
            SledPose moved = *pose;
            moved.x_mm += dx;
            moved.yaw_rad += turn;
            CHECK(look(d, t, moved, rear, front).deepest > 1e-9);
        }
    }
    CHECK(seated > 250);
}

TEST_CASE("a bellied runner pressed at its belly stands square: rounding does not choose the yaw") {
    // The bow is symmetric about the middle of the runner, where the push acts, so the yaw must be zero wherever the
    // slot is straight.
    for (const double length : {420.0, 417.3, 399.9, 333.3}) {
        for (const double s : {0.0, -17.3, -101.7, 33.33}) {
            Drawing d = long_table();
            d.sled.runner_length_mm = length;
            Truth t;
            t.left_play_mm = 0.8;
            t.right_play_mm = 2;
            t.runner_bend_mm = 0.5;
            const auto pose = seat_runners(d, t, {1, 0}, s);
            REQUIRE(pose);
            CHECK(std::abs(pose->yaw_rad) < 1e-12);
            CHECK(pose->x_mm == doctest::Approx(0.4 - 0.5));
        }
    }
}

TEST_CASE("the travel says it is constant when it is, and only then") {
    const auto constant = [](const Drawing& d, const Truth& t, const Push& push) {
        const auto travel = contact::travel(d, t, push, -400, 130);
        REQUIRE(travel);
        CHECK(travel->poses.front().s_mm == -400);
        CHECK(travel->poses.back().s_mm == 130);
        CHECK(std::is_sorted(travel->poses.begin(), travel->poses.end(),
                             [](const SledPose& a, const SledPose& b) { return a.s_mm < b.s_mm; }));
        for (const SledPose& p : travel->poses) {
            const auto alone = seat_runners(d, t, push, p.s_mm);
            CHECK(std::abs(alone->x_mm - p.x_mm) < 1e-10);
            CHECK(std::abs(alone->yaw_rad - p.yaw_rad) < 1e-12);
            if (travel->constant) CHECK(p.yaw_rad == travel->poses.front().yaw_rad);
            if (travel->constant) CHECK(p.x_mm == travel->poses.front().x_mm);
        }
        return travel->constant;
    };
    Truth loose;
    loose.left_play_mm = loose.right_play_mm = 0.4;
    CHECK(constant({}, {}, {1, 0}));
    CHECK(constant({}, loose, {1, 0}));
    CHECK(constant({}, loose, {-1, 0}));
    CHECK(constant(long_table(), loose, {1, 500}));  // turned, but the same everywhere
    CHECK_FALSE(constant({}, loose, {0, 1}));        // the short table lets the sled turn further at its ends
    Truth wave = loose;
    wave.left_slot_profile = base::Profile::bow(-280, 280, -0.1);
    CHECK_FALSE(constant({}, wave, {1, 0}));
    Truth splay = loose;
    splay.slot_splay_rad = 2e-4;
    CHECK_FALSE(constant({}, splay, {1, 0}));
    Truth bend = loose;
    bend.runner_bend_mm = 0.1;
    CHECK(constant(long_table(), bend, {1, 0}));  // a bent runner in straight slots stands alike everywhere
}
