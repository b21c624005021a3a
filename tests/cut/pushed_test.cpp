// The five cuts made by a hand that pushes the sled: cut with the path that was pushed, by statics.
#include <doctest/doctest.h>

#include <cmath>

#include "contact/draws.h"
#include "contact/pushed.h"
#include "cut/five_cut.h"
#include "shop/truth.h"

using namespace offsquare;
using cut::FiveCut;
using cut::HandPass;
using cut::Outcome;
using pushed::loose;

namespace {

HandPass hand(double x_mm, double force_n = 1000.0) {
    HandPass pass;
    pass.hand.grips = {{-std::numeric_limits<double>::infinity(), x_mm}};
    pass.hand.force_n = force_n;
    return pass;
}

FiveCut pushed_test(const shop::Drawing& d, const shop::Truth& t, const HandPass& pass) {
    return cut::five_cut_pushed(d, t, {}, pass, cut::steady(d));
}

/// Yaw at the end of the play c of a straight runner of length L and width w: L sin t + w cos t = w + c
/// (shared/check-values.md), by halving.
double widest_yaw(double length, double width, double play) {
    double lo = 0.0, hi = 0.1;
    for (int i = 0; i < 100; ++i) {
        const double t = 0.5 * (lo + hi);
        (length * std::sin(t) + width * std::cos(t) < width + play ? lo : hi) = t;
    }
    return lo;
}

}  // namespace

TEST_CASE("a hand beside the middle turns the sled by all of its play, and every corner with it") {
    // The slots are straight and both runners stay on the table, so the yaw is the same all the way and each corner is
    // off by skew + yaw: the fence stands so against the slots.
    const shop::Drawing d = pushed::saw(300.0);
    for (const double skew : {0.0, 6e-4}) {
        for (const double play : {0.03, 0.1}) {
            shop::Truth t = loose(play, 1.5);  // the right runner never touches, and the formula is that of one runner
            t.fence_skew_rad = skew;
            const double yaw = widest_yaw(300.0, d.slots.width_mm - play, play);
            for (const double side : {1.0, -1.0}) {
                CAPTURE(play);
                CAPTURE(side);
                const FiveCut test = pushed_test(d, t, hand(side * 90.0));
                REQUIRE(test.outcome == Outcome::done);
                // A rotation changes no angle between the fence and the direction of travel; 1e-9: the path is in 256
                // steps of one and the same pose, only rounding is left.
                for (const cut::Cut& c : test.cuts)
                    CHECK(c.corner_rad == doctest::Approx(skew + side * yaw).epsilon(1e-9));
                const double taper = test.strip->width_at(0.0) - test.strip->width_at(test.strip->length_mm);
                CHECK(taper == doctest::Approx(test.strip->length_mm * std::tan(4.0 * (skew + side * yaw)))
                                   .epsilon(1e-5));  // across the old edge, not along the fence: 4 e of it
            }
        }
    }
}

TEST_CASE("a hand that turns the sled and a press that turns it cut alike") {
    // The second road: the linear program of contact/clearance.h, which knows no friction and is pressed with a bare
    // moment.
    const shop::Drawing d = pushed::saw(300.0);
    Draws r(5);
    for (int i = 0; i < 40; ++i) {
        shop::Truth t = loose(r.between(0.02, 0.2), r.between(0.02, 0.2));
        t.fence_skew_rad = r.between(-1e-3, 1e-3);
        t.runner_bend_mm = r.between(-0.01, 0.01);
        const double side = r.coin() ? 1.0 : -1.0;
        const FiveCut by_hand = pushed_test(d, t, hand(side * 60.0));
        const FiveCut pressed = cut::five_cut(d, t, {}, {0.0, side});
        REQUIRE(by_hand.outcome == pressed.outcome);
        REQUIRE(by_hand.strip);
        for (std::size_t k = 0; k < 5; ++k)
            CHECK(std::abs(by_hand.cuts[k].corner_rad - pressed.cuts[k].corner_rad) < 1e-12);
        for (const double part : {0.0, 0.5, 1.0})
            CHECK(std::abs(by_hand.strip->width_at(part * 300.0) - pressed.strip->width_at(part * 300.0)) < 1e-9);
    }
}

