// Slips in a log: a small share of the proof (prove_slips makes all of it: 50 of each kind, 5,000 honest logs), and
// what the questions say.
#include <doctest/doctest.h>

#include "planted.h"
#include "repeats.h"
#include "saws/steps.h"
#include "saws/tools.h"

namespace slips_test {

using namespace logs;

TEST_CASE("each kind of slip is asked about, planted in random logs") {
    std::uint64_t seed = 100;
    for (const auto& kind : planted::kinds()) {
        CAPTURE(kind.first);
        const planted::Count c = planted::count(kind.second, repeats::of(4, 1), seed++);
        CHECK(c.of > 0);
        // 95 of 100 in all; of four, three.
        CHECK(c.asked >= c.of - 1);
    }
}

TEST_CASE("honest logs are hardly ever questioned") {
    planted::Random r(5);
    int asked = 0;
    const int logs = repeats::of(4, 1);
    for (int i = 0; i < logs; ++i) {
        planted::Writing w = planted::begun(r);
        bool any = false;
        w.ask = [&](const Sled& sled, const What& what, Date date) {
            any = any || !slips_in(sled, what, date, today, w.person.units).empty();
        };
        planted::honest(w, r);
        asked += any ? 1 : 0;
    }
    // Fewer than 1 in 100: of four, one is already odd.
    CHECK(asked <= 1);
}

TEST_CASE("of two ends far apart the one is asked about that no strip is like, on the first strip of a log too") {
    const Sled fresh{"a", "", base::Units::metric, {}};
    // A strip is a finger wide: beside 12.1 mm, 126 is the slip and 12.1 is not, and beside 121, 12.6 is right.
    for (const auto& [fence, far, field, meant] : {std::tuple{"126", "12.1", Field::fence_end, 12.6},
                                                   {"12.6", "121", Field::far_end, 12.1},
                                                   {"1.26", "12.1", Field::fence_end, 12.6},
                                                   {"12.6", "1.21", Field::far_end, 12.1}}) {
        const Questions q = slips_in(fresh, strip(fence, far), today, base::Units::metric);
        REQUIRE(q.size() == 1);
        CHECK(q[0].field == field);
        CHECK(q[0].meant->value == doctest::Approx(meant));
    }
}

TEST_CASE("on the first strip of a log both ends may have lost their decimal place") {
    const Sled fresh{"a", "", base::Units::metric, {}};
    const Questions q = slips_in(fresh, strip("126.2", "120.1"), today, base::Units::metric);
    REQUIRE(q.size() == 1);
    CHECK(q[0].field == Field::fence_end);
    CHECK(q[0].meant->value == doctest::Approx(12.62));
    // A strip that is left wide is one; and in a log of wide strips nobody is asked.
    CHECK(slips_in(fresh, strip("40.2", "40.1"), today, base::Units::metric).empty());
    const Sled wide = with(fresh, StripTest{strip("60.2", "60.1")});
    CHECK(slips_in(wide, strip("60.3", "60.1"), today, base::Units::metric).empty());
}

TEST_CASE("a question has both readings, and the one that was meant as a value") {
    const Sled s = blue_sled();
    const auto ask = [&](const Strip& strip) { return slips_in(s, strip, today, base::Units::metric); };
    CHECK(ask(strip("12.11", "12.10")).empty());
    const Questions decimal = ask(strip("1.211", "12.10"));
    REQUIRE(decimal.size() == 1);
    CHECK(decimal[0].field == Field::fence_end);
    CHECK(decimal[0].says.find("1.211 mm") != std::string::npos);
    CHECK(decimal[0].says.find("Was 12.11 mm meant?") != std::string::npos);
    CHECK(decimal[0].meant->value == doctest::Approx(12.11));
    const Questions inches = ask(strip("12.11", "12.10", "305", "19.7"));
    REQUIRE(inches.size() == 1);
    CHECK(inches[0].field == Field::span);
    CHECK(inches[0].says.find("Was 19.7 in meant?") != std::string::npos);
    // Half of it typed: what is there is looked at.
    Strip partly;
    partly.far_end = {mm("0.476")};
    REQUIRE(ask(partly).size() == 1);
    CHECK(ask(partly)[0].says.find("Was 0.476 in meant?") != std::string::npos);
}

TEST_CASE(
    "a later test that contradicts which end lay at the fence is asked about, with the entry that it contradicts") {
    Sled s{"a", "", base::Units::metric, {}};
    s = with(s, StripTest{strip("12.62", "12.02")}, day(2026, 3, 3));
    CHECK(slips_in(s, strip("12.60", "12.01"), today, base::Units::metric).empty());
    const Questions q = slips_in(s, strip("12.01", "12.60"), today, base::Units::metric);
    REQUIRE(q.size() == 1);
    CHECK(q[0].field == Field::ends);
    CHECK(q[0].other_entry == 1);
    CHECK(q[0].ends_exchanged);
    // A fence that was moved since has no such past.
    CHECK(slips_in(with(s, FenceMoved{}), strip("12.01", "12.60"), today, base::Units::metric).empty());
}

TEST_CASE("shims between two tests count: what they should have done is no contradiction, and the other way round is") {
    Sled s{"a", "", base::Units::metric, {}};
    s = with(s, StripTest{strip("12.62", "12.02")}, day(2026, 3, 3));
    s = with(s, ShimsMoved{{{"brass", 0.25, 0.003}}, {}, {}, {}}, day(2026, 3, 3));
    CHECK(slips_in(s, strip("12.02", "12.03"), today, base::Units::metric).empty());
    // Off by twice to the same side: no strip turned round fits, but the shim behind the other end does.
    const Questions at_other_end = slips_in(s, strip("13.23", "12.02"), today, base::Units::metric);
    REQUIRE(at_other_end.size() == 1);
    CHECK(!at_other_end[0].ends_exchanged);
    CHECK(at_other_end[0].says.find("would fit if the shims went behind the other end") != std::string::npos);
    // Off by three times as much fits nothing: it is weighed, and not explained.
    CHECK(slips_in(s, strip("14.60", "12.02"), today, base::Units::metric).empty());
    // As if the ends of the first strip had been exchanged: the shim has doubled the error.
    const Questions doubled = slips_in(s, strip("12.02", "13.23"), today, base::Units::metric);
    REQUIRE(doubled.size() == 1);
    CHECK(!doubled[0].ends_exchanged);
    Sled other{"a", "", base::Units::metric, {}};
    other = with(other, StripTest{strip("12.02", "12.62")}, day(2026, 3, 3));
    other = with(other, ShimsMoved{{}, {{"brass", 0.25, 0.003}}, {}, {}}, day(2026, 3, 3));
    const Questions wrong = slips_in(other, strip("13.23", "12.02"), today, base::Units::metric);
    REQUIRE(wrong.size() == 1);
    CHECK(wrong[0].field == Field::ends);
    CHECK(!wrong[0].ends_exchanged);  // those of the earlier strip
    CHECK(wrong[0].other_entry == 1);
}

TEST_CASE("with a rule and a caliper: what can be made, and what to get first") {
    const std::vector<Tool> have{Tool::rule, Tool::caliper};
    const auto checks = possible_with(have);
    CHECK(std::find(checks.begin(), checks.end(), measure::Check::five_cut) != checks.end());
    CHECK(std::find(checks.begin(), checks.end(), measure::Check::fence_straightedge) == checks.end());
    for (const measure::CheckInfo& c : measure::checks()) {
        // Every instrument of the table is known: with all of them every check can be made.
        const std::vector<Tool> all{Tool::caliper,    Tool::rule,       Tool::straightedge,
                                    Tool::feelers,    Tool::square,     Tool::indicator,
                                    Tool::inside_bar, Tool::shim_stock, Tool::second_caliper};
        const auto possible = possible_with(all);
        CHECK(std::find(possible.begin(), possible.end(), c.check) != possible.end());
        if (c.instrument.find("indicator") != std::string_view::npos) CHECK(!needed_for(c.check).empty());
    }
    const auto first = to_get_first(have, session::sight_of(shop::Drawing{}), nullptr);
    REQUIRE(!first.empty());
    CHECK(first.size() <= 3);
    CHECK(!first[0].opens.empty());
    CHECK(first[0].why.find("With ") == 0);
}

TEST_CASE("six steps that print, the cautions first") {
    CHECK(strip_steps().size() == 6);
    const std::string page = strip_steps_page();
    const auto has = [&](std::string words) {  // lines are broken at spaces
        std::string flat;
        for (const char c : page)
            if (c != ' ' && c != '\n') flat += c;
        std::erase(words, ' ');
        return flat.find(words) != std::string::npos;
    };
    for (const char* words :
         {"Unplug the saw", "wait until the blade has stopped", "local codes", "mark its end at the fence", "6. "})
        CHECK(has(words));
    CHECK(page.find("mm") != std::string::npos);
    CHECK(strip_steps_page(false).find(" mm") == std::string::npos);
    std::size_t at = 0;
    for (std::size_t end = page.find('\n'); end != std::string::npos; at = end + 1, end = page.find('\n', at))
        CHECK(end - at <= 90);
}

}  // namespace slips_test
