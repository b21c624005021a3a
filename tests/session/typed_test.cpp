// Readings that a person types: in the notebook beside the simulated ones, in the log, and from files that nobody
// vouches for.
#include <doctest/doctest.h>

#include <string>

#include "measure/report.h"
#include "session/findings.h"
#include "session/hunt_words.h"
#include "session/job.h"

using namespace job;
using measure::Check;
using session::FenceStood;
using session::Log;
using session::MakeCheck;
using session::TypeReadings;

namespace {

TypeReadings five_cut(double fence_end, double far_end, double length) {
    return {Check::five_cut,
            {{"fence_end", shop::FaultUnit::mm, fence_end, 0.02},
             {"far_end", shop::FaultUnit::mm, far_end, 0.02},
             {"length", shop::FaultUnit::mm, length, 0.5}},
            {}};
}
TypeReadings jaws(double zero, double u) {
    const auto& wanted = measure::info(Check::jaws).readings;
    return {Check::jaws, {{std::string(wanted[0].what), shop::FaultUnit::mm, zero, u}}, {}};
}

Trial run_of(const Actions& actions) {
    auto trial = job::run(saw(), actions, 6);
    REQUIRE_MESSAGE(trial.has_value(), (trial ? std::string() : trial.error().message));
    return *trial;
}

std::string head(bool real_saw) {
    Log log{saw(), 1, measure::Precision::real, {}};
    log.real_saw = real_saw;
    return session::to_text(log);
}

}  // namespace

TEST_CASE("typed readings stand in the notebook as they were typed, with the shims and clampings of the session") {
    const Trial trial = run_of({PutThickness{At::left, 0.25}, five_cut(12.62, 12.0, 300.0), MakeCheck{Check::jaws}});
    REQUIRE(trial.notebook.size() == 2);
    const session::Note& note = trial.notebook[0];
    CHECK(note.typed);
    CHECK_FALSE(trial.notebook[1].typed);
    CHECK(note.report.readings[0].value == 12.62);
    CHECK(note.report.readings[2].u == 0.5);
    CHECK(note.report.occasion.behind_left_mm == 0.25);
    CHECK(note.report.occasion.clamped_again == 1);  // a shim was put in: the fence was loosened for it
    CHECK(session::words_of(note, 1, trial.seen.drawing, base::Units::metric).source == "typed by hand");
    CHECK(session::words_of(trial.notebook[1], 2, trial.seen.drawing, base::Units::metric).source.empty());
    // Minutes and board are what the simulated checks cost.
    CHECK(trial.seen.minutes == measure::info(Check::jaws).minutes);
}

TEST_CASE("a typed strip says what the closed form says") {
    // By hand: (12.62 - 12.00) / 300 = 2.0667e-3 over four corners: 0.517 mrad.
    const Trial trial = run_of({five_cut(12.62, 12.0, 300.0)});
    const std::string said = session::symptom(trial.seen, base::Units::metric);
    CHECK_MESSAGE(said.starts_with("By this strip alone the corner is off by 0.52 mm in 1 m"), said);
}

TEST_CASE("typed and simulated readings are weighed together; other sizes do not undo what a person has read") {
    const Actions both{MakeCheck{Check::five_cut}, jaws(0.05, 0.004)};
    const Trial trial = run_of(both);
    CHECK(session::holding(trial.seen).size() == 2);
    Actions resized = both;
    resized.push_back(SetValue{"caliper.limit", "0.02 mm"});
    const Trial after = run_of(resized);
    REQUIRE(after.notebook.size() == 2);  // nothing is erased
    CHECK_FALSE(after.notebook[0].holds());
    CHECK(after.notebook[1].typed);
    CHECK(after.notebook[1].holds());
    // A repair sets aside what depends on it, typed or not: the zero of the caliper shows when its jaws are closed.
    Actions repaired = both;
    repaired.push_back(session::Repair{shop::Fault::caliper_zero});
    CHECK_FALSE(run_of(repaired).notebook[1].holds());
}

