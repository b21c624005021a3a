// Changes from outside the file, the names nearest to a typing slip, and the list of keys.
#include <doctest/doctest.h>

#include <limits>
#include <set>

#include "scenario/same.h"
#include "scenario/scenario.h"
#include "scenario/schema.h"
#include "scenario/value.h"
#include "shop/truth.h"

using namespace offsquare;
using namespace offsquare::testing;
using scenario::Override;

namespace {

std::string refusal(const std::vector<Override>& changes) {
    const auto changed = scenario::with(scenario::built_in(), changes);
    REQUIRE_FALSE(changed.has_value());
    CHECK(changed.error().grade == base::Grade::usage);
    return changed.error().message;
}

const std::string inch_head = "format = 1\nunits = \"imperial\"\n";

}  // namespace

TEST_CASE("a bare value is in the file's unit, a value with a unit in its own") {
    const auto metric = scenario::parse(
        "format = 1\n", "f", {{"fence.length", "500"}, {"board.strip", "1/2 in"}, {"faults.fence_skew", "0.5mrad"}});
    REQUIRE(metric.has_value());
    CHECK(metric->scenario.drawing.fence.length_mm == 500.0);
    CHECK(metric->scenario.drawing.board.strip_mm == 12.7);
    CHECK(metric->scenario.truth->fence_skew_rad == 0.0005);
    const auto inch = scenario::parse(
        inch_head, "f",
        {{"units", "metric"}, {"fence.length", "20"}, {"board.strip", "10mm"}, {"faults.fence_skew", "-0,5"}});
    REQUIRE_MESSAGE(inch.has_value(), (inch ? "" : inch.error().message));
    CHECK(inch->scenario.drawing.fence.length_mm == 508.0);  // still the file's inches
    CHECK(inch->scenario.drawing.board.strip_mm == 10.0);
    CHECK(inch->scenario.truth->fence_skew_rad == -0.0005);  // a bare angle is in mrad everywhere
    CHECK(inch->scenario.units == base::Units::metric);
}

TEST_CASE("every kind of value can be changed") {
    const auto changed = scenario::with(scenario::built_in(), {{"title", "Mine"},
                                                               {"seed", "18446744073709551615"},
                                                               {"board.kept", "right"},
                                                               {" drawer.0.thickness ", " 4 thou "},
                                                               {"drawer.1.name", "steel leaf"},
                                                               {"caliper.repeat_readings", "0"},
                                                               {"sled.stop", "-10"},
                                                               {"faults.fence_profile", "[[-10, 0], [\"1 in\", 0.25]]"},
                                                               {"board.first_edge", "0.1 deg"}});
    REQUIRE_MESSAGE(changed.has_value(), (changed ? "" : changed.error().message));
    CHECK(changed->title == "Mine");
    CHECK(changed->seed == std::numeric_limits<std::uint64_t>::max());
    CHECK(changed->drawing.board.kept == shop::Side::right);
    CHECK(changed->drawing.drawer[0].thickness_mm == doctest::Approx(0.1016).epsilon(1e-15));
    CHECK(changed->drawing.drawer[1].name == "steel leaf");
    CHECK(changed->drawing.caliper.repeat_readings == 0);
    CHECK(changed->drawing.sled.stop_y_mm == -10.0);
    REQUIRE(changed->truth->fence_profile.points().size() == 2);
    CHECK(changed->truth->fence_profile.points()[1] == base::Vec2{25.4, 0.25});
    const auto back = scenario::with(*changed, {{"sled.stop", "none"}, {"faults.fence_profile", "[]"}});
    REQUIRE(back.has_value());
    CHECK(back->drawing.sled.stop_y_mm == std::numeric_limits<double>::infinity());
    CHECK(back->truth->fence_profile.straight());
}

TEST_CASE("changes are judged together, and the last one of a key holds") {
    // The new left place lies right of the old right one; only both together are right.
    const auto both = scenario::with(scenario::built_in(), {{"fence.shim_left", "255"}, {"fence.shim_right", "260"}});
    CHECK(both.has_value());
    CHECK(has(refusal({{"fence.shim_left", "255"}}), "fence.shim_right (250 mm)"));
    CHECK(scenario::with(scenario::built_in(), {{"fence.length", "600"}, {"fence.length", "580"}})
              ->drawing.fence.length_mm == 580.0);
    CHECK(has(refusal({{"drawer.0.count", "20"}}), "20 pieces"));
}

