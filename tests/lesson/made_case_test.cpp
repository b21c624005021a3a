// Cases from a tier and a seed.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "lesson/cases.h"
#include "lesson/made_case.h"
#include "lesson/shortest.h"
#include "repeats.h"

namespace made_case_test {

using namespace offsquare;
using shop::Fault;

TEST_CASE("of each tier what it promises, solvable for what it may cost, and never told by its words" *
          doctest::skip(repeats::sanitized)) {
    for (int tier = 1; tier <= lesson::tiers; ++tier) {
        CAPTURE(tier);
        const auto made = lesson::made_case(tier, 4);
        REQUIRE(made);
        const lesson::Truth truth = lesson::truth_of(*made);
        std::size_t causes = truth.counting().size();
        // The two runners of a loose sled are one cause.
        if (lesson::is_in(truth.counting(), Fault::left_play) && lesson::is_in(truth.counting(), Fault::right_play))
            --causes;
        CHECK(causes <= (tier == 1 ? 1U : 2U));
        if (tier == 1) CHECK(causes == 1);
        CHECK(made->budget.minutes > 0.0);
        CHECK(std::fmod(made->budget.minutes, 15.0) == 0.0);
        // Followed once more where that is quick; it is what made_case itself goes by.
        if (tier == 1 || tier == 4) {
            const auto road = lesson::advised_road(*made, made->seed, truth);
            REQUIRE(road);
            CHECK(road->minutes() <= made->budget.minutes);
            CHECK(road->board_mm() <= made->budget.board_mm);
        }
        for (const shop::FaultInfo& info : shop::faults())
            for (const std::string* words : {&made->title, &made->story, &made->complaint})
                CHECK(words->find(info.name) == std::string::npos);
    }
    CHECK(!lesson::made_case(0, 1));
    CHECK(!lesson::made_case(lesson::tiers + 1, 1));
}

TEST_CASE("the same tier and seed give the same case to the last bit, and another seed another" *
          doctest::skip(repeats::sanitized)) {
    const auto a = lesson::made_case(4, 2), b = lesson::made_case(4, 2), c = lesson::made_case(4, 3);
    REQUIRE((a && b && c));
    const auto sizes = [](const scenario::Scenario& s) {
        std::vector<double> all;
        for (const lesson::Wrong& w : lesson::truth_of(s).wrong) all.push_back(w.size);
        return all;
    };
    CHECK(sizes(*a) == sizes(*b));
    CHECK(a->complaint == b->complaint);
    CHECK(a->drawing.fence.length_mm == b->drawing.fence.length_mm);
    CHECK(a->drawing.fence.length_mm != c->drawing.fence.length_mm);
}

TEST_CASE(
    "a case that comes back has the same causes, other sizes and other words; its twin the complaint and another "
    "cause" *
    doctest::skip(repeats::sanitized)) {
    const lesson::Case* c = lesson::find_case("never-proves");
    REQUIRE(c != nullptr);
    const lesson::Truth was = lesson::truth_of(c->scenario);
    const auto again = lesson::case_again(c->scenario, 1);
    REQUIRE(again);
    const lesson::Truth is = lesson::truth_of(*again);
    CHECK(is.counting() == was.counting());
    CHECK(is.wrong.front().size != was.wrong.front().size);
    CHECK(again->complaint != c->scenario.complaint);
    CHECK(again->speaks_of == c->scenario.speaks_of);
    const auto twin = lesson::twin_of(c->scenario, 8);
    REQUIRE(twin);
    CHECK(twin->complaint == c->scenario.complaint);
    CHECK(twin->drawing.fence.length_mm == c->scenario.drawing.fence.length_mm);
    for (const Fault f : lesson::truth_of(*twin).counting()) CHECK(!lesson::is_in(was.counting(), f));
}

}  // namespace made_case_test
