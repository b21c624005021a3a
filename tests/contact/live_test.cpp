// The live sled: held to the exact yaw of its play, to the law of jamming and to the quasi-static solver; thrown about
// by a monkey; the same motion at any frame rate.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "contact/draws.h"
#include "contact/live.h"
#include "contact/pushed.h"
#include "repeats.h"
#include "shop/truth.h"

using namespace offsquare;
using contact::LiveHand;
using contact::LiveSled;
using contact::LiveState;
using contact::PushedPass;
using contact::PushedPose;
using contact::Rub;
using contact::Way;
using pushed::loose;
using pushed::rubbing;
using pushed::saw;
using shop::Drawing;
using shop::Truth;

namespace {

constexpr double place_mm = contact::live_place_mm;
constexpr double yaw_rad = contact::live_yaw_rad;
constexpr double steps_in_s = 4000.0;

LiveHand hand(double x_mm, double speed_mm_s, double force_n = 500.0) { return {true, x_mm, speed_mm_s, force_n}; }

PushedPose quasi_static(const Drawing& d, const Truth& t, const Rub& rub, double s, double x, Way way = Way::push) {
    const PushedPass p =
        contact::push_sled(d, t, {{{-1e9, x}}, std::numeric_limits<double>::infinity(), way}, rub, s, s + 1e-9, 1);
    REQUIRE_FALSE(p.path.empty());
    return p.path.back();
}

/// Whether a steady push from rest still moves the sled after 0.8 s: by then the hand, 400 N/s stronger as long as the
/// sled lags 20 mm/s, gives all that it can. A light sled shows it sooner.
bool goes(const Drawing& d, const Truth& t, const Rub& rub, double x, double force) {
    LiveSled sled(d, t, rub, -50.0, {1.0, 250});
    sled.step(hand(x, 20.0, force), static_cast<int>((0.3 + force / 400.0) * steps_in_s));
    const double before = sled.state().pose.s_mm;
    sled.step(hand(x, 20.0, force), 200);
    return sled.state().pose.s_mm - before > 1e-3;  // 1 mm at full speed
}

/// The deepest that any of the 33 places on either runner lies beyond its wall, put up from the truth.
double beyond_walls(const Drawing& d, const Truth& t, const LiveState& at) {
    const double rear = std::max(-60.0, -280.0 - at.pose.s_mm);
    const double front = std::min(360.0, 280.0 - at.pose.s_mm);
    const double c = std::cos(at.pose.yaw_rad);
    const double sine = std::sin(at.pose.yaw_rad);
    double worst = -1.0;
    for (int i = 0; i <= 32; ++i) {
        const double y = rear + (front - rear) * i / 32;
        const double left = at.pose.x_mm + (d.slots.left_x_mm - 0.5 * t.pitch_error_mm) * c - y * sine -
                            d.slots.left_x_mm - t.left_slot_profile.at(at.pose.s_mm + y);
        const double right = at.pose.x_mm +
                             (d.slots.right_x_mm + 0.5 * t.pitch_error_mm + t.right_runner_profile.at(y)) * c -
                             y * sine - d.slots.right_x_mm;
        worst = std::max({worst, std::abs(left) - 0.5 * t.left_play_mm, std::abs(right) - 0.5 * t.right_play_mm});
    }
    return worst;
}

double energy_j(const LiveState& at) {
    const double inertia = 6.0 * (620.0 * 620.0 + 420.0 * 420.0) / 12.0;  // an even plate of the base's size
    return 1e-6 * 0.5 *
           (6.0 * (at.speed_mm_s * at.speed_mm_s + at.across_mm_s * at.across_mm_s) +
            inertia * at.turning_rad_s * at.turning_rad_s);
}

/// What came of all that the monkey did.
struct Throws {
    double beyond = -1.0;
    double from_nothing_j = -1.0;  ///< energy gained in one grab beyond the hand's work
    double most_j = 0.0;
    bool numbers = true;
};

Throws monkey(const Drawing& d, const Truth& t, Draws& draws, int grabs) {
    Throws all;
    LiveSled sled(d, t, {}, -100.0);
    for (int g = 0; g < grabs; ++g) {
        const bool hard = draws.between(0.0, 1.0) < 0.1;
        const LiveHand h{draws.between(0.0, 1.0) < 0.9, draws.between(-300.0, 300.0), draws.between(-1000.0, 1000.0),
                         draws.between(0.0, hard ? 2000.0 : 300.0)};
        const int steps = draws.between(0.0, 1.0) < 0.05 ? draws.whole(50, 300) : draws.whole(1, 12);
        const double before_j = energy_j(sled.state());
        double work_j = 0.0;
        for (int i = 0; i < steps; ++i) {
            const LiveState a = sled.state();
            sled.step(h);
            const LiveState& b = sled.state();
            work_j += b.push_n / steps_in_s * 0.5e-3 *
                      (a.speed_mm_s + b.speed_mm_s + h.x_mm * (a.turning_rad_s + b.turning_rad_s));
            all.beyond = std::max(all.beyond, beyond_walls(d, t, b));
            all.most_j = std::max(all.most_j, energy_j(b));
            all.numbers = all.numbers && std::isfinite(b.pose.s_mm + b.pose.x_mm + b.pose.yaw_rad + b.speed_mm_s +
                                                       b.push_n + b.walls.left_front_n + b.walls.right_front_n);
        }
        all.from_nothing_j = std::max(all.from_nothing_j, energy_j(sled.state()) - before_j - work_j);
    }
    return all;
}

}  // namespace