TEST_CASE("who is to blame: the file or the change") {
    using base::Grade;
    const std::string bad = "format = 1\n[blade]\nheight = 200\n";
    const std::string good = "format = 1\n[blade]\nheight = 100\n";
    CHECK(scenario::parse(bad, "f", {{"seed", "2"}}).error().grade == Grade::bad_data);
    CHECK(scenario::parse(good, "f", {{"blade.diameter", "180"}}).error().grade == Grade::usage);
    CHECK(scenario::parse(good, "f", {{"blade.diametre", "180"}}).error().grade == Grade::usage);
    CHECK(scenario::parse(good, "f", {{"blade.diameter", "9999"}}).error().grade == Grade::usage);
}

TEST_CASE("a change that does not fit says what was found, what is allowed, and an example") {
    const std::string range = refusal({{"blade.kerf", "99"}});
    for (const char* part : {"blade.kerf", "99", "from 0.5 mm to 20 mm", "Example: kerf = \"3.2 mm\""})
        CHECK(has(range, part));
    const std::string row = refusal({{"drawer.6.count", "1"}});
    for (const char* part : {"drawer.6.count=1", "no row 6", "0 to 5"}) CHECK(has(row, part));
    CHECK(has(refusal({{"drawer.99999999999999999999.count", "1"}}), "found no key"));
    CHECK(has(refusal({{"drawer.#.count", "1"}}), "found no key"));
    CHECK(has(refusal({{"drawer", "1"}}), "found no key"));
    CHECK(has(refusal({{"", "1"}}), "found no key"));
    CHECK(has(refusal({{"fence.length", ""}}), "fence.length"));
    CHECK(has(refusal({{"fence.length", "5\n6"}}), "fence.length"));
    CHECK(has(refusal({{"faults.fence_profile", "[]\nseed = 3"}}), "not a list"));
    CHECK(has(refusal({{"faults.fence_profile", std::string(100000, '[')}}), "not a list"));
    CHECK(has(refusal({{"title", std::string("a\0b", 3)}}), "control character"));
    CHECK(has(refusal({{"title", "\xff"}}), "not UTF-8"));
    CHECK(has(refusal({{"format", "2"}}), "Allowed: 1"));
    for (const std::string& message : {range, row}) CHECK_FALSE(has(message, "\n"));
}

TEST_CASE("a typing slip gets the nearest name") {
    const std::vector<std::pair<std::string, std::string>> slips = {
        {"fence.shim_lft", "fence.shim_left"},
        {"fence.shim_rigth", "fence.shim_right"},
        {"fence_skew", "faults.fence_skew"},
        {"faults.skew", "faults.fence_skew"},
        {"fault.fence_skew", "faults.fence_skew"},
        {"blade.hight", "blade.height"},
        {"board.keept", "board.kept"},
        {"drawer.2.thikness", "drawer.2.thickness"},
        {"sled.shim_left", "fence.shim_left"},
        {"Seed", "seed"},
        {"tolerance.corners", "tolerance.corner"},
        {"caliper_zero", "faults.caliper_zero"},
    };
    for (const auto& [slip, meant] : slips) {
        const auto& typed = slip;  // clang 14 captures no structured binding
        CAPTURE(typed);
        CHECK(scenario::nearest_key(typed) == meant);
        CHECK(has(refusal({{typed, "1"}}), "Did you mean " + meant + "?"));
    }
    for (const std::string far : {"zzzzzzzz", "x", "", "quite.another.thing"})
        CHECK(scenario::nearest_key(far).empty());
    CHECK(scenario::nearest_key(std::string(100000, 'a')).empty());
}

TEST_CASE("slips are counted as adding, dropping, changing and swapping neighbours") {
    // Worked by hand. Optimal string alignment: "ca" to "abc" takes 3, for nothing may be touched twice.
    CHECK(scenario::slips("", "") == 0);
    CHECK(scenario::slips("kerf", "kerf") == 0);
    CHECK(scenario::slips("kerf", "") == 4);
    CHECK(scenario::slips("kitten", "sitting") == 3);
    CHECK(scenario::slips("left", "letf") == 1);
    CHECK(scenario::slips("ca", "abc") == 3);
    CHECK(scenario::slips("abc", "ca") == scenario::slips("ca", "abc"));
}