TEST_CASE("mirror law: the saw and the hand mirrored, the kept corners are the same") {
    shop::Drawing d = pushed::saw(300.0);
    shop::Truth t = loose(0.1, 0.1);
    t.fence_skew_rad = 3e-4;
    shop::Drawing m = d;
    m.board.kept = d.board.kept == shop::Side::left ? shop::Side::right : shop::Side::left;
    shop::Truth mt = t;
    mt.fence_skew_rad = -3e-4;
    HandPass pass = hand(80.0);
    pass.hand.grips.push_back({-90.0, -50.0});
    HandPass mirrored = pass;
    for (contact::Grip& g : mirrored.hand.grips) g.x_mm = -g.x_mm;
    const FiveCut a = pushed_test(d, t, pass);
    const FiveCut b = pushed_test(m, mt, mirrored);
    REQUIRE(a.outcome == Outcome::done);
    REQUIRE(b.outcome == Outcome::done);
    for (std::size_t k = 0; k < 5; ++k) CHECK(std::abs(a.cuts[k].corner_rad - b.cuts[k].corner_rad) < 1e-12);
}

TEST_CASE("a hand that goes over the middle in the wood leaves a bent face, and a corner between the two") {
    const shop::Drawing d = pushed::saw(300.0);
    const shop::Truth t = loose(0.1, 1.5);
    const double yaw = widest_yaw(300.0, d.slots.width_mm - 0.1, 0.1);
    HandPass pass = hand(80.0);
    pass.hand.grips.push_back({-160.0, -80.0});  // the fence is 160 mm before the blade's centre: the wood is half cut
    const FiveCut test = pushed_test(d, t, pass);
    REQUIRE(test.outcome == Outcome::done);
    const double corner = test.cuts[0].corner_rad;
    CHECK(std::abs(corner) < yaw);
    const cut::Face& face = test.cuts[0].kerf.left;
    double bend = 0.0;
    const cut::Vec2 a = face.front(), b = face.back();
    for (const cut::Vec2& p : face)
        bend = std::max(bend, std::abs(p.x - a.x - (p.y - a.y) * (b.x - a.x) / (b.y - a.y)));
    // Two legs of some 160 mm, each turned to its own side: a knee of 160*yaw if the sled turned about it. It turns
    // about the middle of its runners instead, and the blade's chord takes its share on the way; but the knee is there,
    // and not more than if the whole board of 320 mm had swung.
    CHECK(bend > 0.2 * 160.0 * yaw);
    CHECK(bend < 320.0 * yaw);
}

TEST_CASE("what sticks or stops before the board is through has a name") {
    const shop::Drawing d = pushed::saw(150.0);
    const shop::Truth t = loose(0.1, 0.1);
    // 150/(2*0.25) = 300 mm from the middle it jams, however hard the push.
    CHECK(pushed_test(d, t, hand(299.0, 1e6)).outcome == Outcome::done);
    CHECK(pushed_test(d, t, hand(301.0, 1e6)).outcome == Outcome::sled_sticks);
    CHECK(pushed_test(d, t, hand(0.0, d.feed.base_drag_n + d.feed.blade_drag_n - 1.0)).outcome == Outcome::sled_sticks);
    CHECK(pushed_test(d, t, hand(0.0, d.feed.base_drag_n + d.feed.blade_drag_n + 1.0)).outcome == Outcome::done);
    HandPass stops = hand(0.0);
    stops.stops_at_mm = -0.5 * shop::chord_mm(d.blade) - 1.0;
    CHECK(pushed_test(d, t, stops).outcome == Outcome::stops_short);
    stops.stops_at_mm = 0.5 * shop::chord_mm(d.blade) + 1.0;
    CHECK(pushed_test(d, t, stops).outcome == Outcome::done);
    stops.stops_at_mm = -1e6;
    CHECK(pushed_test(d, t, stops).outcome == Outcome::nothing_cut);
    shop::Truth tight = t;
    tight.left_play_mm = tight.right_play_mm = 0.0;
    tight.slot_splay_rad = 2e-3;
    CHECK(pushed_test(d, tight, hand(0.0)).outcome == Outcome::runners_bind);
}
