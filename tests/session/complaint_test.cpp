// What became of what the owner of a case says.
#include <doctest/doctest.h>

#include "session/complaint.h"
#include "session/hand_words.h"
#include "session/job.h"

using namespace offsquare;
using job::has;
using scenario::Concern;
using session::Became;

namespace {

scenario::Scenario case_about(Concern concern, double skew_rad = 0.0) {
    scenario::Scenario s = job::saw_with(skew_rad);
    s.complaint = "Something is wrong.";
    s.speaks_of = concern;
    return s;
}

/// Tests until it passes, four at most.
session::History proved(const scenario::Scenario& s, const job::Actions& before = {}) {
    session::History h(s);
    for (const session::Action& a : before) REQUIRE(h.act(a));
    for (int i = 0; i < 4 && !h.seen().proved; ++i) REQUIRE(h.act(session::proof_intention()));
    REQUIRE(h.seen().proved);
    return h;
}

}  // namespace

TEST_CASE("a corner that was asked about is answered by the test; a repair is named only where one was made") {
    const session::History as_found = proved(case_about(Concern::corner));
    CHECK(session::complaint_of(as_found.seen(), false) == Became::answered);
    CHECK(has(session::complaint_words(as_found.seen(), false),
              "square as it was found, and nothing had to be put right"));
    const session::History mended =
        proved(case_about(Concern::corner, 2e-3), {session::Repair{shop::Fault::fence_skew}});
    CHECK(has(session::complaint_words(mended.seen(), false), "square now"));
    CHECK_FALSE(has(session::complaint_words(mended.seen(), false), "as it was found"));
}

TEST_CASE("nothing became of it before a test passes, nor where there is no case") {
    for (const Concern concern : {Concern::corner, Concern::face, Concern::slide, Concern::change})
        CHECK(session::complaint_words(session::History(case_about(concern)).seen(), false).empty());
    scenario::Scenario none = case_about(Concern::corner);
    none.complaint.clear();
    CHECK(session::complaint_words(proved(none).seen(), false).empty());
}

TEST_CASE("a marked face: what marks it was put right, or it did not show") {
    const session::History as_found = proved(case_about(Concern::face));
    CHECK(has(session::complaint_words(as_found.seen(), false), "did not show here"));
    const session::History mended = proved(case_about(Concern::face), {session::Repair{shop::Fault::blade_toe}});
    CHECK(session::complaint_of(mended.seen(), false) == Became::mended);
    CHECK(has(session::complaint_words(mended.seen(), false), "\"blade not parallel\" was put right"));
}

TEST_CASE("how a sled goes is not told by a corner: it stays open until a hand was on it, or what stuck goes") {
    const session::History square = proved(case_about(Concern::slide));
    CHECK(session::complaint_of(square.seen(), false) == Became::open);
    CHECK(session::complaint_of(square.seen(), true) == Became::felt);

    scenario::Scenario sticks = case_about(Concern::slide);
    sticks.truth->slot_splay_rad = 2e-3;
    session::History h(sticks);
    CHECK(session::to_be_pushed_first(h.seen()));
    REQUIRE(h.act(session::MakeCheck{measure::Check::push_through}));
    REQUIRE(session::jams(h.seen()));
    CHECK_FALSE(session::to_be_pushed_first(h.seen()));
    REQUIRE(h.act(session::Repair{shop::Fault::slot_splay}));
    CHECK(session::to_be_pushed_first(h.seen()));  // a guide was worked on: not a cut before it goes
    CHECK(session::next_in_hunt(h.seen(), nullptr).check == measure::Check::push_through);
    REQUIRE(h.act(session::MakeCheck{measure::Check::push_through}));
    REQUIRE_FALSE(session::jams(h.seen()));
    for (int i = 0; i < 4 && !h.seen().proved; ++i) REQUIRE(h.act(session::proof_intention()));
    CHECK(session::complaint_of(h.seen(), false) == Became::mended);
}

