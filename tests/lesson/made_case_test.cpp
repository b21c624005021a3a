// Cases from a tier and a seed.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

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
        const auto made = lesson::made_case(tier, 11);
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
        const auto road = lesson::advised_road(*made, made->seed, truth);
        REQUIRE(road);
        CHECK(road->minutes() <= made->budget.minutes);
        CHECK(road->board_mm() <= made->budget.board_mm);
        for (const shop::FaultInfo& info : shop::faults())
            for (const std::string* words : {&made->title, &made->story, &made->complaint})
                CHECK(words->find(info.name) == std::string::npos);
    }
    CHECK(!lesson::made_case(0, 1));
    CHECK(!lesson::made_case(lesson::tiers + 1, 1));
}

TEST_CASE("the same tier and seed give the same case to the last bit, and another seed another" *
          doctest::skip(repeats::sanitized)) {
    const auto a = lesson::made_case(1, 5), b = lesson::made_case(1, 5), c = lesson::made_case(1, 6);
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

}  // namespace made_case_test
