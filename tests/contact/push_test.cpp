// The sled pushed by hand: yaw in its play, push needed, jamming, against statics.
#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "contact/draws.h"
#include "contact/pushed.h"
#include "shop/truth.h"

using namespace offsquare;
using contact::HandPush;
using contact::PushedPass;
using contact::PushedPose;
using contact::Rub;
using contact::Stuck;
using contact::Way;
using pushed::loose;
using pushed::rubbing;
using pushed::saw;
using shop::Drawing;
using shop::Truth;

namespace {

HandPush hand(double x_mm, double force_n = std::numeric_limits<double>::infinity(), Way way = Way::push) {
    return {{{-1e9, x_mm}}, force_n, way};
}

PushedPass pass(const Drawing& d, const Truth& t, const HandPush& h, const Rub& rub) {
    return contact::push_sled(d, t, h, rub, -50.0, 50.0, 4);
}

/// Where the hand's place begins to jam, between one that goes and one that does not.
double threshold(const Drawing& d, const Truth& t, const Rub& rub, double goes, double jams, Way way = Way::push) {
    REQUIRE(pass(d, t, hand(goes, std::numeric_limits<double>::infinity(), way), rub).stuck == Stuck::no);
    REQUIRE(pass(d, t, hand(jams, std::numeric_limits<double>::infinity(), way), rub).stuck == Stuck::jams);
    for (int i = 0; i < 60; ++i) {
        const double x = 0.5 * (goes + jams);
        (pass(d, t, hand(x, std::numeric_limits<double>::infinity(), way), rub).stuck == Stuck::no ? goes : jams) = x;
    }
    return goes;
}

}  // namespace

TEST_CASE("an off-centre guide jams where the handbook says: mu 0.25, contacts 6 in apart, load at 12 in") {
    // Beer and Johnston, Statics, Sample Problem 4.13. Both runners alike loose: their contacts share, so the middle
    // line is the blade's line. Demanded: within 0.05 %.
    const Drawing d = saw(6.0 * 25.4);
    CHECK(threshold(d, loose(0.1, 0.1), rubbing(0.25), 0.0, 1000.0) == doctest::Approx(12.0 * 25.4).epsilon(1e-9));
    CHECK(threshold(d, loose(0.1, 0.1), rubbing(0.25), 0.0, -1000.0) == doctest::Approx(-12.0 * 25.4).epsilon(1e-9));
    CHECK(pass(d, loose(0.1, 0.1), hand(100.0), rubbing(0.25)).at_worst.critical_mm ==
          doctest::Approx(12.0 * 25.4).epsilon(1e-12));
}

TEST_CASE("the law L/(2 mu) from each runner's own line, mu 0.2 to 0.4, pushing and pulling") {
    // Two-point contact: a pure off-centre push jams at l/(2 mu) from the middle line of the contacts (Whitney 1982,
    // formula from memory). A runner that is much looser than the other never touches, so the middle line is the tight
    // runner's.
    for (const double mu : {0.2, 0.3, 0.4}) {
        for (const Way way : {Way::push, Way::pull_back}) {
            CAPTURE(mu);
            const Drawing d = saw(150.0);
            const double reach = 150.0 / (2.0 * mu);
            CHECK(threshold(d, loose(0.05, 1.5), rubbing(mu), 1.0, 1000.0, way) ==
                  doctest::Approx(d.slots.left_x_mm + reach).epsilon(1e-9));
            CHECK(threshold(d, loose(1.5, 0.05), rubbing(mu), -1.0, -1000.0, way) ==
                  doctest::Approx(d.slots.right_x_mm - reach).epsilon(1e-9));
            CHECK(threshold(d, loose(0.1, 0.1), rubbing(mu), 1.0, 1000.0, way) == doctest::Approx(reach).epsilon(1e-9));
        }
    }
}

TEST_CASE("jamming does not depend on the force: ten times all drag is still free, and still jammed") {
    Rub heavy = rubbing(0.3);
    heavy.base_n *= 10.0;
    heavy.blade_n *= 10.0;
    const Drawing d = saw(200.0);
    for (const double x : {20.0, 120.0, 250.0, 330.0, 340.0, 500.0}) {
        CAPTURE(x);
        const PushedPass one = pass(d, loose(0.1, 0.1), hand(x), rubbing(0.3));
        const PushedPass ten = pass(d, loose(0.1, 0.1), hand(x), heavy);
        CHECK(one.stuck == ten.stuck);
        CHECK((one.stuck == Stuck::jams) == (x > 200.0 / 0.6));
        CHECK(ten.push_needed_n == doctest::Approx(10.0 * one.push_needed_n).epsilon(1e-12));
    }
}