TEST_CASE("the log keeps typed readings to the last bit, and says so in a sentence") {
    TypeReadings elsewhere = five_cut(12.0 + 1.0 / 3.0, 0.1 + 0.2, 298.123456789);
    elsewhere.stood = FenceStood{0.3, 0.05, 2};
    Log log{saw(), 6, measure::Precision::real, {five_cut(12.62, 12.0, 300.0), elsewhere, jaws(-0.013, 0.0)}};
    for (const bool real : {false, true}) {
        log.real_saw = real;
        const std::string text = session::to_text(log);
        CHECK(text.find("Write down what was read by hand: five-cut test.") != std::string::npos);
        const auto replay = session::replay(text, "job.jsonl");
        if (!replay) FAIL(replay.error().message);
        CHECK(replay->log.real_saw == real);
        CHECK(session::to_text(replay->log) == text);
        REQUIRE(look(replay->history).notebook.size() == 3);
        const session::Note note = look(replay->history).notebook[1];
        CHECK(note.report.readings[0].value == 12.0 + 1.0 / 3.0);
        CHECK(note.report.readings[1].value == 0.1 + 0.2);
        CHECK(note.report.occasion == measure::Occasion{Check::five_cut, 0.3, 0.05, 2});
    }
}

TEST_CASE("lines of typed readings that cannot be are refused, with their place in the file") {
    const std::string good = R"({"do":"type-readings","check":"five-cut","readings_mm":)"
                             R"({"fence_end":[12.1,0.02],"far_end":[12,0.02],"length":[298,0.5]}})";
    REQUIRE(session::replay(head(false) + good + "\n", "job.jsonl"));
    const auto with = [&](std::string_view from, std::string_view to) {
        std::string line = good;
        line.replace(line.find(from), from.size(), to);
        return line;
    };
    for (const std::string& line :
         {with("five-cut", "ten-cut"), with("\"far_end\":[12,0.02],", ""), with("far_end", "near_end"),
          with("[12,0.02]", "[12]"), with("[12,0.02]", "12"), with("[12,0.02]", "[12,-0.02]"),
          with("[12,0.02]", "[1e7,0.02]"), with("[12,0.02]", "[12,\"0.02\"]"), with("[12,0.02]", "[12,1e4]"),
          with("[298,0.5]", "[0.5,0.5]"), with("}}", "},\"behind_left_mm\":30}"),
          with("}}", "},\"behind_left_mm\":\"a\"}"), with("}}", "},\"clamped_again\":1.5}"),
          with("}}", "},\"clamped_again\":-1}"), with("}}", ",\"more\":[1,1]}}"), with("readings_mm", "readings")}) {
        CAPTURE(line);
        const auto replay = session::replay(head(false) + line + "\n", "job.jsonl");
        REQUIRE_FALSE(replay);
        CHECK(replay.error().grade == base::Grade::bad_data);
        CHECK(replay.error().message.starts_with("job.jsonl:2:"));
    }
    CHECK_FALSE(session::replay(
        R"({"offsquare_session":1,"program":"0.1.0","seed":1,"readings":"real","real_saw":"yes","scenario":""})"
        "\n",
        "job.jsonl"));
}

TEST_CASE("an action with readings that cannot be leaves the session as it was") {
    History run(saw(), 6);
    TypeReadings bad = five_cut(12.62, 12.0, 300.0);
    bad.readings.pop_back();
    CHECK_FALSE(run.act(bad));
    bad = five_cut(std::numeric_limits<double>::quiet_NaN(), 12.0, 300.0);
    CHECK_FALSE(run.act(bad));
    bad = five_cut(12.62, 12.0, 300.0);
    std::swap(bad.readings[0], bad.readings[1]);
    CHECK_FALSE(run.act(bad));
    CHECK(run.seen().checks.empty());
    CHECK(run.record().empty());
}

TEST_CASE("with more behind the fence than can be weighed no reading is typed, and the fence is not clamped for it") {
    // Two of the thickest shims make 40 mm; a readings file holds 20 at most.
    const Actions thick{PutThickness{At::left, 20.0}, PutThickness{At::left, 20.0}};
    History run(saw(), 6);
    for (const auto& action : thick) REQUIRE(run.act(action));
    const auto done = run.act(jaws(0.05, 0.004));
    REQUIRE_FALSE(done);
    CHECK(done.error().message.find("from 0 to 20 mm thick") != std::string::npos);
    CHECK(run.seen().checks.empty());
    CHECK(run.seen().clamped_again == 0);
}
