// How practice goes: Brier and its parts, gaps that grow, the tier that is steered, and the file.
#include <doctest/doctest.h>

#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <unistd.h>

#include "lesson/progress.h"

namespace progress_test {

using namespace offsquare;
using lesson::Attempt;
using lesson::Ending;
using shop::Group;

Attempt attempt(int day, bool right, int tier = 1, Group group = Group::fence, int hints = 0) {
    return {day, "x", tier, 1, {group}, Ending::proved, right, right ? 80 : 60, hints, 30.0};
}

TEST_CASE("Brier's score and its parts: the worked vector") {
    // Forecasts 0.9 five times (1,1,1,1,0) and 0.6 five times (1,1,0,0,1): 0.2050 = 0.0050 - 0.0100 + 0.2100 (Murphy's
    // decomposition, worked by hand).
    std::vector<lesson::Forecast> all;
    for (const bool right : {true, true, true, true, false}) all.push_back({0.9, right});
    for (const bool right : {true, true, false, false, true}) all.push_back({0.6, right});
    const lesson::Brier b = lesson::brier_of(all);
    CHECK(b.score == doctest::Approx(0.2050).epsilon(1e-6));
    CHECK(b.reliability == doctest::Approx(0.0050).epsilon(1e-6));
    CHECK(b.resolution == doctest::Approx(0.0100).epsilon(1e-6));
    CHECK(b.uncertainty == doctest::Approx(0.2100).epsilon(1e-6));
    CHECK(b.score == doctest::Approx(b.reliability - b.resolution + b.uncertainty).epsilon(1e-12));
    // Honest sureness beats too much of it: right 6 times in 10, said 60 and said 95.
    const auto said = [](double sure) {
        std::vector<lesson::Forecast> ten;
        for (int i = 0; i < 10; ++i) ten.push_back({sure, i < 6});
        return lesson::brier_of(ten).score;
    };
    CHECK(said(0.6) < said(0.95));
}

TEST_CASE(
    "a family that goes well comes back at growing gaps, and at once after a failure; help does not lengthen them") {
    std::vector<Attempt> all;
    const auto due = [&] { return *lesson::families_of(all)[static_cast<std::size_t>(Group::fence)].due; };
    int day = 100;
    for (const int gap : {1, 3, 7, 21, 60, 60}) {
        all.push_back(attempt(day, true));
        CHECK(due() == day + gap);
        day = due();
    }
    all.push_back(attempt(day, false));
    CHECK(due() == day);
    all.push_back(attempt(day, true, 1, Group::fence, 2));
    CHECK(due() == day + 1);
    CHECK(!lesson::families_of(all)[static_cast<std::size_t>(Group::blade)].due);
}

TEST_CASE("the tier goes up after four of five, and down after fewer than three of five") {
    std::vector<Attempt> all;
    CHECK(lesson::next_tier(all) == 1);
    for (int i = 0; i < 5; ++i) all.push_back(attempt(i, i != 2));
    CHECK(lesson::next_tier(all) == 2);
    for (int i = 0; i < 5; ++i) all.push_back(attempt(i, i % 2 == 0, 2));  // three of five: it stays
    CHECK(lesson::next_tier(all) == 2);
    for (int i = 0; i < 5; ++i) all.push_back(attempt(i, false, 2));
    CHECK(lesson::next_tier(all) == 1);
    for (int i = 0; i < 40; ++i) all.push_back(attempt(i, true, 4));
    CHECK(lesson::next_tier(all) == 4);
}

TEST_CASE("the file: attempts come back, what is not understood is carried along, and it is forgotten when asked") {
    const std::filesystem::path folder =
        std::filesystem::temp_directory_path() / fmt::format("offsquare-practice-{}", ::getpid());
    std::filesystem::create_directories(folder);
    std::ofstream(folder / "practice.jsonl") << "{\"later\":true}\n{\"day\":1,\"cut off";
    lesson::Progress progress(folder);
    CHECK(progress.attempts().empty());
    const Attempt a = attempt(20000, true), b{20001, "two-boards", 0, 7, {}, Ending::given_up, false, 0, 3, 12.5};
    REQUIRE(progress.add(a));
    REQUIRE(progress.add(b));
    lesson::Progress again(folder);
    REQUIRE(again.attempts().size() == 2);
    CHECK(again.attempts()[0] == a);
    CHECK(again.attempts()[1] == b);
    std::ifstream in(folder / "practice.jsonl");
    std::string first;
    std::getline(in, first);
    CHECK(first == "{\"later\":true}");
    CHECK(lesson::forecasts_of(again.attempts()).size() == 1);  // who gives up was sure of nothing
    REQUIRE(again.forget());
    CHECK(lesson::Progress(folder).attempts().empty());
    std::filesystem::remove_all(folder);
}

}  // namespace progress_test