TEST_CASE(
    "that it does not stay so is not told by one test: the fence is watched, or what comes and goes is put right") {
    const session::History square = proved(case_about(Concern::change));
    CHECK(session::complaint_of(square.seen(), false) == Became::open);
    session::History watched = proved(case_about(Concern::change));
    REQUIRE(watched.act(session::MakeCheck{measure::Check::clamp_watch}));
    CHECK(session::complaint_of(watched.seen(), false) == Became::answered);
    const session::History mended = proved(case_about(Concern::change), {session::Repair{shop::Fault::clamp_creep}});
    CHECK(session::complaint_of(mended.seen(), false) == Became::mended);
    CHECK(has(session::complaint_words(mended.seen(), false), "\"fence creeping when clamped\" was put right"));
}

TEST_CASE("the first step follows what the owner says, and a saw that is no case begins with a test") {
    using measure::Check;
    const auto first = [](const scenario::Scenario& s) {
        return session::next_in_hunt(session::History(s).seen(), nullptr).check;
    };
    CHECK(first(case_about(Concern::slide)) == Check::push_through);
    CHECK(first(case_about(Concern::corner)) == Check::five_cut);
    CHECK(first(case_about(Concern::face)) == Check::five_cut);
    scenario::Scenario none = case_about(Concern::slide);
    none.complaint.clear();
    CHECK(first(none) == Check::five_cut);
    // Once it goes, the test.
    session::History h(case_about(Concern::slide));
    REQUIRE(h.act(session::MakeCheck{Check::push_through}));
    CHECK(session::next_in_hunt(h.seen(), nullptr).check == Check::five_cut);
}

TEST_CASE("a proof lets be what it measures, and not what it cannot see") {
    session::Findings findings;
    for (std::size_t i = 0; i < shop::fault_count; ++i) {
        diagnose::Belief& b = findings.diagnosis.beliefs[i];
        b.fault = static_cast<shop::Fault>(i);
        b.touched = true;
        b.probability = 0.01;
        b.before = 0.3;
    }
    const auto is_there = [&](shop::Fault f) {
        findings.diagnosis.beliefs[static_cast<std::size_t>(f)].probability = 0.99;
    };
    const session::History h = proved(case_about(Concern::corner));
    is_there(shop::Fault::fence_skew);
    is_there(shop::Fault::left_play);
    CHECK(session::ripe_for_repair(findings).has_value());
    CHECK_FALSE(session::to_put_right(h.seen(), findings).has_value());
    is_there(shop::Fault::blade_tilt);
    CHECK(session::to_put_right(h.seen(), findings) == shop::Fault::blade_tilt);
    const session::History once = proved(case_about(Concern::corner), {session::Repair{shop::Fault::blade_tilt}});
    CHECK_FALSE(session::to_put_right(once.seen(), findings).has_value());
    // Before any proof everything counts.
    CHECK(session::to_put_right(session::History(case_about(Concern::corner)).seen(), findings).has_value());
}

TEST_CASE("what a hand finds, in words") {
    shop::Feed feed;
    feed.at_mm = -120.0;
    feed.force_n = 60.0;
    session::HandTries tries;
    tries.there.stuck = contact::Stuck::too_weak;
    tries.there.push_needed_n = 76.2;
    tries.middle.push_needed_n = 35.0;
    tries.slicker.push_needed_n = 51.9;
    CHECK(session::hand_words(feed, tries, base::Units::metric) ==
          "Pushed 120 mm left of the blade it would need 77 N; in the middle it goes with 35 N. The hand gives 60 N at "
          "most. With half the friction at the runners it would go with 52 N.");
    tries.there.stuck = tries.slicker.stuck = contact::Stuck::jams;
    tries.there.at_worst.critical_mm = 174.6;
    CHECK(has(session::hand_words(feed, tries, base::Units::metric), "it jams, however hard the push"));
    CHECK(has(session::hand_words(feed, tries, base::Units::metric), "it would still jam"));
    CHECK(has(session::hand_words(feed, tries, base::Units::metric), "farther than 175 mm from the middle"));
    feed.at_mm = 0.0;
    tries.there.stuck = contact::Stuck::no;
    CHECK(session::hand_words(feed, tries, base::Units::metric) ==
          "Pushed in the middle it goes with 35 N. The hand gives 60 N at most.");
}
