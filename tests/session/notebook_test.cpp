// Checks and repairs as actions: written down, undone, saved, replayed, and set aside when they no longer hold.
#include <doctest/doctest.h>

#include <algorithm>

#include "session/findings.h"
#include "session/log.h"
#include "session/job.h"
#include "session/repair.h"
#include "shop/truth.h"

using namespace job;
using measure::Check;
using session::MakeCheck;
using session::Repair;
using shop::Fault;

namespace {

Trial run_of(const scenario::Scenario& s, const Actions& actions, std::uint64_t seed = 4) {
    return job::run(s, actions, seed).value();
}

double value(const Trial& t, std::size_t note, std::size_t reading = 0) {
    return t.notebook.at(note).report.readings.at(reading).value;
}

}  // namespace

TEST_CASE("a check is written down with its cost, and the same seed reads the same") {
    const Trial t = run_of(saw(), {MakeCheck{Check::kerf_width}, MakeCheck{Check::wiggle}});
    REQUIRE(t.notebook.size() == 2);
    CHECK(t.seen.minutes == measure::info(Check::kerf_width).minutes + measure::info(Check::wiggle).minutes);
    CHECK(value(t, 0) == value(run_of(saw(), {MakeCheck{Check::kerf_width}, MakeCheck{Check::wiggle}}), 0));
    CHECK(value(t, 0) == value(run_of(saw(), {MakeCheck{Check::kerf_width}}), 0));
}

TEST_CASE("one check more shifts no reading of the others, nor of the five-cut test") {
    const Trial plain = run_of(saw(), cut_and_read());
    const Trial more = run_of(saw(), Actions{MakeCheck{Check::jaws}, MakeCheck{Check::clamp_watch}} + cut_and_read());
    CHECK(plain.tests.back().fence_end.back().value_mm == more.tests.back().fence_end.back().value_mm);
    CHECK(plain.tests.back().far_end.back().value_mm == more.tests.back().far_end.back().value_mm);
}

TEST_CASE("a repair leaves a little, sets aside what depended on the fault, and keeps the rest") {
    scenario::Scenario s = saw();
    s.truth->blade_toe_rad = 1.5e-3;
    const Trial t = run_of(s, {MakeCheck{Check::tooth_indicator}, MakeCheck{Check::fence_straightedge},
                               Repair{Fault::blade_toe}, MakeCheck{Check::tooth_indicator}});
    REQUIRE(t.notebook.size() == 3);
    CHECK_FALSE(t.notebook[0].holds());
    CHECK(t.notebook[1].holds());
    CHECK(t.notebook[2].holds());
    CHECK(t.saw.truth().blade_toe_rad != 0.0);
    // "About as small as on any good saw, half as much again": the prior's spread of an absent toe is 0.05 mrad; five
    // such spreads hold all but two in a million.
    CHECK(std::abs(t.saw.truth().blade_toe_rad) < 5 * 1.5 * 0.05e-3);
    // What the indicator reads changes with it: 1.5 mrad over some 200 mm is 0.3 mm.
    const auto across = [&](std::size_t n) { return std::abs(value(t, n, 1) - value(t, n, 0)); };
    CHECK(across(0) > 0.25);
    CHECK(across(2) < 0.12);
}

TEST_CASE("what no longer holds keeps the reason and the time of its end, whatever comes after") {
    // A five-cut test tells of both: the runners turn the sled, and the board lies on the fence.
    const Actions first{MakeCheck{Check::five_cut}, Repair{Fault::left_play}};
    const Trial once = run_of(saw(), first);
    const Trial twice = run_of(saw(), first + Actions{MakeCheck{Check::five_cut}, Repair{Fault::fence_bow}});
    REQUIRE(once.notebook.at(0).ended.has_value());
    REQUIRE(twice.notebook.at(0).ended.has_value());
    CHECK(twice.notebook[0].ended->since == 2);
    CHECK(twice.notebook[0].ended->fault == Fault::left_play);
    CHECK(session::sentence_of(*twice.notebook[0].ended) == session::sentence_of(*once.notebook[0].ended));
    REQUIRE(twice.notebook.at(1).ended.has_value());
    CHECK(twice.notebook[1].ended->since == 4);
    CHECK(twice.notebook[1].ended->fault == Fault::fence_bow);
}

