// Tests cut by hand in a session: written, replayed, kept apart from others, refused when no hand could do it.
#include <doctest/doctest.h>

#include <limits>

#include "session/job.h"
#include "shop/truth.h"

using namespace job;
using measure::Precision;
using session::PushTest;

namespace {

PushTest pushed(double x_mm, std::vector<contact::Grip> later = {}) {
    PushTest test;
    test.pass.hand.force_n = 120.0;
    test.pass.hand.grips = {{-std::numeric_limits<double>::infinity(), x_mm}};
    test.pass.hand.grips.insert(test.pass.hand.grips.end(), later.begin(), later.end());
    return test;
}

scenario::Scenario loose_saw() {
    scenario::Scenario s = saw();
    s.truth->left_play_mm = s.truth->right_play_mm = 0.15;
    s.drawing.table.depth_mm = 2000.0;  // both runners guided all along
    return s;
}

}  // namespace

TEST_CASE("the corner that a hand pushed is read like any other, and another hand reads another corner") {
    const auto read = [](const session::Action& cut) {
        const auto t = job::run(loose_saw(), Actions{cut, Read{End::fence}, Read{End::far}}, 3, Precision::exact);
        REQUIRE(t.has_value());
        const session::Test& test = t->tests.back();
        REQUIRE(test.skew_rad.has_value());
        // Read exactly, the strip says what the corners add up to: the mean of the four that are in it, to the second
        // order of 1e-3.
        double sum = 0.0;
        for (std::size_t i = 1; i < 5; ++i) sum += t->cut().cuts[i].corner_rad;
        CHECK(test.skew_rad->value == doctest::Approx(sum / 4.0).epsilon(0.02).scale(0));
        return test.skew_rad->value;
    };
    const double right = read(pushed(100.0)), left = read(pushed(-100.0));
    // The play over the runner's length to either side; of it the spacing of the slots takes its share t*D/2L of 1e-4,
    // and a tenth of the caliper's step at each end stands for the last digit.
    CHECK(right - left ==
          doctest::Approx(2.0 * 0.15 / loose_saw().drawing.sled.runner_length_mm).epsilon(1e-3).scale(0));
}

TEST_CASE("tests of different hands are not averaged; of the same hand they are") {
    const Actions read{Read{End::fence}, Read{End::far}};
    const auto count = [&](const session::Action& first, const session::Action& second) {
        const auto t = job::run(loose_saw(), Actions{first} + read + Actions{second} + read, 3);
        REQUIRE(t.has_value());
        return t->tests.back().pooled_tests;
    };
    CHECK(count(pushed(80.0), pushed(80.0)) == 2);
    CHECK(count(pushed(80.0), pushed(-80.0)) == 1);
    CHECK(count(CutTest{}, pushed(80.0)) == 1);
    CHECK(count(CutTest{}, CutTest{}) == 2);
}

TEST_CASE("a pushed test is written, told and replayed to the last digit") {
    PushTest stops = pushed(-40.125, {{-80.5, 33.25}, {10.0, 0.1}});
    stops.pass.stops_at_mm = 130.0;
    const session::Log log =
        job::log_of(loose_saw(), 9, Precision::real, Actions{pushed(61.7), Read{End::fence}, Read{End::far}, stops});
    const std::string text = session::to_text(log);
    CHECK(text.find("Cut a five-cut test, pushing the sled by hand 61.7 mm right of the blade's line.") !=
          std::string::npos);
    const auto replay = session::replay(text, "job.jsonl");
    if (!replay) FAIL(replay.error().message);
    REQUIRE(replay->log.entries.size() == 4);
    CHECK(std::get<PushTest>(replay->log.entries[0].action).pass == pushed(61.7).pass);
    CHECK(std::get<PushTest>(replay->log.entries[3].action).pass == stops.pass);
    CHECK(session::to_text(replay->log) == text);
}

TEST_CASE("a hand that nobody has is refused, in a file and by itself") {
    const std::string text = session::to_text({loose_saw(), 1, Precision::real, {}});
    for (const char* bad :
         {R"({"do":"push-test"})", R"({"do":"push-test","force_n":60})", R"({"do":"push-test","force_n":-1,"x_mm":0})",
          R"({"do":"push-test","force_n":60,"x_mm":1e300})",
          R"({"do":"push-test","force_n":60,"x_mm":0,"stops_at_mm":"far"})",
          R"({"do":"push-test","force_n":60,"x_mm":0,"then_x_mm_from_mm":[[1,5],[1,5]]})",
          R"({"do":"push-test","force_n":60,"x_mm":0,"then_x_mm_from_mm":[[1,"a"]]})",
          R"({"do":"push-test","force_n":60,"x_mm":0,"then_x_mm_from_mm":{"a":1}})"}) {
        CAPTURE(bad);
        const auto replay = session::replay(text + bad + "\n", "job.jsonl");
        REQUIRE_FALSE(replay);
        CHECK(replay.error().grade == base::Grade::bad_data);
        CHECK(replay.error().message.find("job.jsonl:2:") != std::string::npos);
    }
    PushTest pulls = pushed(0.0);
    pulls.pass.hand.way = contact::Way::pull_back;
    CHECK_FALSE(job::run(loose_saw(), Actions{pulls}, 1));
    PushTest restless = pushed(0.0);
    for (std::size_t i = 0; i < session::most_grips; ++i)
        restless.pass.hand.grips.push_back({static_cast<double>(i), 0.0});
    CHECK_FALSE(job::run(loose_saw(), Actions{restless}, 1));
}