TEST_CASE("every key can be read, and what is read can be typed again") {
    std::set<std::string> seen;
    const scenario::Scenario s = scenario::built_in();
    for (const scenario::KeyInfo& k : scenario::keys()) {
        CAPTURE(k.key);
        CHECK(seen.insert(k.key).second);
        CHECK_FALSE(k.meaning.empty());
        CHECK(k.min <= k.max);
        const std::string value = scenario::any_value_of(s, k.key);
        CHECK(scenario::value_of(s, k.key) == (scenario::is_hidden(k.key) ? "" : value));  // nobody sees the errors
        if (k.kind != scenario::KeyInfo::Kind::word) CHECK_FALSE(value.empty());
        const auto again = scenario::with(s, {{k.key, value}});
        REQUIRE_MESSAGE(again.has_value(), (again ? "" : again.error().message));
        CHECK(same(*again, s));
    }
    CHECK(seen.size() == 89);  // counted by hand: 7 at the top, 2 + 2 + 4 + 3 + 7 + 5 + 5 + 10 + 6 + 2 + 2 + 1 + 2 + 4
                               // + 1 in sections, 20 faults and 6 profiles
    CHECK(scenario::value_of(s, "fence.nothing").empty());
    CHECK(scenario::value_of(s, "drawer.99.count").empty());
    CHECK(scenario::value_of(s, "fence.shim_left") == "-250");
}

TEST_CASE("every example in the list may be typed, in a metric and in an imperial scenario") {
    for (const base::Units units : {base::Units::metric, base::Units::imperial}) {
        scenario::Scenario s = scenario::built_in();
        s.units = units;
        for (const scenario::KeyInfo& k : scenario::keys()) {
            if (units == base::Units::imperial && k.kind == scenario::KeyInfo::Kind::points)
                continue;  // its example is in the bare unit: 200 in is too far
            const auto changed = scenario::with(s, {{k.key, k.example}});
            CHECK_MESSAGE(changed.has_value(), k.key << ": " << (changed ? "" : changed.error().message));
        }
    }
}

TEST_CASE("standard values in the list are those of a file that says nothing") {
    const auto empty = scenario::parse("format = 1\n", "f");
    REQUIRE(empty.has_value());
    for (const scenario::KeyInfo& k : scenario::keys()) {
        if (k.key.starts_with("drawer.")) continue;  // a file that says nothing has an empty drawer
        CHECK_MESSAGE(scenario::any_value_of(empty->scenario, k.key) == k.standard, k.key);
    }
}

TEST_CASE("a scenario that was spoilt in memory is refused, whatever else changes") {
    scenario::Scenario s = scenario::built_in();
    s.drawing.fence.length_mm = std::numeric_limits<double>::quiet_NaN();
    CHECK(has(scenario::with(s, {{"seed", "2"}}).error().message, "fence.length"));
    s = scenario::built_in();
    s.truth->left_slot_profile = base::Profile({{1.0, 0.0}, {0.0, 0.0}});
    CHECK(has(scenario::with(s, {}).error().message, "faults.left_slot_profile"));
    s = scenario::built_in();
    s.drawing.drawer[2].count = -1;
    CHECK(has(scenario::with(s, {}).error().message, "drawer.2.count"));
    CHECK(same(*scenario::with(scenario::built_in(), {}), scenario::built_in()));
}

TEST_CASE("a face may be a wave, by its height from trough to crest and its length") {
    const auto s = scenario::with(scenario::built_in(), {{"faults.fence_profile", "wave 0.06 mm / 8 in"}});
    REQUIRE(s.has_value());
    CHECK(s->truth->fence_profile.at(8 * 25.4 / 4) == doctest::Approx(0.03).epsilon(1e-12));
    // It is kept as points, which can be typed again.
    CHECK(
        same(*scenario::with(*s, {{"faults.fence_profile", scenario::any_value_of(*s, "faults.fence_profile")}}), *s));
    // Heights along a face are allowed to 5 mm to either side: a wave may be twice that from trough to crest.
    CHECK(scenario::with(scenario::built_in(), {{"faults.fence_profile", "wave 9.9 / 180"}}).has_value());
    CHECK_FALSE(scenario::with(scenario::built_in(), {{"faults.fence_profile", "wave 10.1 / 180"}}).has_value());
    for (const char* wrong : {"wave 0.06 mm", "wave / 180", "wave 0.06/180", "wave -1 / 180", "wave 0.06 / 20",
                              "wave 11 / 180", "wave 0.06 / 1e9"}) {
        CAPTURE(wrong);
        const auto refused = scenario::with(scenario::built_in(), {{"faults.fence_profile", wrong}});
        REQUIRE_FALSE(refused.has_value());
        CHECK(refused.error().message.find("wave 0.05 mm / 180 mm") != std::string::npos);
    }
}
