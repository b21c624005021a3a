// What a diagnosis is handed: another prior is another diagnosis, and neither priors nor threads disturb each other.
#include <doctest/doctest.h>

#include <algorithm>
#include <latch>
#include <thread>
#include <vector>

#include "measure/run_check.h"
#include "session/findings.h"
#include "session/model.h"
#include "shop/truth.h"
#include "repeats.h"

using namespace offsquare;
using diagnose::Diagnosis;
using measure::Check;
using measure::CheckReport;
using session::Assumptions;
using shop::Fault;

namespace {

std::size_t at(Fault fault) { return static_cast<std::size_t>(fault); }

std::vector<CheckReport> readings_of(const shop::Drawing& drawing, std::initializer_list<Check> checks) {
    shop::Truth truth;
    truth.fence_skew_rad = 0.6e-3;
    truth.fence_bow_mm = 0.03;
    truth.left_play_mm = truth.right_play_mm = 0.08;
    std::vector<CheckReport> reports;
    for (const Check check : checks) {
        const auto report =
            measure::run_check(check, {drawing, truth, {}, {}, 0}, 9, static_cast<std::uint32_t>(reports.size()));
        REQUIRE(report.has_value());
        reports.push_back(*report);
    }
    return reports;
}

/// All that a diagnosis says, to the last bit.
std::vector<double> numbers_of(const session::Findings& found) {
    std::vector<double> all;
    for (const diagnose::Belief& b : found.diagnosis.beliefs)
        all.insert(all.end(), {b.probability, b.size, b.u, b.coverage95.lo, b.coverage95.hi});
    for (const diagnose::Hypothesis& h : found.diagnosis.mixture.hypotheses) all.push_back(h.weight);
    all.push_back(found.next ? static_cast<double>(found.next->check) : -1.0);
    return all;
}

std::vector<double> found(const std::vector<CheckReport>& reports, const shop::Drawing& drawing,
                          const Assumptions& assumed) {
    const auto findings = session::find_out(reports, drawing, assumed);
    REQUIRE(findings.has_value());
    return numbers_of(*findings);
}

/// A shop in which fences are mostly bowed.
Assumptions of_bowed_fences(const shop::Drawing& drawing) {
    Assumptions other = session::usual_assumptions(drawing);
    diagnose::Lobes& bow = other.prior[at(Fault::fence_bow)];
    bow[0].weight = 0.1;
    bow[1].weight = bow[2].weight = 0.45;
    return other;
}

}  // namespace

TEST_CASE("another prior that is handed in is another diagnosis: the odds move by the ratio of the priors' odds") {
    const shop::Drawing drawing;
    const auto reports = readings_of(drawing, {Check::fence_straightedge});
    const Assumptions usual = session::usual_assumptions(drawing);
    const Assumptions bowed = of_bowed_fences(drawing);
    const auto odds = [&](const Assumptions& assumed) {
        const auto d = diagnose::infer(reports, drawing, assumed.model, assumed.prior);
        REQUIRE(d.has_value());
        const double p = d->beliefs[at(Fault::fence_bow)].probability;
        return p / (1.0 - p);
    };
    // Bayes: what the reading says of bowed against straight is the same in both shops, and the lobes' sizes are too.
    // Declared odds 1 to 3, here 9 to 1: 27 times. Hypotheses below 1e-7 are dropped, and weights are doubles.
    CHECK(odds(bowed) / odds(usual) == doctest::Approx(27.0).epsilon(1e-5));
}

TEST_CASE("two priors in one process do not disturb each other, nor does another saw's model" *
          doctest::skip(repeats::sanitized)) {
    const shop::Drawing drawing;
    const auto reports = readings_of(drawing, {Check::fence_straightedge, Check::five_cut});
    const Assumptions usual = session::usual_assumptions(drawing);
    const Assumptions bowed = of_bowed_fences(drawing);
    const std::vector<double> one = found(reports, drawing, usual);
    const std::vector<double> other = found(reports, drawing, bowed);
    CHECK(one != other);
    CHECK(found(reports, drawing, usual) == one);                         // the same model, after the other prior
    CHECK(found(reports, drawing, {usual.model, bowed.prior}) == other);  // a model knows no prior
    shop::Drawing larger = drawing;
    larger.board.width_mm += 100.0;
    CHECK(found(reports, larger, session::usual_assumptions(larger)) != one);
    CHECK(found(reports, drawing, session::usual_assumptions(drawing)) == one);
    const auto unasked = session::find_out(reports, drawing);
    REQUIRE(unasked.has_value());
    CHECK(numbers_of(*unasked) == one);
}

TEST_CASE("which check sees what is asked of the assumptions that are handed in") {
    const shop::Drawing drawing;
    Assumptions assumed = session::usual_assumptions(drawing);
    // Of a fence that never bows there is nothing to see: its lobes are as wide as dust on a straightedge.
    for (diagnose::Lobe& lobe : assumed.prior[at(Fault::fence_bow)]) {
        lobe.mean = 0.0;
        lobe.sd = 1e-9;
    }
    const auto sees_bow = [](const session::Sight& sight) {
        const auto& faults = sight[static_cast<std::size_t>(Check::fence_straightedge)];
        return std::find(faults.begin(), faults.end(), Fault::fence_bow) != faults.end();
    };
    CHECK(sees_bow(session::sight_of(drawing)));
    CHECK_FALSE(sees_bow(session::sight_of(assumed)));
}

TEST_CASE("one model asked by two threads at once answers both as it answers one") {
    const shop::Drawing drawing;
    const auto reports = readings_of(drawing, {Check::wiggle, Check::five_cut, Check::jaws});
    const Assumptions alone = session::usual_assumptions(drawing);
    const Assumptions alone_bowed = of_bowed_fences(drawing);
    const std::vector<double> wanted = found(reports, drawing, alone);
    const std::vector<double> wanted_bowed = found(reports, drawing, alone_bowed);

    const Assumptions shared = session::usual_assumptions(drawing);
    const diagnose::Model copied = shared.model;  // shares what it shares with the one that it is a copy of
    std::vector<double> first, second, third;
    std::latch together(3);
    const auto ask = [&](const diagnose::Model& model, const diagnose::Prior& prior, std::vector<double>& into) {
        together.arrive_and_wait();
        const auto findings = session::find_out(reports, drawing, {model, prior});
        if (findings) into = numbers_of(*findings);
    };
    {
        const std::jthread a([&] { ask(shared.model, shared.prior, first); });
        const std::jthread b([&] { ask(shared.model, alone_bowed.prior, second); });
        const std::jthread c([&] { ask(copied, shared.prior, third); });
    }
    CHECK(first == wanted);
    CHECK(second == wanted_bowed);
    CHECK(third == wanted);
    // And the one that was shared has not been spoilt.
    CHECK(found(reports, drawing, shared) == wanted);
}
