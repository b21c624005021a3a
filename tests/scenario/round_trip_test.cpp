// A scenario, written and read again, is the same scenario to the last bit, whatever its numbers are.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "base/property.h"
#include "scenario/same.h"
#include "scenario/value.h"
#include "scenario/scenario.h"
#include "shop/truth.h"

using namespace offsquare;
using namespace offsquare::testing;

namespace {

/// A double in [lo, hi]: a round decimal, a round fraction of an inch, or any bits at all.
double number(double lo, double hi) {
    const int kind = *rc::gen::inRange(0, 3);
    const double any = lo + (hi - lo) * (static_cast<double>(*rc::gen::inRange<std::int64_t>(0, (1LL << 53) + 1)) /
                                         9007199254740992.0);
    const double round = kind == 0   ? std::round(any * 1000.0) / 1000.0
                         : kind == 1 ? std::round(any / 25.4 * 64.0) / 64.0 * 25.4
                                     : any;
    return std::clamp(round, lo, hi);
}

std::string word(int least) {
    std::string out;
    const std::vector<std::string> parts = {
        "a",    "Z",       "9",     " ", "\"",       "\\",           "'",
        "#",    "=",       "[",     "]", "\xc3\xa4", "\xe2\x80\xb3", "\xf0\x9f\xaa\x9a",
        "none", "\\u0041", "\"\"\""};
    const int n = *rc::gen::inRange(least, 12);
    for (int i = 0; i < n; ++i) out += *rc::gen::elementOf(parts);
    return out;
}

base::Profile profile() {
    base::Profile::Points points;
    double t = -300.0;
    for (int n = *rc::gen::inRange(0, 6); n > 0; --n) {
        t += number(0.001, 90.0);
        points.push_back({t, number(-5.0, 5.0)});
    }
    return base::Profile(points);
}

void fill_shop(shop::Drawing& d) {
    d.table = {number(600, 5000), number(100, 5000)};
    d.blade = {number(200, 1000), number(0, 99), number(0, 500), number(0.5, 20)};
    d.slots = {number(-200, -60), number(60, 200), number(5, 60)};
    d.sled = {number(600, 5000),
              number(400, 2000),
              number(60, 300),
              number(50, 400),
              *rc::gen::element(shop::Hand::left, shop::Hand::middle, shop::Hand::right, shop::Hand::wandering),
              number(0, 1000),
              std::numeric_limits<double>::infinity()};
    if (*rc::gen::inRange(0, 2) == 0) d.sled.stop_y_mm = number(-2000, 2000);
    d.fence = {number(500, 600), number(1, 60), number(1, 1000), number(-250, 0), number(1, 250)};
    d.board = {number(300, 600), number(200, 600),  number(1, 200),  number(-50, 50),
               number(0.5, 100), number(-0.1, 0.1), shop::Side::left};
    if (*rc::gen::inRange(0, 2) == 0) d.board.kept = shop::Side::right;
}

void fill_tools(shop::Drawing& d) {
    d.caliper = {word(1), number(0.0001, 5), number(0, 5), number(0, 5), *rc::gen::inRange(2, 1000)};
    d.tape = {number(0.001, 20), number(0, 20)};
    d.tolerance_rad = number(1e-6, 0.02);
    d.drawer.clear();
    for (int n = *rc::gen::inRange(0, 7); n > 0; --n)
        d.drawer.push_back({word(1), number(0.001, 25), number(0, 2), *rc::gen::inRange(0, 4)});
}

shop::Truth truth() {
    shop::Truth t;
    for (const shop::FaultInfo& f : shop::faults()) shop::size_of(t, f.fault) = number(f.min, f.max);
    t.left_runner_profile = profile();
    t.right_runner_profile = profile();
    t.edge_profile = profile();
    t.fence_profile = profile();
    t.left_slot_profile = profile();
    t.right_slot_profile = profile();
    return t;
}

scenario::Scenario any_scenario() {
    scenario::Scenario s;
    s.title = word(1);
    s.story = word(0) + (*rc::gen::inRange(0, 2) == 0 ? "\nsecond line\t" : "");
    s.units = *rc::gen::inRange(0, 2) == 0 ? base::Units::metric : base::Units::imperial;
    s.seed = *rc::gen::arbitrary<std::uint64_t>();
    fill_shop(s.drawing);
    fill_tools(s.drawing);
    s.truth = truth();
    return s;
}

/// The values that differ, for the message; empty when the two are the same.
std::string difference(const scenario::Scenario& a, const scenario::Scenario& b) {
    if (same(a, b)) return {};
    std::string out = "they differ:";
    for (const scenario::KeyInfo& k : scenario::keys()) {
        const std::string va = scenario::any_value_of(a, k.key);
        const std::string vb = scenario::any_value_of(b, k.key);
        if (va != vb) out += " " + k.key + " " + va + " / " + vb;
    }
    return out;
}

}  // namespace

TEST_CASE("written and read again: the same scenario") {
    CHECK(holds("parse(to_text(s)) == s", [] {
        const scenario::Scenario s = any_scenario();
        const std::string text = scenario::to_text(s);
        const auto again = scenario::parse(text, "again");
        if (!again) RC_FAIL(again.error().message + "\n" + text);
        RC_ASSERT(again->warnings.empty());
        RC_ASSERT(difference(again->scenario, s) == "");
        RC_ASSERT(scenario::to_text(again->scenario) == text);
    }));
}

TEST_CASE("every value read from one scenario and typed into another: the same scenario") {
    CHECK(holds("with(other, {key, any_value_of(s, key)}) == s", [] {
        const scenario::Scenario s = any_scenario();
        std::vector<scenario::Override> all;
        for (const scenario::KeyInfo& k : scenario::keys()) {
            if (!k.key.starts_with("drawer.") || !s.drawing.drawer.empty())
                all.push_back({k.key, scenario::any_value_of(s, k.key)});
        }
        scenario::Scenario other = scenario::built_in();
        other.units = s.units;
        other.drawing.drawer = s.drawing.drawer;  // keys() names the first row only
        const auto changed = scenario::with(other, all);
        if (!changed) RC_FAIL(changed.error().message);
        RC_ASSERT(difference(*changed, s) == "");
    }));
}

TEST_CASE("numbers that do not come out even in the scenario's unit are kept, too") {
    scenario::Scenario s = scenario::built_in();
    for (const base::Units units : {base::Units::metric, base::Units::imperial}) {
        s.units = units;
        for (const double v :
             {0.1, 1.0 / 3.0, 0.1 + 0.2, 1e-17, std::nextafter(1.0, 2.0), std::nextafter(2.0, 0.0), 0.0}) {
            s.truth->left_play_mm = v;
            s.truth->fence_skew_rad = v / 200.0;
            const auto again = scenario::parse(scenario::to_text(s), "again");
            REQUIRE_MESSAGE(again.has_value(), (again ? "" : again.error().message));
            CHECK(again->scenario.truth->left_play_mm == s.truth->left_play_mm);
            CHECK(again->scenario.truth->fence_skew_rad == s.truth->fence_skew_rad);
        }
    }
}