TEST_CASE("live: it settles at the exact yaw of its play, and the forces are those of statics") {
    for (const double play : {0.02, 0.05, 0.1, 0.2, 0.3}) {
        for (const double side : {1.0, -1.0}) {
            CAPTURE(play);
            const Drawing d = saw(420.0);
            const Truth t = loose(play, 2.0);
            const Rub rub = rubbing(0.1, 15.0);
            LiveSled sled(d, t, rub, -50.0);
            sled.step(hand(side * 60.0, 80.0), 3000);
            const LiveState& at = sled.state();
            // L sin t + w cos t = w + c, w the runner's width: by Newton's rule from the first order.
            double yaw = play / 420.0;
            const double w = 19.0 - play;
            for (int i = 0; i < 5; ++i)
                yaw -= (420.0 * std::sin(yaw) + w * std::cos(yaw) - 19.0) / (420.0 * std::cos(yaw) - w * std::sin(yaw));
            CHECK(std::abs(at.pose.yaw_rad - side * yaw) < yaw_rad);
            // The left runner lies midway: its middle, 150 mm before the origin, is where the slot's is, but for the
            // cosine.
            CHECK(std::abs(at.pose.x_mm - (-140.0 * (1.0 - std::cos(yaw)) + 150.0 * side * std::sin(yaw))) < place_mm);
            CHECK(at.speed_mm_s == doctest::Approx(80.0).epsilon(1e-3));
            // Turning about the blade's line: P x = side L N + 2 mu N x_runner, with P = D + 2 mu N; the drag of base
            // and blade lies on that line. The blade cuts: D = 35 N.
            const double n = 35.0 * side * 60.0 / (side * 420.0 - 0.2 * side * 60.0 + 0.2 * d.slots.left_x_mm);
            CHECK((side > 0.0 ? at.walls.left_front_n : at.walls.right_front_n) == doctest::Approx(n).epsilon(1e-3));
            CHECK((side > 0.0 ? at.walls.right_rear_n : at.walls.left_rear_n) == doctest::Approx(n).epsilon(1e-3));
            CHECK(at.push_n == doctest::Approx(35.0 + 0.2 * n).epsilon(1e-3));
            CHECK((side > 0.0 ? at.walls.left_rear_n + at.walls.right_front_n
                              : at.walls.left_front_n + at.walls.right_rear_n) == 0.0);
        }
    }
}

TEST_CASE("live: it jams at L/(2 mu) from the middle line of the runners that touch, within 0.05 %") {
    // Next to no drag, so that the hand's force does not matter (drag over force is 4e-5). The tilt shifts a contact on
    // the other runner along by yaw times their distance: 280 * 0.02/150 mm, 0.025 % of L.
    const Drawing d = saw(150.0);
    for (const double mu : {0.2, 0.3, 0.4}) {
        CAPTURE(mu);
        const double law = 150.0 / (2.0 * mu);
        for (const double near : {-1.0, 1.0}) {
            const double e = (1.0 + near * 5e-4) * law;
            const bool wanted = near < 0.0;
            const Rub rub{mu, 0.02, 0.0, 0.0};
            CHECK(goes(d, loose(0.02, 0.02), rub, e, 500.0) == wanted);
            CHECK(goes(d, loose(0.02, 0.02), rub, -e, 500.0) == wanted);
            CHECK(goes(d, loose(0.02, 1.5), rub, d.slots.left_x_mm + e, 500.0) == wanted);
            CHECK(goes(d, loose(1.5, 0.02), rub, d.slots.right_x_mm - e, 500.0) == wanted);
        }
    }
}

