// Saws drawn from the prior, the job done on each by what should be done next, and what the verdict about the fence was
// worth. The truth is looked at afterwards only: what the saw cuts on average is found by cutting it, with instruments
// that do not err.
#pragma once

#include <cmath>
#include <optional>

#include "session/history.h"
#include "session/next.h"
#include "session/random_saws.h"
#include "session/saw.h"

namespace random_jobs {

using namespace random_saws;

/// The mean over chance of the skew that a strip of this board shows, the fence brushed before each cut [rad]: that is
/// what the verdict is about. Empty: the sled binds.
inline std::optional<double> cut_on_average(const session::Saw& saw, std::uint64_t seed) {
    shop::Drawing d = saw.scenario.drawing;
    d.caliper = {"perfect", 0.0, 0.0, 0.0, 0};
    d.tape = {0.0, 0.0};
    shop::Truth truth = session::as_clamped(saw);
    truth.caliper_zero_mm = truth.caliper_step_mm = 0.0;
    const contact::Shims shims = session::true_shims(saw);
    const std::uint32_t runs = d.sled.hand == shop::Hand::wandering ? 60 : 1;
    double sum = 0.0;
    for (std::uint32_t i = 0; i < runs; ++i) {
        const auto report =
            measure::run_check(measure::Check::brushed, {d, truth, shims, shims, 0, measure::Cuts::coarse}, seed, i);
        if (!report) return std::nullopt;
        const auto skew = diagnose::observe(*report, d);
        sum += skew->front().value;
    }
    return sum / runs;
}

/// One saw with the job done on it.
struct Done {
    Saw saw;
    double cuts_rad = 0.0;  ///< on average, at the end
    double skew_rad = 0.0;  ///< of the fence itself, at the end
    double tolerance_rad = 0.0;
    base::Interval first;  ///< what was said of it after the first test
    double first_cuts_rad = 0.0;
    base::Interval said;  ///< and in the end
    diagnose::State state = diagnose::State::undecided;
    session::Todo ends = session::Todo::done;
    double minutes = 0.0;
    std::size_t tests = 0;
    bool passes() const { return state == diagnose::State::pass; }
    bool held() const { return said.lo <= cuts_rad && cuts_rad <= said.hi; }
    bool first_held() const { return first.lo <= first_cuts_rad && first_cuts_rad <= first.hi; }
    bool wrong_pass() const { return passes() && std::fabs(cuts_rad) > tolerance_rad; }
    bool skewed_pass() const { return passes() && std::fabs(skew_rad) > tolerance_rad; }
};

/// By what should be done next, as `offsquare job` does. Empty: no test gave a strip.
inline std::optional<Done> job_of(const Saw& saw, const scenario::Scenario& like, std::uint64_t seed,
                                  const session::Ways& ways) {
    scenario::Scenario scenario = like;
    scenario.truth = saw.truth;
    session::History history(scenario, seed);
    Done done{saw, 0.0, 0.0, like.drawing.tolerance_rad, {}, 0.0, {}};
    bool first = true;
    for (int step = 0; step < 200; ++step) {
        const session::Next next = session::next_in_job(history.seen(), ways);
        const session::Test* test = history.seen().last_test();
        if (first && test != nullptr && test->worked_out) {
            const auto cuts = cut_on_average(session::saw_of(history), seed);
            if (!cuts) return std::nullopt;
            done.first = test->verdict->coverage95;
            done.first_cuts_rad = *cuts;
            first = false;
        }
        done.ends = next.todo;
        if (next.intention.empty() || next.todo == session::Todo::cut_otherwise) break;
        if (!history.act(next.intention)) return std::nullopt;
    }
    const session::Test* test = history.seen().last_test();
    if (test == nullptr || !test->verdict) return std::nullopt;
    const auto cuts = cut_on_average(session::saw_of(history), seed);
    if (!cuts) return std::nullopt;
    done.cuts_rad = *cuts;
    done.skew_rad = session::skew_now_rad(session::saw_of(history));
    done.said = test->verdict->coverage95;
    done.state = test->verdict->state;
    done.minutes = history.seen().minutes;
    done.tests = history.seen().tests.size();
    return done;
}

/// A saw on which this fault alone is present, of its usual size; without one, a clean saw.
inline Saw saw_with_only(std::optional<shop::Fault> fault, const shop::Drawing& drawing, Random& random) {
    for (;;) {
        Saw saw;
        for (const shop::FaultInfo& f : shop::faults()) {
            const diagnose::Lobes& lobes = diagnose::declared_prior()[static_cast<std::size_t>(f.fault)];
            const bool present = fault == f.fault;
            const std::size_t k = present ? 1 + random() % (lobes.size() - 1) : 0;
            const double size = lobes[k].mean + lobes[k].sd * std::normal_distribution<double>()(random);
            shop::size_of(saw.truth, f.fault) = std::clamp(size, f.min, f.max);
            saw.present[static_cast<std::size_t>(f.fault)] = present;
        }
        if (goes(drawing, saw.truth)) return saw;
    }
}

struct Tally {
    int jobs = 0;
    int held = 0;
    int first_held = 0;
    int passes = 0;
    int wrong = 0;
    int skewed = 0;           ///< passes of a fence that itself is out
    int skewed_straight = 0;  ///< of these, on a fence that is not bowed
    int fails = 0;
    int open = 0;
    int changing = 0;
    std::vector<double> minutes;
};

inline void add(Tally& t, const Done& d) {
    ++t.jobs;
    t.held += d.held() ? 1 : 0;
    t.first_held += d.first_held() ? 1 : 0;
    t.passes += d.passes() ? 1 : 0;
    t.wrong += d.wrong_pass() ? 1 : 0;
    t.skewed += d.skewed_pass() ? 1 : 0;
    const bool bowed = d.saw.present[static_cast<std::size_t>(shop::Fault::fence_bow)];
    t.skewed_straight += d.skewed_pass() && !bowed ? 1 : 0;
    t.fails += d.state == diagnose::State::fail ? 1 : 0;
    t.open += d.state == diagnose::State::undecided ? 1 : 0;
    t.minutes.push_back(d.minutes);
}

inline double median(std::vector<double> v) {
    std::sort(v.begin(), v.end());
    return v.empty() ? 0.0 : v[v.size() / 2];
}

}  // namespace random_jobs
