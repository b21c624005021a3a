// What anyone sees move or reads off an instrument that is held there: the true thing, for nothing.
#include "session/watch.h"

#include <doctest/doctest.h>

#include "repeats.h"

#include "both_sides.h"
#include "same_seen.h"
#include "session/random_saws.h"

using namespace offsquare;
using same_seen::text;
using session::History;

namespace {

using Random = random_saws::Random;

/// Saws drawn from the prior, on the built-in drawing.
std::vector<scenario::Scenario> saws(int count) {
    Random random(20261128);
    std::vector<scenario::Scenario> out;
    for (int i = 0; i < count; ++i) {
        scenario::Scenario s = scenario::built_in();
        s.truth = random_saws::saw_that_goes(s.drawing, random).truth;
        out.push_back(s);
    }
    return out;
}

std::vector<measure::Check> checks(bool cutting) {
    std::vector<measure::Check> out;
    for (const measure::CheckInfo& c : measure::checks())
        if ((c.stock_mm > 0.0) == cutting) out.push_back(c.check);
    return out;
}

/// Every place of a check, one after the other; the first refusal ends it.
base::Result<std::vector<measure::CheckReading>> watch_all(const History& history, measure::Check check) {
    std::vector<measure::CheckReading> shown;
    for (std::size_t i = 0; i < measure::info(check).readings.size(); ++i) {
        auto one = session::watch(history, check, i);
        if (!one) return tl::unexpected(one.error());
        shown.push_back(*std::move(one));
    }
    return shown;
}

History real(const scenario::Scenario& s) { return History(s, 77); }

}  // namespace

TEST_CASE("what is watched is the exact reading of that check, for every check that cuts nothing") {
    for (const scenario::Scenario& s : saws(5)) {
        const History watched = real(s);
        for (const measure::Check check : checks(false)) {
            CAPTURE(measure::info(check).name);
            // The other road: the check made in a session that is read exactly.
            History made(s, 5, measure::Precision::exact);
            REQUIRE(made.act(session::MakeCheck{check}).has_value());
            const auto shown = watch_all(watched, check);
            REQUIRE(shown.has_value());
            CHECK(same_seen::text_of_all(*shown) == same_seen::text_of_all(made.seen().checks.back().report.readings));
            CHECK(shown->size() == measure::info(check).readings.size());
        }
    }
    CHECK(checks(false).size() >= 15);
}

TEST_CASE(
    "it is watched as the saw stands now: with its shims as thick as they are, as it was clamped, after repairs") {
    scenario::Scenario s = scenario::built_in();
    s.truth->clamp_creep_rad = 0.002;
    s.truth->blade_toe_rad = 0.004;
    History history = real(s);
    REQUIRE(history.act(session::PutShim{shim::At::left, 2}).has_value());
    REQUIRE(history.act(session::CutTest{}).has_value());  // clamps the fence, and it creeps
    REQUIRE(history.act(session::Repair{shop::Fault::blade_toe}).has_value());
    const session::Saw& saw = session::saw_of(history);
    REQUIRE(saw.crept_rad != 0.0);
    REQUIRE(saw.behind_left.front().true_mm != saw.behind_left.front().picked.thickness_mm);
    shop::Truth now = saw.truth();
    now.fence_skew_rad += saw.crept_rad;
    CHECK(now.blade_toe_rad != 0.004);
    const contact::Shims shims{saw.behind_left.front().true_mm, 0.0};
    for (const measure::Check check : checks(false)) {
        CAPTURE(measure::info(check).name);
        const auto by_hand =
            measure::run_check(check, {s.drawing, now, shims, shims, 1}, 3, 9, measure::Precision::exact);
        const auto shown = watch_all(history, check);
        REQUIRE(by_hand.has_value());
        REQUIRE(shown.has_value());
        CHECK(same_seen::text_of_all(*shown) == same_seen::text_of_all(by_hand->readings));
    }
}

TEST_CASE("watching costs nothing: nothing is written down, and the next reading is what it would have been") {
    const scenario::Scenario s = saws(1).front();
    for (const measure::Check check : checks(false)) {
        CAPTURE(measure::info(check).name);
        History watched = real(s);
        History plain = real(s);
        const std::string before = text(watched.seen());
        for (const measure::Check c : checks(false)) REQUIRE(watch_all(watched, c).has_value());
        CHECK(text(watched.seen()) == before);
        CHECK(watched.record().empty());
        REQUIRE(watched.act(session::MakeCheck{check}).has_value());
        REQUIRE(plain.act(session::MakeCheck{check}).has_value());
        CHECK(text(watched.seen()) == text(plain.seen()));
        CHECK(watched.seen().minutes > 0.0);
    }
}

