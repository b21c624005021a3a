// What is kept of a push on the live sled: enough for statics to take it up again, and nothing that the live sled
// reckoned.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "contact/live.h"
#include "contact/live_pass.h"
#include "session/action.h"
#include "session/push_record.h"
#include "shop/truth.h"

using namespace offsquare;
using session::PushRecord;

namespace {

shop::Truth loose() {
    shop::Truth t;
    t.left_play_mm = t.right_play_mm = 0.12;
    return t;
}

}  // namespace

TEST_CASE("a record keeps where the hand was, from where on, and how far it came") {
    const shop::Drawing d;
    PushRecord r;
    CHECK(r.empty());
    r.see(-400.0, 80.0, 60.0, true);
    r.see(-350.0, 80.4, 70.0, true);  // trembling
    r.see(-300.0, -50.0, 60.0, true);
    r.see(-320.0, 0.0, 60.0, true);  // drawn back meanwhile: nothing new is cut
    r.see(-200.0, -50.0, 60.0, true);
    const cut::HandPass pass = r.pass(d);
    CHECK(pass.hand.force_n == 70.0);
    REQUIRE(pass.hand.grips.size() == 2);
    CHECK(contact::grip_at(pass.hand, -1e9) == 80.0);
    CHECK(pass.hand.grips[1] == contact::Grip{-350.0, -50.0});
    CHECK(pass.stops_at_mm == -200.0);
    CHECK_FALSE(r.is_through(d));
    r.see(contact::usual_pass(d).to_mm, -50.0, 60.0, true);
    CHECK(r.is_through(d));
    CHECK(std::isinf(r.pass(d).stops_at_mm));
}

TEST_CASE("where statics sticks nothing is kept until a hand comes that moves the sled") {
    const shop::Drawing d;
    PushRecord r;
    r.see(-400.0, 240.0, 40.0, false);
    CHECK(r.empty());
    r.see(-390.0, 60.0, 40.0, true);
    r.see(-300.0, 240.0, 40.0, false);
    r.see(-280.0, 20.0, 40.0, true);
    const cut::HandPass pass = r.pass(d);
    REQUIRE(pass.hand.grips.size() == 2);
    CHECK(pass.hand.grips[0].x_mm == 60.0);
    CHECK(pass.hand.grips[1] == contact::Grip{-390.0, 20.0});
}

TEST_CASE("a hand that moves at random keeps a list that a session takes") {
    const shop::Drawing d;
    const contact::PushRange range = contact::usual_pass(d);
    PushRecord r;
    for (int i = 0; i <= 20000; ++i)
        r.see(range.from_mm + (range.to_mm - range.from_mm) * i / 20000.0, i % 2 == 0 ? -90.0 : 90.0, 300.0, true);
    CHECK(r.is_through(d));
    CHECK(r.pass(d).hand.grips.size() > 100);
    CHECK(session::trouble_with(r.pass(d)).empty());
}

TEST_CASE(
    "a push on the live sled, taken up by statics, goes the same way: within the declared resolution away from flips") {
    const shop::Drawing d;
    const shop::Truth t = loose();
    const contact::PushRange range = contact::usual_pass(d);
    contact::LiveSled sled(d, t, contact::rub_of(d.feed), range.from_mm);
    PushRecord r;
    struct Seen {
        double s, yaw;
    };
    std::vector<Seen> seen;
    for (int i = 0; i < 40000 && !r.is_through(d); ++i) {
        const double s = sled.state().pose.s_mm;
        const contact::LiveHand hand{true, s < -150.0 ? 90.0 : -70.0, 60.0, 120.0};
        sled.step(hand, 10);
        r.see(sled.state().pose.s_mm, hand.x_mm, hand.force_n,
              session::push_now(d, t, s, hand.x_mm, hand.force_n).stuck == contact::Stuck::no);
        seen.push_back({sled.state().pose.s_mm, sled.state().pose.yaw_rad});
    }
    REQUIRE(r.is_through(d));
    const contact::PushedPass again =
        contact::push_sled(d, t, r.pass(d).hand, contact::rub_of(d.feed), range.from_mm, range.to_mm, 4096);
    REQUIRE(again.stuck == contact::Stuck::no);
    int compared = 0;
    for (const Seen& live : seen) {
        const bool near_a_flip =
            live.s < range.from_mm + contact::settling_mm || std::abs(live.s + 150.0) < contact::settling_mm;
        if (near_a_flip || live.s >= range.to_mm) continue;
        const auto after = std::lower_bound(again.path.begin(), again.path.end(), live.s,
                                            [](const contact::PushedPose& p, double s) { return p.s_mm < s; });
        if (after == again.path.begin() || after == again.path.end()) continue;
        const contact::PushedPose& before = *std::prev(after);
        const double part = (live.s - before.s_mm) / (after->s_mm - before.s_mm);
        // Between two of 4,096 steps of 0.15 mm the yaw runs straight to a thousandth of that.
        CHECK(std::abs(before.yaw_rad + part * (after->yaw_rad - before.yaw_rad) - live.yaw) < contact::live_yaw_rad);
        ++compared;
    }
    CHECK(compared > 1000);
}