TEST_CASE("the yaw in the play is the exact one: L sin t + w cos t = w + c") {
    // Values of a rectangle turned in a strip, solved to double precision elsewhere (check-values.md). Demanded: 1e-7
    // rad.
    struct Known {
        double l, w, c, yaw;
    };
    for (const Known& k : {Known{600.0, 19.0, 0.1, 1.6666710725541517e-4}, Known{600.0, 19.0, 0.2, 3.3333509878e-4},
                           Known{450.0, 19.05, 0.05, 1.1111137266e-4}, Known{300.0, 19.0, 0.3, 1.00003183536e-3}}) {
        CAPTURE(k.l);
        Drawing d = saw(k.l);
        // w is the width of the runner itself.
        d.slots.width_mm = k.w + k.c;
        for (const double side : {1.0, -1.0}) {
            const PushedPass p = pass(d, loose(k.c, 2.0), hand(side * 30.0), rubbing(0.1));
            REQUIRE(p.path.size() == 5);
            for (const PushedPose& pose : p.path) CHECK(pose.yaw_rad == doctest::Approx(side * k.yaw).epsilon(1e-10));
        }
    }
}

TEST_CASE("the forces balance: three equations of statics, put up anew from the places of the contacts") {
    Draws draws(7);
    for (int i = 0; i < 500; ++i) {
        const double length = draws.between(100.0, 600.0);
        const double mu = draws.between(0.05, 0.5);
        const Drawing d = saw(length);
        Rub rub{mu, draws.between(1.0, 40.0), draws.between(-60.0, 60.0), draws.between(0.0, 40.0)};
        const double x = draws.between(-200.0, 200.0);
        const bool left_tight = draws.coin();
        const Truth t = left_tight ? loose(0.1, 1.5) : loose(1.5, 0.1);
        const PushedPass p = pass(d, t, hand(x), rub);
        if (p.stuck != Stuck::no) continue;
        const PushedPose& pose = p.path[2];  // at the blade: it cuts
        const double at = left_tight ? d.slots.left_x_mm : d.slots.right_x_mm;
        const double half = 0.5 * (d.slots.width_mm - 0.1);
        const double turn = pose.yaw_rad > 0.0 ? 1.0 : -1.0;
        const double n = pose.wall_n;
        // Across: the walls press with the same force. Along: push against base, blade and both walls' friction.
        CHECK(pose.push_n == doctest::Approx(rub.base_n + rub.blade_n + 2.0 * mu * n).epsilon(1e-12));
        // Turning, about the blade's centre line, the left walls in front when turned counter-clockwise: x*Fy - y*Fx of
        // every force.
        const double walls = -turn * 0.5 * length * n + (-turn * 0.5 * length) * n;
        const double friction = -(at - half) * mu * n - (at + half) * mu * n;
        const double all = x * pose.push_n - rub.base_x_mm * rub.base_n + walls + friction;
        CHECK(all == doctest::Approx(0.0).epsilon(1.0).scale(1e-9 * pose.push_n * 300.0));
    }
}

TEST_CASE("a hand that gives no more than F stalls at (1 - D/F) L/(2 mu)") {
    const Rub rub = rubbing(0.35);
    const double drag = rub.base_n + rub.blade_n;
    const Drawing d = saw(180.0);
    for (const double force : {40.0, 60.0, 120.0}) {
        const double e = (1.0 - drag / force) * 180.0 / 0.7;
        CHECK(pass(d, loose(0.1, 0.1), hand(e - 1e-6, force), rub).stuck == Stuck::no);
        const PushedPass p = pass(d, loose(0.1, 0.1), hand(e + 1e-6, force), rub);
        CHECK(p.stuck == Stuck::too_weak);
        CHECK(pass(d, loose(0.1, 0.1), hand(-e - 1e-6, force), rub).stuck == Stuck::too_weak);
    }
}

TEST_CASE("slots that splay stop the sled where their play is used up") {
    // Across the slots the two runners keep their distance, whatever the sled's place and yaw; slots whose distance
    // changes by tan(splay) for each mm take it up at the front of the runners.
    Drawing d = saw(300.0);
    Truth t = loose(0.12, 0.18);
    t.slot_splay_rad = 6e-4;
    const double front = 0.5 * d.sled.depth_mm - d.sled.fence_from_rear_mm + 150.0;
    const PushedPass p = contact::push_sled(d, t, hand(0.0), rubbing(0.2), -200.0, 200.0, 40);
    REQUIRE(p.stuck == Stuck::does_not_fit);
    // The slots' own width across x grows by splay^2/2 of itself, the yaw's cosine takes as little: 4e-6 mm by 6e-4 is
    // 0.006 mm of travel.
    CHECK(p.stuck_at_mm == doctest::Approx(0.15 / std::tan(6e-4) - front).epsilon(1e-3));
    CHECK(p.path.size() >= 5);
}

TEST_CASE(
    "a hand on the line of the drag turns nothing: the sled lies midway until another hand has turned it, and then "
    "stays as it was") {
    const Drawing d = saw(300.0);
    const Truth t = loose(0.1, 0.2);
    for (const PushedPose& p : pass(d, t, hand(0.0), rubbing(0.25)).path) {
        CHECK(std::abs(p.yaw_rad) < 1e-12);
        CHECK(std::abs(p.x_mm) < 1e-12);  // even slots: the middle of the play is the blade's line
        CHECK(p.wall_n == 0.0);
    }
    HandPush later = hand(60.0);
    later.grips.push_back({0.0, 0.0});
    const PushedPass turned = pass(d, t, later, rubbing(0.25));
    REQUIRE(turned.path.size() == 5);
    CHECK(turned.path.front().yaw_rad > 1e-4);
    CHECK(turned.path.back().yaw_rad == doctest::Approx(turned.path.front().yaw_rad).epsilon(1e-9));
    CHECK(turned.path.back().wall_n == 0.0);
}

