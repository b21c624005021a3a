// Guides to first order held to travel() over random saws, to closed forms, to a search by brute force, and to the
// mirror.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "contact/bowed_guides.h"
#include "contact/draws.h"
#include "contact/glide.h"
#include "repeats.h"
#include "shop/truth.h"

using namespace offsquare;
using contact::BowedGuides, contact::Glide, contact::Gliding, contact::LineRoom, contact::Push;

namespace {

constexpr double from_mm = -460.0;
constexpr double to_mm = 130.0;

/// Guides as bad as a bad saw's, and runners that may hardly fit.
shop::Truth bowed(Draws& r) {
    shop::Truth t;
    t.left_play_mm = r.between(0.0, 0.3);
    t.right_play_mm = r.between(0.0, 0.3);
    t.pitch_error_mm = r.between(-0.1, 0.1);
    t.slot_splay_rad = r.coin() ? r.between(-3e-4, 3e-4) : 0.0;
    t.slot_wander_mm = r.coin() ? r.between(-0.1, 0.1) : 0.0;
    t.runner_bend_mm = r.coin() ? r.between(-0.1, 0.1) : 0.0;
    return t;
}

Push pressed(Draws& r) { return {r.sign(), r.coin() ? r.between(-80.0, 80.0) : 0.0}; }

/// The least x - t*y has to be, and the most, over 161 places of both slots; whether a line of this slope fits.
struct Brute {
    double lo = -1e9;
    double hi = 1e9;
};
Brute brute(const contact::Offsets& o, const shop::Truth& t, double slope) {
    Brute b;
    for (int i = 0; i <= 160; ++i) {
        const double y = o.h * (i / 80.0 - 1.0);
        b.lo = std::max(
            {b.lo, o.left.at(y) - 0.5 * t.left_play_mm - slope * y, o.right.at(y) - 0.5 * t.right_play_mm - slope * y});
        b.hi = std::min(
            {b.hi, o.left.at(y) + 0.5 * t.left_play_mm - slope * y, o.right.at(y) + 0.5 * t.right_play_mm - slope * y});
    }
    return b;
}

}  // namespace

TEST_CASE("the travel to first order is that of the sled on its runners, but for what a broken line is off a bow") {
    Draws r(3101);
    const shop::Drawing d;
    int goes = 0;
    int binds = 0;
    int otherwise = 0;
    for (int n = 0; n < repeats::of(1500, 100); ++n) {
        CAPTURE(n);
        const shop::Truth t = bowed(r);
        const Push push = pressed(r);
        Glide glide;
        const Gliding gliding = contact::glide(d, t, push, from_mm, to_mm, glide);
        REQUIRE(gliding != Gliding::ask);
        const auto travel = contact::travel(d, t, push, from_mm, to_mm);
        ++(gliding == Gliding::goes ? goes : binds);
        // A bow of 33 points lies inside of the parabola by up to its height/32^2: 0.2 um of 0.2 mm, that it may cost
        // or give. Only saws nearer than that to where they bind may be told otherwise.
        if (travel.has_value() != (gliding == Gliding::goes)) {
            ++otherwise;
            continue;
        }
        if (!travel) continue;
        // Between two points a bow is as steep as its chord, off by up to half their distance times its curve; what the
        // sled is turned by moves its x at the origin, which lies within 200 mm of the runners' middle.
        const double half_table = 0.5 * d.table.depth_mm;
        const double half_runner = 0.5 * d.sled.runner_length_mm;
        const double steps = 2.0 * std::abs(t.slot_wander_mm) / (16.0 * half_table) +
                             2.0 * std::abs(t.runner_bend_mm) / (16.0 * half_runner);
        // What is of second order: the yaw's square times the runners' distance from the blade, and half of the play.
        const double second = 1e-6;
        const std::size_t last = travel->poses.size() - 1;
        for (std::size_t i = 0; i < Glide::places; ++i) {
            const contact::SledPose& pose = travel->poses[travel->constant ? std::min(i, last) : i];
            CHECK(std::abs(glide.yaw_rad[i] - pose.yaw_rad) <= steps + second);
            CHECK(std::abs(glide.x_mm[i] - pose.x_mm) <= 200.0 * steps + 0.001);
        }
    }
    CHECK(goes > repeats::of(500, 30));
    CHECK(binds > repeats::of(100, 5));
    CHECK(otherwise <= repeats::of(3, 1));
}

TEST_CASE("loose straight runners stand against the nearer wall, square") {
    shop::Truth t;
    t.left_play_mm = 0.2;
    t.right_play_mm = 0.3;
    t.pitch_error_mm = 0.06;
    // Square, the left runner stands 0.03 mm to the left of its slot's middle, and reaches the wall after 0.1 + 0.03
    // mm; the right one after 0.15 - 0.03 mm.
    Glide glide;
    REQUIRE(contact::glide({}, t, {1.0, 0.0}, from_mm, to_mm, glide) == Gliding::goes);
    for (std::size_t i = 0; i < Glide::places; ++i) {
        CHECK(glide.x_mm[i] == doctest::Approx(0.12).epsilon(1e-12));
        CHECK(std::abs(glide.yaw_rad[i]) < 1e-15);
    }
}