TEST_CASE("live: a hand of 200 N stalls where statics says, within 0.01 %") {
    // F = D + 2 mu N and F x = N l + 2 mu N x_r (drag on the blade's line) give x = (1 - D/F) (l/(2 mu) + x_r); l is
    // the distance of the contacts along the slots, with the tilt: length + yaw * (x of the left-hand wall less x of
    // the right-hand wall).
    const Drawing d = saw(150.0);
    const double yaw = 0.1 / 150.0;
    for (const double mu : {0.2, 0.4}) {
        CAPTURE(mu);
        const Rub rub{mu, 15.0, 0.0, 0.0};
        const double one = (1.0 - 15.0 / 200.0) * ((150.0 - yaw * 18.9) / (2.0 * mu) + d.slots.left_x_mm);
        // Both alike: the inner walls of both slots hold it.
        const double both = (1.0 - 15.0 / 200.0) * (150.0 + yaw * (280.0 - 18.9)) / (2.0 * mu);
        for (const double near : {-1.0, 1.0}) {
            const double off = near * 1e-4 * 150.0 / (2.0 * mu);
            CHECK(goes(d, loose(0.1, 1.5), rub, one + off, 200.0) == (near < 0.0));
            CHECK(goes(d, loose(0.1, 0.1), rub, both + off, 200.0) == (near < 0.0));
        }
    }
}

TEST_CASE("live and quasi-static agree on 32 wavy passes, pushed and pulled, over the middle with a change of hands") {
    // Both look at the walls at the same 33 places. Left out: 6 mm at the start, until the sled lies against its walls,
    // and 5 mm (80 ms) after the hand changes sides: 50 ms for the hand to take up the change and some ms to be knocked
    // over. Guided length is 110 mm and more: over that the place at its end shifts by the yaw's resolution times 150
    // mm at most.
    Draws draws(5);
    int compared = 0;
    for (int k = 0; k < 32; ++k) {
        CAPTURE(k);
        const Drawing d;
        Truth t = loose(draws.between(0.05, 0.3), draws.between(0.05, 0.3));
        t.left_slot_profile = draws.wavy(-280.0, 280.0, 0.02);
        t.right_slot_profile = draws.wavy(-280.0, 280.0, 0.02);
        t.left_runner_profile = draws.wavy(-60.0, 360.0, 0.01);
        const Rub rub = rubbing(draws.between(0.1, 0.3), 15.0);
        const Way way = draws.coin() ? Way::push : Way::pull_back;
        const double along = way == Way::push ? 1.0 : -1.0;
        const double start = draws.between(-200.0, -60.0) - along * 36.0;
        const double side = draws.sign();
        const double first = side * draws.between(20.0, 150.0);
        const double second = -side * draws.between(20.0, 150.0);
        LiveSled sled(d, t, rub, start);
        double worst_mm = 0.0;
        double worst_rad = 0.0;
        for (int i = 0; i < 6000; ++i) {
            const double gone = along * (sled.state().pose.s_mm - start);
            const double x = gone < 36.0 ? first : second;
            sled.step(hand(x, along * 60.0));
            if (gone > 66.0) break;
            if (i % 40 != 0 || gone < 6.0 || (gone > 35.9 && gone < 41.0)) continue;
            const LiveState& at = sled.state();
            const PushedPose still = quasi_static(d, t, rub, at.pose.s_mm, x, way);
            worst_mm = std::max(worst_mm, std::abs(at.pose.x_mm - still.x_mm));
            worst_rad = std::max(worst_rad, std::abs(at.pose.yaw_rad - still.yaw_rad));
            ++compared;
        }
        CHECK(along * (sled.state().pose.s_mm - start) > 60.0);
        CHECK(worst_mm < place_mm);
        CHECK(worst_rad < yaw_rad);
    }
    CHECK(compared > 2000);
}