TEST_CASE("a hand that changes sides knocks the sled over to the other yaw, there and nowhere else") {
    const Drawing d = saw(400.0);
    HandPush h{{{-1e9, 120.0}, {10.0, -80.0}}, 1e9, Way::push};
    const PushedPass p = contact::push_sled(d, loose(0.2, 0.2), h, rubbing(0.2), -100.0, 100.0, 40);
    REQUIRE(p.stuck == Stuck::no);
    for (const PushedPose& pose : p.path) CHECK((pose.yaw_rad > 0.0) == (pose.s_mm < 10.0));
}

TEST_CASE("seen in a mirror the motion is mirrored, and pulling back runs the way backwards") {
    Draws draws(3);
    for (int i = 0; i < 40; ++i) {
        Drawing d = saw(draws.between(150.0, 500.0));
        Truth t = loose(draws.between(0.05, 0.4), draws.between(0.05, 0.4));
        t.left_slot_profile = draws.wavy(-1000.0, 1000.0, 0.02);
        Drawing m = d;
        m.slots.left_x_mm = -d.slots.right_x_mm;
        m.slots.right_x_mm = -d.slots.left_x_mm;
        Truth u = loose(t.right_play_mm, t.left_play_mm);
        base::Profile::Points other(t.left_slot_profile.points());
        for (base::Vec2& q : other) q.y = -q.y;
        u.right_slot_profile = base::Profile(other);
        const double x = draws.between(-150.0, 150.0);
        const Rub rub = rubbing(0.25);
        const PushedPass a = pass(d, t, hand(x), rub);
        const PushedPass b = pass(m, u, hand(-x), rub);
        REQUIRE(a.stuck == b.stuck);
        REQUIRE(a.path.size() == b.path.size());
        for (std::size_t k = 0; k < a.path.size(); ++k) {
            CHECK(a.path[k].yaw_rad == doctest::Approx(-b.path[k].yaw_rad).epsilon(1e-9));
            CHECK(a.path[k].x_mm == doctest::Approx(-b.path[k].x_mm).epsilon(1e-7));
            CHECK(a.path[k].push_n == doctest::Approx(b.path[k].push_n).epsilon(1e-9));
        }
        const PushedPass back = pass(d, t, hand(x, 1e9, Way::pull_back), rub);
        if (back.stuck == Stuck::no) {
            CHECK(back.path.front().s_mm == 50.0);
            CHECK(back.path.back().s_mm == -50.0);
        }
    }
}

TEST_CASE("a runner that leaves the slot is guided on less length: the yaw grows as its play over what is left") {
    Drawing d;  // the usual table, 560 mm deep
    const Truth t = loose(0.1, 1.5);
    const double middle = 0.5 * d.sled.depth_mm - d.sled.fence_from_rear_mm;
    const PushedPass p = contact::push_sled(d, t, hand(60.0), rubbing(0.1), -480.0, 0.0, 48);
    REQUIRE(p.stuck == Stuck::no);
    for (const PushedPose& pose : p.path) {
        const double rear = std::max(middle - 210.0, -280.0 - pose.s_mm);
        const double front = std::min(middle + 210.0, 280.0 - pose.s_mm);
        const double length = front - rear;
        // First order: play over length; w*yaw^2/2 over the play is 1e-3 of it at the shortest.
        CHECK(pose.yaw_rad == doctest::Approx(0.1 / length).epsilon(2e-3).scale(0));
        CHECK(pose.critical_mm == doctest::Approx(length / 0.2).epsilon(1e-9));
    }
    CHECK(p.path.front().yaw_rad > 1.5 * p.path.back().yaw_rad);
}

TEST_CASE("the blade drags while it cuts: pushed with wood over it, and not pulled back through its kerf") {
    // A hand on the line of the drag presses no wall, so that the push is the drag alone: 15 N of the base, and 20 N of
    // the blade where the board of 320 mm lies over the chord from -106.77 to 106.77 mm.
    const Drawing d = saw(150.0);
    const Rub rub{0.25, 15.0, 0.0, 20.0};
    const auto drag_at = [&](double s, Way way) {
        return contact::push_sled(d, loose(0.1, 0.1), hand(0.0, 1e9, way), rub, s, s + 1.0, 1).path.front().push_n;
    };
    for (const double s : {-400.0, 0.0, 105.0}) CHECK(drag_at(s, Way::push) == 35.0);
    for (const double s : {-440.0, 108.0}) CHECK(drag_at(s, Way::push) == 15.0);
    for (const double s : {-440.0, -400.0, 0.0, 105.0, 108.0}) CHECK(drag_at(s, Way::pull_back) == 15.0);
}