TEST_CASE("slots that splay turn a sled that is pressed into the closing one") {
    shop::Truth t;
    t.left_play_mm = 10.0;  // the left runner touches nothing
    t.right_play_mm = 0.2;
    t.slot_splay_rad = 4e-4;
    Glide glide;
    REQUIRE(contact::glide({}, t, {1.0, 0.0}, from_mm, to_mm, glide) == Gliding::goes);
    // Along the right slot's wall, which goes to the left: the sled is turned as the slot is.
    for (std::size_t i = 0; i < Glide::places; ++i) CHECK(glide.yaw_rad[i] == doctest::Approx(4e-4).epsilon(1e-9));
}

TEST_CASE("a saw in the mirror, pushed to the other side, goes as in the mirror") {
    Draws r(3102);
    for (int n = 0; n < repeats::of(300, 50); ++n) {
        shop::Truth t = bowed(r);
        // Both runners alike: the bow is on the left ones only, which the mirror makes the right ones.
        t.slot_wander_mm = t.runner_bend_mm = t.slot_splay_rad = 0.0;
        shop::Truth other = t;
        std::swap(other.left_play_mm, other.right_play_mm);
        const Push push = pressed(r);
        Glide here;
        Glide there;
        const Gliding gliding = contact::glide({}, t, push, from_mm, to_mm, here);
        REQUIRE(contact::glide({}, other, {-push.side, -push.moment_mm}, from_mm, to_mm, there) == gliding);
        if (gliding != Gliding::goes) continue;
        for (std::size_t i = 0; i < Glide::places; ++i) {
            CHECK(there.x_mm[i] == doctest::Approx(-here.x_mm[i]).epsilon(1e-12));
            CHECK(std::abs(there.yaw_rad[i] + here.yaw_rad[i]) < 1e-14);
        }
    }
}

TEST_CASE("what it leaves to travel(): a hand that presses to no side or beyond the runners, a face with a profile") {
    Draws r(3103);
    const shop::Drawing d;
    shop::Truth t;
    t.left_play_mm = t.right_play_mm = 0.1;
    Glide glide;
    CHECK(contact::glide(d, t, {0.0, 0.0}, from_mm, to_mm, glide) == Gliding::ask);
    CHECK(contact::glide(d, t, {1.0, d.sled.runner_length_mm}, from_mm, to_mm, glide) == Gliding::ask);
    CHECK(contact::glide(d, t, {1.0, 0.0}, from_mm, to_mm, glide) == Gliding::goes);
    t.right_slot_profile = r.wavy(-280, 280, 0.01);
    CHECK(contact::glide(d, t, {1.0, 0.0}, from_mm, to_mm, glide) == Gliding::ask);
}

TEST_CASE("room between bowed walls is what a search over lines of every slope finds") {
    Draws r(3104);
    const shop::Drawing d;
    int open = 0;
    int levered = 0;
    for (int n = 0; n < repeats::of(200, 20); ++n) {
        CAPTURE(n);
        const shop::Truth t = bowed(r);
        const BowedGuides guides(d, t, 1.0);
        const auto o = guides.at(r.between(-300.0, 0.0));
        REQUIRE(o);
        const LineRoom room(*o, t.left_play_mm, t.right_play_mm);
        // Slopes in steps that move an end by a micrometre; the wall between two of 161 places is off by less than
        // (h/80)^2/4 of its curve, some 0.01 um.
        const double step = 1e-3 / o->h;
        double front_lo = 1e9, front_hi = -1e9, rear_lo = 1e9, rear_hi = -1e9, most = -1e9;
        const double at = r.between(-0.9, 0.9) * o->h;
        double pressed_to = -1e9;
        const double widest = (t.left_play_mm + t.right_play_mm + 0.5) / o->h;
        for (double slope = -widest; slope <= widest; slope += step) {
            const Brute b = brute(*o, t, slope);
            most = std::max(most, b.hi - b.lo);
            if (b.hi < b.lo) continue;
            front_lo = std::min(front_lo, b.lo + slope * o->h);
            front_hi = std::max(front_hi, b.hi + slope * o->h);
            rear_lo = std::min(rear_lo, b.lo - slope * o->h);
            rear_hi = std::max(rear_hi, b.hi - slope * o->h);
            pressed_to = std::max(pressed_to, b.hi + slope * at);
        }
        constexpr double found_mm = 3e-3;  // some steps
        if (std::abs(most) > found_mm) CHECK(room.open() == (most > 0.0));
        if (most < found_mm) continue;
        ++open;
        CHECK(std::abs(room.at_front() - (front_hi - front_lo)) < found_mm);
        CHECK(std::abs(room.at_rear() - (rear_hi - rear_lo)) < found_mm);
        const contact::Line line = room.pressed_right(at, 0.0);
        CHECK(std::abs(line.at(at) - pressed_to) < found_mm);
        const Brute where = brute(*o, t, line.slope);
        CHECK(line.at_0 <= where.hi + 1e-4);
        CHECK(line.at_0 >= where.lo - 1e-4);
        levered += where.hi - where.lo < 1e-3 ? 1 : 0;
    }
    CHECK(open > repeats::of(75, 7));
    CHECK(levered > 0);  // held from both sides at once
}
