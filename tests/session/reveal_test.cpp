// The truth for who asks for it: the sizes that were set and what repairs left, how the fence stands with its shims,
// and the corners of each test.
#include "session/reveal.h"

#include <doctest/doctest.h>

#include <cmath>

#include "both_sides.h"
#include "cut/chance.h"
#include "same_seen.h"
#include "session/as_known.h"
#include "session/random_saws.h"

using namespace offsquare;
using session::History;
using session::Revealed;
using shop::Fault;

namespace {

double size(const Revealed& revealed, Fault fault) { return revealed.sizes[static_cast<std::size_t>(fault)]; }

void act(History& history, const session::Action& action) {
    const auto done = history.act(action);
    REQUIRE_MESSAGE(done.has_value(), done.error().message);
}

History exact(const scenario::Scenario& s) { return History(s, 4, measure::Precision::exact); }

}  // namespace

TEST_CASE("every size is the one that was set, in a scenario alone and in a session, and a value set later counts") {
    random_saws::Random random(7);
    for (int i = 0; i < 20; ++i) {
        scenario::Scenario s = scenario::built_in();
        s.truth = random_saws::any_saw(random).truth;
        History history(s);
        const Revealed alone = session::reveal(s);
        const Revealed started = session::reveal(history);
        for (const shop::FaultInfo& f : shop::faults()) {
            CAPTURE(f.key);
            CHECK(size(alone, f.fault) == shop::size_of(*s.truth, f.fault));
            CHECK(size(started, f.fault) == size(alone, f.fault));
        }
        CHECK(alone.tests.empty());
        act(history, session::SetValue{"faults.blade_toe", "1.5 mrad"});
        CHECK(size(session::reveal(history), Fault::blade_toe) == doctest::Approx(0.0015).epsilon(1e-14));
        CHECK(size(started, Fault::blade_toe) == size(alone, Fault::blade_toe));  // a picture of that moment
    }
}

TEST_CASE("a repair leaves nothing where it is read exactly, else about as much as on any good saw") {
    for (const shop::FaultInfo& f : shop::faults()) {
        CAPTURE(f.key);
        const scenario::Scenario s = same_seen::with_fault(scenario::built_in(), f.fault, 0.5 * f.max);
        History perfect = exact(s);
        act(perfect, session::Repair{f.fault});
        CHECK(size(session::reveal(perfect), f.fault) == 0.0);
        History real(s, 11);
        act(real, session::Repair{f.fault});
        const double left = size(session::reveal(real), f.fault);
        // Five standard deviations of what the row says that a repair scatters.
        CHECK(std::abs(left - f.repair_leaves.mean) <= 5.0 * f.repair_leaves.sd);
        CHECK(left != 0.5 * f.max);
        // Nothing else is touched.
        for (const shop::FaultInfo& other : shop::faults())
            if (other.fault != f.fault)
                CHECK(size(session::reveal(real), other.fault) == shop::size_of(*s.truth, other.fault));
    }
}

TEST_CASE("the fence as it stands: slope = tan(skew) + (right - left) / span, and what it crept") {
    const scenario::Scenario s = same_seen::with_fault(scenario::built_in(), Fault::fence_skew, 0.0021);
    const double span = s.drawing.fence.shim_right_x_mm - s.drawing.fence.shim_left_x_mm;
    for (const auto& [left, right] :
         {std::pair{0.0, 0.0}, std::pair{0.7, 0.0}, std::pair{0.0, 0.45}, std::pair{0.3, 1.1}}) {
        History history = exact(s);
        if (left > 0.0) act(history, session::PutThickness{shim::At::left, left});
        if (right > 0.0) act(history, session::PutThickness{shim::At::right, right});
        const Revealed revealed = session::reveal(history);
        // Closed form; a few roundings of a slope of a thousandth.
        CHECK(std::tan(revealed.skew_now_rad) ==
              doctest::Approx(std::tan(0.0021) + (right - left) / span).epsilon(1e-12));
        CHECK(size(revealed, Fault::fence_skew) == 0.0021);  // the fault itself stays as it was
    }
    // Of pieces from the drawer what they really measure counts, and of a fence that creeps where it came to stand.
    scenario::Scenario creeping = s;
    creeping.truth->clamp_creep_rad = 0.001;
    History history(creeping, 9);
    act(history, session::PutShim{shim::At::left, 2});
    act(history, session::CutTest{});
    const session::Saw& saw = session::saw_of(history);
    REQUIRE(saw.crept_rad != 0.0);
    CHECK(std::tan(session::reveal(history).skew_now_rad) ==
          doctest::Approx(std::tan(0.0021 + saw.crept_rad) - saw.behind_left.front().true_mm / span).epsilon(1e-12));
    CHECK(session::reveal(history).tests.back().skew_rad == session::reveal(history).skew_now_rad);
}