TEST_CASE("live and quasi-static agree over steps in the slots' walls and on a runner, up and down") {
    // A step is a ramp of 4 mm, as a worn place or a joint in the rail has; it passes under the samples at 60 mm/s, so
    // the sled is moved aside by 0.03 mm in 70 ms: 0.04 m/s^2 at most, a quarter of a newton for 6 kg, against walls
    // that press with several. Left out: 6 mm at the start, as above.
    Draws draws(15);
    int compared = 0;
    double crossed = 0.0;
    for (int k = 0; k < 24; ++k) {
        CAPTURE(k);
        const Drawing d;
        const double high = draws.sign() * draws.between(0.01, 0.03);
        Truth t = loose(draws.between(0.08, 0.3), draws.between(0.08, 0.3));
        const double where = draws.between(-40.0, 40.0);
        const base::Profile step(
            base::Profile::Points{{-300.0, 0.0}, {where - 2.0, 0.0}, {where + 2.0, high}, {400.0, high}});
        (k % 3 == 0 ? t.left_slot_profile : k % 3 == 1 ? t.right_slot_profile : t.left_runner_profile) = step;
        const Rub rub = rubbing(draws.between(0.1, 0.3), 15.0);
        const double start = draws.between(-240.0, -140.0);
        const double x = draws.sign() * draws.between(30.0, 120.0);
        LiveSled sled(d, t, rub, start);
        double worst_mm = 0.0, worst_rad = 0.0, least = 1.0, most = -1.0;
        for (int i = 0; i < 12000; ++i) {
            const double gone = sled.state().pose.s_mm - start;
            sled.step(hand(x, 60.0));
            if (gone > 150.0) break;
            if (i % 40 != 0 || gone < 6.0) continue;
            const LiveState& at = sled.state();
            const PushedPose still = quasi_static(d, t, rub, at.pose.s_mm, x, Way::push);
            worst_mm = std::max(worst_mm, std::abs(at.pose.x_mm - still.x_mm));
            worst_rad = std::max(worst_rad, std::abs(at.pose.yaw_rad - still.yaw_rad));
            least = std::min(least, still.yaw_rad), most = std::max(most, still.yaw_rad);
            ++compared;
        }
        crossed += most - least;
        CHECK(sled.state().pose.s_mm - start > 140.0);
        CHECK(worst_mm < place_mm);
        CHECK(worst_rad < yaw_rad);
    }
    CHECK(compared > 2000);
    CHECK(crossed / 24.0 > 20.0 * yaw_rad);  // the steps were felt
}

TEST_CASE(
    "live and quasi-static agree where the base drags off centre: the hand on the line of the drag turns nothing, "
    "beside it all of the play") {
    for (const double drag_x : {-150.0, 90.0}) {
        for (const double beside : {-70.0, 70.0}) {
            CAPTURE(drag_x);
            CAPTURE(beside);
            const Drawing d = saw(420.0);
            const Truth t = loose(0.12, 0.3);
            Rub rub = rubbing(0.2, 25.0);
            rub.base_x_mm = drag_x;
            rub.blade_n = 0.0;  // or else the line of all drag is not the base's
            LiveSled sled(d, t, rub, -50.0);
            sled.step(hand(drag_x + beside, 60.0), 4000);
            const LiveState& at = sled.state();
            const PushedPose still = quasi_static(d, t, rub, at.pose.s_mm, drag_x + beside, Way::push);
            CHECK(std::abs(at.pose.yaw_rad - still.yaw_rad) < yaw_rad);
            CHECK(std::abs(at.pose.x_mm - still.x_mm) < place_mm);
            CHECK(at.pose.yaw_rad * beside > 0.0);
            CHECK(at.push_n == doctest::Approx(still.push_n).epsilon(1e-3));
            // The other road: about the line of the drag the hand's turning moment is P*beside, so what the walls press
            // is (P - D)/(2 mu) each.
            CHECK(still.wall_n == doctest::Approx((still.push_n - 25.0) / 0.4).epsilon(1e-9));
        }
    }
}

TEST_CASE("live: four thousand grabs by a monkey neither throw it out of its slots nor make energy") {
    // Up to 500 N at 300 mm. The deepest seen in 36 runs of 5,000 grabs: 6.7 um. The hand's work is summed with the
    // pull at the end of each step, so it is known to some 1e-3 J (3e-3 at most in these runs, where a blow that throws
    // the sled brought 4e-2 and more); no grab may bring more. At 1 m/s, the most that the hand wants, the sled has 3
    // J; the hand is a spring and goes beyond by less than half.
    Draws draws(31);
    Truth even = loose(0.2, 0.15);
    even.pitch_error_mm = 0.03;
    Truth wavy = even;
    wavy.left_slot_profile = draws.wavy(-280.0, 280.0, 0.03);
    wavy.right_runner_profile = draws.wavy(-60.0, 360.0, 0.03);
    for (const Truth& t : {even, wavy}) {
        const Throws all = monkey(Drawing{}, t, draws, repeats::of(2000, 1000));
        CHECK(all.numbers);
        CHECK(all.beyond < 0.010);
        CHECK(all.from_nothing_j < 0.010);
        CHECK(all.most_j < 3.0 * 1.5 * 1.5);
    }
}