TEST_CASE("what cuts a board shows nothing until it is made, and a sled that binds shows nothing of its travel") {
    const History history = real(scenario::built_in());
    for (const measure::Check check : checks(true)) {
        const auto shown = watch_all(history, check);
        REQUIRE_FALSE(shown.has_value());
        CHECK(shown.error().grade == base::Grade::usage);
        CHECK(shown.error().message.find(measure::info(check).title) != std::string::npos);
        CHECK(shown.error().message.find("until it is made") != std::string::npos);
    }
    CHECK(checks(true).size() >= 5);
    scenario::Scenario tight = scenario::built_in();
    tight.truth->pitch_error_mm = 3.0;
    const auto shown = watch_all(real(tight), measure::Check::wiggle);
    REQUIRE_FALSE(shown.has_value());
    CHECK(shown.error().grade == base::Grade::usage);
}

TEST_CASE("a place that a check does not have shows nothing") {
    const History history = real(scenario::built_in());
    for (const measure::Check check : checks(false)) {
        const std::size_t places = measure::info(check).readings.size();
        CHECK(session::watch(history, check, places - 1).has_value());
        const auto shown = session::watch(history, check, places);
        REQUIRE_FALSE(shown.has_value());
        CHECK(shown.error().grade == base::Grade::usage);
        CHECK(shown.error().message.find(measure::info(check).title) != std::string::npos);
    }
}

TEST_CASE("the sled under a hand is the live sled of that saw, to the bit, and statics says the same of it") {
    for (scenario::Scenario s : saws(3)) {
        History history = real(s);
        REQUIRE(history.act(session::Repair{shop::Fault::left_play}).has_value());
        const shop::Truth& truth = both_sides::truth_of(history);
        const shop::Drawing& d = s.drawing;
        const double from = contact::usual_pass(d).from_mm;
        session::WatchedSled watched(history, from);
        contact::LiveSled by_hand(d, truth, contact::rub_of(d.feed), from);
        CHECK(watched.play().left_mm == truth.left_play_mm);
        CHECK(watched.play().right_mm == truth.right_play_mm);
        CHECK(watched.state() == by_hand.state());
        const std::vector<contact::LiveHand> hands{
            {true, 90.0, 120.0, 80.0}, {true, -40.0, 60.0, 200.0}, {false, 0.0, 0.0, 0.0}, {true, 10.0, -80.0, 50.0}};
        for (const contact::LiveHand& hand : hands) {
            CHECK(watched.advance(0.2, hand) == by_hand.advance(0.2, hand));
            CHECK(watched.state() == by_hand.state());
            const session::PushNow now = watched.under(70.0, 90.0);
            const session::PushNow by_statics = session::push_now(d, truth, by_hand.state().pose.s_mm, 70.0, 90.0);
            CHECK(now.stuck == by_statics.stuck);
            CHECK(now.pose.x_mm == by_statics.pose.x_mm);
            CHECK(now.pose.yaw_rad == by_statics.pose.yaw_rad);
            CHECK(now.pose.push_n == by_statics.pose.push_n);
        }
        CHECK(watched.state().pose.s_mm > from + 1.0);
    }
}

TEST_CASE("a whole pass that is watched is the pass of that saw, by statics and live" *
          doctest::skip(repeats::sanitized)) {
    const scenario::Scenario s = saws(1).front();
    const contact::HandPush hand{{{-1e6, 60.0}}, 150.0, contact::Way::push};
    const contact::Rub rub = contact::rub_of(s.drawing.feed);
    const contact::PushRange range = contact::usual_pass(s.drawing);
    const auto watched = session::watch_push(s, hand, rub, range);
    const auto pass = contact::push_sled(s.drawing, *s.truth, hand, rub, range.from_mm, range.to_mm);
    CHECK(watched.stuck == pass.stuck);
    REQUIRE(watched.path.size() == pass.path.size());
    REQUIRE(watched.path.size() > 10);
    for (std::size_t i = 0; i < pass.path.size(); ++i) {
        CHECK(watched.path[i].x_mm == pass.path[i].x_mm);
        CHECK(watched.path[i].yaw_rad == pass.path[i].yaw_rad);
        CHECK(watched.path[i].push_n == pass.path[i].push_n);
    }
    const auto live = session::watch_live_push(s, hand, rub, range);
    const auto by_hand = contact::live_pass(s.drawing, *s.truth, hand, rub, range.from_mm, range.to_mm);
    CHECK(live.bound == by_hand.bound);
    REQUIRE(live.path.size() == by_hand.path.size());
    REQUIRE(live.path.size() > 10);
    for (std::size_t i = 0; i < live.path.size(); ++i) {
        CHECK(live.path[i].x_mm == by_hand.path[i].x_mm);
        CHECK(live.path[i].yaw_rad == by_hand.path[i].yaw_rad);
    }
}