TEST_CASE("corners of a test are those of the cutting room, chance and all, and a test for each that was seen") {
    random_saws::Random random(31);
    for (int i = 0; i < 4; ++i) {
        scenario::Scenario s = scenario::built_in();
        s.truth = random_saws::saw_that_goes(s.drawing, random).truth;
        const std::uint64_t seed = 100 + static_cast<std::uint64_t>(i);
        History history(s, seed);
        act(history, session::CutTest{});
        act(history, session::CutTest{});
        act(history, session::Repair{Fault::blade_tilt});  // the job begins anew, and the tests stay
        const Revealed revealed = session::reveal(history);
        REQUIRE(revealed.tests.size() == 2);
        REQUIRE(history.seen().tests.size() == 2);
        for (std::uint32_t test = 0; test < 2; ++test) {
            const auto chances = cut::chances_of(s.drawing, *s.truth, seed, test);
            const cut::FiveCut by_hand = cut::five_cut_each(s.drawing, *s.truth, {}, chances);
            REQUIRE(by_hand.outcome == cut::Outcome::done);
            const session::TrueTest& told = revealed.tests[test];
            REQUIRE(told.corners_rad.size() == 5);
            for (std::size_t cut = 0; cut < 5; ++cut) CHECK(told.corners_rad[cut] == by_hand.cuts[cut].corner_rad);
            CHECK(told.skew_rad == by_hand.skew_rad);
            CHECK(told.cut->strip->length_mm == by_hand.strip->length_mm);
            const session::Offcuts pieces = session::offcuts_of(told);
            for (int cut = 1; cut <= 4; ++cut)
                CHECK(pieces[static_cast<std::size_t>(cut - 1)].size() == by_hand.offcut(cut).size());
        }
    }
}

TEST_CASE("four corners add up in the strip: it tapers by L tan(4e), and each corner is e") {
    for (const double e : {0.0008, -0.0013, 0.004}) {
        scenario::Scenario s = scenario::built_in();
        s.truth = shop::Truth{};
        s.truth->fence_skew_rad = e;
        s.drawing.board.kept = shop::Side::left;
        s.drawing.board.strip_mm = 25.0;
        History history = exact(s);
        act(history, session::CutTest{});
        act(history, session::Read{session::End::fence});
        act(history, session::Read{session::End::far});
        const Revealed revealed = session::reveal(history);
        const session::TrueTest& told = revealed.tests.back();
        REQUIRE(told.corners_rad.size() == 5);
        for (const double corner : told.corners_rad)
            CHECK(std::abs(corner) == doctest::Approx(std::abs(e)).epsilon(1e-9));
        const session::Test& test = history.seen().tests.back();
        const double taper = test.fence_end.back().value_mm - test.far_end.back().value_mm;
        CHECK(taper == doctest::Approx(told.cut->strip->length_mm * std::tan(4.0 * e)).epsilon(1e-9));
        CHECK(revealed.skew_now_rad == doctest::Approx(e).epsilon(1e-13));
    }
}

TEST_CASE("shapes that are no plain bow are told by their key, straight ones too") {
    scenario::Scenario s = scenario::built_in();
    s.truth->right_slot_profile = base::Profile::wave(-300.0, 300.0, 0.1, 150.0);
    int bent = 0;
    for (const session::HiddenShape& shape : session::reveal(s).shapes) {
        CAPTURE(shape.key);
        CHECK(session::revealed_value(History(s), "faults." + std::string(shape.key)).starts_with("["));
        bent += shape.profile.straight() ? 0 : 1;
        if (shape.key == "right_slot_profile") CHECK(shape.profile.points() == s.truth->right_slot_profile.points());
    }
    CHECK(bent == 1);
    CHECK(session::reveal(s).shapes.size() == 6);
}

TEST_CASE("hidden values as text: none for who does not ask, and for who does what could be typed again") {
    random_saws::Random random(3);
    scenario::Scenario s = scenario::built_in();
    s.truth = random_saws::any_saw(random).truth;
    s.truth->fence_profile = base::Profile::wave(-280.0, 280.0, 0.1, 120.0);
    const History history(s);
    int hidden = 0;
    for (const scenario::KeyInfo& key : scenario::keys()) {
        CAPTURE(key.key);
        const std::string open = scenario::value_of(s, key.key);
        const std::string asked = session::revealed_value(history, key.key);
        if (!scenario::is_hidden(key.key)) {
            CHECK(open == asked);
            continue;
        }
        ++hidden;
        CHECK(open.empty());
        REQUIRE_FALSE(asked.empty());
        // Typed into a perfect saw it makes the same error, to the last bit.
        scenario::Scenario perfect = s;
        perfect.truth = shop::Truth{};
        const auto set = scenario::with(perfect, {{key.key, asked}});
        REQUIRE(set.has_value());
        CHECK(session::revealed_value(History(*set), key.key) == asked);
        for (const shop::FaultInfo& f : shop::faults())
            if (key.key == "faults." + std::string(f.key))
                CHECK(shop::size_of(*set->truth, f.fault) == shop::size_of(*s.truth, f.fault));
    }
    CHECK(hidden == static_cast<int>(shop::fault_count) + 6);
    CHECK(session::revealed_value(history, "faults.nothing").empty());
    History repaired = exact(s);
    act(repaired, session::Repair{Fault::fence_bow});
    CHECK(session::revealed_value(repaired, "faults.fence_bow") == "0");
}