TEST_CASE("live: frames of 4 Hz and of 240 Hz give the same bits, and so does the replay") {
    const Drawing d;
    Truth t = loose(0.1, 0.15);
    t.left_slot_profile = base::Profile::wave(-280.0, 280.0, 0.02, 200.0);
    LiveSled slow(d, t, {}, -300.0);
    LiveSled fast(d, t, {}, -300.0);
    Draws draws(9);
    for (int quarter = 0; quarter < 12; ++quarter) {
        const LiveHand h{quarter % 4 != 3, draws.between(-150.0, 150.0), draws.between(-200.0, 300.0), 120.0};
        CHECK(slow.advance(0.25, h) == 1000);
        for (int frame = 0; frame < 60; ++frame) fast.advance(1.0 / 240.0, h);
    }
    CHECK(slow.state() == fast.state());
    CHECK(slow.history() == fast.history());
    CHECK(slow.history().size() == 12);
    LiveSled again(d, t, {}, -300.0);
    for (const contact::LiveStretch& stretch : slow.history()) again.step(stretch.hand, stretch.steps);
    CHECK(again.state() == slow.state());
    CHECK(std::abs(slow.state().pose.s_mm + 300.0) > 1.0);  // it did move
}

TEST_CASE("live: a hidden window does not jump") {
    LiveSled sled(Drawing{}, loose(0.1, 0.1), {}, -300.0);
    CHECK(sled.advance(60.0, hand(0.0, 100.0)) == 1000);
    CHECK(sled.state().pose.s_mm < -300.0 + 0.25 * 100.0 + 1.0);
    CHECK(sled.advance(0.0, hand(0.0, 100.0)) == 0);
    CHECK(sled.advance(-1.0, hand(0.0, 100.0)) == 0);
    CHECK(sled.advance(std::numeric_limits<double>::quiet_NaN(), hand(0.0, 100.0)) == 0);
}

TEST_CASE("live: let go, it stops by friction where v^2/(2 mu g) says") {
    // 15 N on 6 kg; the hand had brought it to 200 mm/s, no wood near.
    LiveSled sled(saw(420.0), loose(0.1, 0.1), {}, 150.0);
    sled.step(hand(0.0, 200.0), 1600);
    const double v = sled.state().speed_mm_s;
    const double from = sled.state().pose.s_mm;
    CHECK(v == doctest::Approx(200.0).epsilon(0.02));
    sled.step({}, 2000);
    CHECK(sled.state().speed_mm_s == 0.0);
    CHECK(sled.state().push_n == 0.0);
    // A step of 0.25 ms at v/2, 0.03 mm, is 0.4 % of the way.
    CHECK(sled.state().pose.s_mm - from == doctest::Approx(v * v / (2.0 * 15.0 / 6.0 * 1000.0)).epsilon(0.01));
}

TEST_CASE("live: slots that splay stop it where the quasi-static sled stops, and it comes back") {
    Drawing d = saw(300.0);
    Truth t = loose(0.12, 0.18);
    t.slot_splay_rad = 6e-4;
    const PushedPass still = contact::push_sled(d, t, {{{-1e9, 0.0}}, 1e9, Way::push}, {}, -200.0, 200.0, 40);
    REQUIRE(still.stuck == contact::Stuck::does_not_fit);
    LiveSled sled(d, t, rubbing(0.05, 15.0), still.stuck_at_mm - 20.0);
    sled.step(hand(0.0, 50.0), 4000);
    CHECK(sled.state().pose.s_mm ==
          doctest::Approx(still.stuck_at_mm).epsilon(1.0).scale(0.05));  // a step at 50 mm/s is 0.0125 mm
    CHECK_FALSE(sled.state().fits);
    sled.step(hand(0.0, -50.0), 4000);
    CHECK(sled.state().fits);
    CHECK(sled.state().pose.s_mm < still.stuck_at_mm - 10.0);
}