TEST_CASE("read exactly, a repair is perfect") {
    for (const shop::FaultInfo& f : shop::faults())
        CHECK(session::left_over(f.fault, 1, 0, measure::Precision::exact) == 0.0);
}

TEST_CASE("repairs of many saws leave what they promise: the mean of a good saw and half as much again of its spread") {
    // 4000 repairs: the mean is known to 1/63 of the spread, the spread to 1/89 of itself; five of these are allowed.
    for (const Fault fault : {Fault::blade_toe, Fault::fence_bow, Fault::pitch_error}) {
        double sum = 0.0, square = 0.0;
        constexpr int n = 4000;
        for (int i = 0; i < n; ++i) {
            const double x = session::left_over(fault, static_cast<std::uint64_t>(i), 0, measure::Precision::real);
            sum += x;
            square += x * x;
        }
        const double sd = 1.5 * diagnose::declared_prior()[static_cast<std::size_t>(fault)].front().sd;
        CHECK(std::abs(sum / n) < 5 * sd / std::sqrt(n));
        // As a share: doctest adds 1 to the scale of what it compares, and these sizes are far below 1.
        CHECK(std::abs(std::sqrt(square / n) / sd - 1.0) < 5 / std::sqrt(2.0 * n));
    }
}

TEST_CASE("a fence that is clamped again creeps, a fence that was left alone does not") {
    scenario::Scenario s = saw();
    s.truth->clamp_creep_rad = 1e-3;
    const double as_it_was = run_of(s, {CutTest{}, CutTest{}}).cut_skew_rad();
    CHECK(as_it_was == doctest::Approx(s.truth->fence_skew_rad).epsilon(1e-12));
    const Trial again = run_of(s, {CutTest{}, PutThickness{At::left, 0.0}, CutTest{}});
    CHECK(again.seen.clamped_again == 1);
    CHECK(std::abs(again.cut_skew_rad() - as_it_was) > 1e-6);
    CHECK(again.skew_now_rad() == doctest::Approx(again.cut_skew_rad()).epsilon(1e-12));
}

TEST_CASE("checks and repairs undo, are saved, and replay to the same numbers") {
    const Actions actions = {MakeCheck{Check::five_cut}, MakeCheck{Check::wiggle}, Repair{Fault::right_play},
                             MakeCheck{Check::wiggle}};
    const Trial t = run_of(saw(), actions);
    const session::Log log = job::log_of(saw(), 4, measure::Precision::real, actions);
    const std::string text = session::to_text(log);
    const auto again = session::replay(text, "test");
    REQUIRE(again.has_value());
    REQUIRE(again->log.entries.size() == actions.size());
    CHECK(session::to_text(again->log) == text);
    CHECK(value(look(again->history), 2) == value(t, 2));
    for (const Action& a : actions) CHECK(session::sentence_of(a, saw().drawing, base::Units::metric).ends_with("."));
}

TEST_CASE("findings: a bowed fence and a straight one are told apart, and the sentences say it") {
    scenario::Scenario s = saw();
    s.truth = shop::Truth{};
    s.truth->fence_bow_mm = 0.25;
    const Trial t = run_of(s, {MakeCheck{Check::five_cut}, MakeCheck{Check::fence_straightedge}});
    std::vector<measure::CheckReport> reports;
    for (const session::Note& n : t.notebook) reports.push_back(n.report);
    const auto found = session::find_out(reports, s.drawing);
    REQUIRE(found.has_value());
    const diagnose::Belief& bow = found->diagnosis.beliefs[static_cast<std::size_t>(Fault::fence_bow)];
    CHECK(session::standing_of(bow) == session::Standing::supported);
    CHECK(session::sentence_of(bow, base::Units::metric).starts_with("There: fence bowed"));
    CHECK(session::standing_of(found->diagnosis.beliefs[static_cast<std::size_t>(Fault::blade_tilt)]) ==
          session::Standing::untouched);
    CHECK(found->diagnosis.unseparated.empty());
}
