// Saws drawn from the prior that the program declares, checked for real, and how well the diagnosis then knew them.
// Shares nothing with the diagnosis but the prior's numbers: own random numbers, own binning, and the truth only looked
// at afterwards.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <type_traits>
#include <vector>

#include "cut/five_cut.h"
#include "diagnose/infer.h"
#include "measure/run_check.h"
#include "session/model.h"
#include "shop/truth.h"

namespace random_saws {

using namespace offsquare;
using Random = std::mt19937_64;

struct Saw {
    shop::Truth truth;
    std::array<bool, shop::fault_count> present{};
};

inline double uniform(Random& random) { return std::uniform_real_distribution<double>(0.0, 1.0)(random); }

inline Saw any_saw(Random& random) {
    Saw saw;
    for (const shop::FaultInfo& f : shop::faults()) {
        const auto i = static_cast<std::size_t>(f.fault);
        const diagnose::Lobes& lobes = diagnose::declared_prior()[i];
        double left = uniform(random);
        std::size_t k = 0;
        while (k + 1 < lobes.size() && left >= lobes[k].weight) left -= lobes[k++].weight;
        const double size = lobes[k].mean + lobes[k].sd * std::normal_distribution<double>()(random);
        shop::size_of(saw.truth, f.fault) = std::clamp(size, f.min, f.max);
        saw.present[i] = lobes[k].present;
    }
    return saw;
}

inline bool goes(const shop::Drawing& drawing, const shop::Truth& truth) {
    return cut::five_cut(drawing, truth, {}).outcome == cut::Outcome::done;
}

/// A saw whose sled moves; others are drawn again.
inline Saw saw_that_goes(const shop::Drawing& drawing, Random& random) {
    for (;;) {
        const Saw saw = any_saw(random);
        if (goes(drawing, saw.truth)) return saw;
    }
}

/// Plays of both runners that are all a good fit [mm]: from nothing to a feeler that just goes in.
inline constexpr std::array<double, 4> good_fits{0.0, 0.03, 0.06, 0.09};

/// A saw of the prior whose runners fit like this. Where hardly any such saw goes, and without any play none does, its
/// guides are true besides.
inline Saw saw_that_fits(const shop::Drawing& drawing, double play_mm, Random& random) {
    constexpr int patience = 40;
    for (int i = 0;; ++i) {
        Saw saw = any_saw(random);
        for (const shop::FaultInfo& f : shop::faults()) {
            const bool play = f.fault == shop::Fault::left_play || f.fault == shop::Fault::right_play;
            const bool guide = f.group == shop::Group::guides;
            if (!play && !(guide && (play_mm == 0.0 || i == patience))) continue;
            shop::size_of(saw.truth, f.fault) = play ? play_mm : 0.0;
            saw.present[static_cast<std::size_t>(f.fault)] = false;
        }
        if (goes(drawing, saw.truth)) return saw;
    }
}

/// A set of checks, and how often the fence was clamped anew before each.
struct Evening {
    const char* name;
    std::vector<measure::Check> checks;
    std::vector<int> clamped{};  ///< by check; none: never
    bool fitted = false;         ///< every saw has one of good_fits, by turns
};

inline std::vector<Evening> evenings() {
    using enum measure::Check;
    std::vector<measure::Check> all;
    for (const measure::CheckInfo& c : measure::checks()) all.push_back(c.check);
    return {
        {"direct",
         {fence_straightedge, fence_square, blade_square, rim_indicator, tooth_indicator, jaws, clamp_watch,
          edge_straightedge}},
        {"five-cut", {five_cut}},
        {"cuts", {five_cut, same_again, long_and_short, brushed}},
        {"usual", {five_cut, square_on_cut, fence_straightedge, tooth_indicator, wiggle, jaws, kerf_width}},
        {"guides", {wiggle, runner_fit, slot_widths, slot_ride, runner_spacing, five_cut}},
        {"glance", {cut_face, slot_widths, runner_spacing, gauge_in_jaws, rim_indicator}},
        {"gauges", {cut_face, gauge_in_jaws}},  // a millisecond each, and often in doubt
        {"clamped", {five_cut, clamp_watch, five_cut, square_on_cut, five_cut}, {0, 0, 1, 1, 2}},
        {"all", all},
        {"fits", all, {}, true},
    };
}

/// Empty: some check cannot be made on this saw. A clamping turns the fence away from where it was set.
inline std::vector<measure::CheckReport> checked(const Evening& evening, const shop::Drawing& drawing,
                                                 const shop::Truth& truth, Random& random) {
    std::vector<measure::CheckReport> reports;
    const std::uint64_t seed = random();
    shop::Truth now = truth;
    int last = 0;
    for (std::size_t i = 0; i < evening.checks.size(); ++i) {
        const int clamped = evening.clamped.empty() ? 0 : evening.clamped[i];
        if (clamped != last)
            now.fence_skew_rad =
                truth.fence_skew_rad + truth.clamp_creep_rad * std::normal_distribution<double>()(random);
        last = clamped;
        const auto report =
            measure::run_check(evening.checks[i], measure::Stand{drawing, now, {}, {}, clamped, measure::Cuts::coarse},
                               seed, static_cast<std::uint32_t>(i));
        if (!report) return {};
        reports.push_back(*report);
    }
    return reports;
}

/// One saw with what was read on it.
struct Case {
    Saw saw;
    std::vector<measure::CheckReport> reports;
};

/// The case of this number, the same for ever. A saw on which the evening cannot be ended is drawn again.
inline Case case_of(const Evening& evening, const shop::Drawing& drawing, std::uint64_t number) {
    std::seed_seq seeds(evening.name, evening.name + std::char_traits<char>::length(evening.name));
    Random random(seeds);
    random.seed(random() + 7919 * number);
    for (;;) {
        Case one{evening.fitted ? saw_that_fits(drawing, good_fits[number % good_fits.size()], random)
                                : saw_that_goes(drawing, random),
                 {}};
        one.reports = checked(evening, drawing, one.saw.truth, random);
        if (!one.reports.empty()) return one;
    }
}

struct Bin {
    int n = 0;
    double said = 0.0;      ///< sum of probabilities
    double came = 0.0;      ///< how many were there
    double variance = 0.0;  ///< of `came`, if the probabilities are right
    double off() const { return n > 0 ? (came - said) / n : 0.0; }
    double sampling() const { return n > 0 ? std::sqrt(variance) / n : 0.0; }
};

/// The same diagnoses once more, for what chance alone does: in each replay every saw is what one of the hypotheses
/// says, drawn by its weight. So faults of one saw hang together as they do.
inline constexpr std::size_t replays = 400;
using Came = std::array<double, 10>;  ///< by bin: how many were there

/// What came of many diagnoses.
struct Score {
    std::array<Bin, 10> bins;
    std::array<Came, replays> replayed{};
    double brier = 0.0;                          ///< sum of squares of probability less 1 or 0
    std::array<int, shop::fault_count> asked{};  ///< how often the size was looked at
    std::array<int, shop::fault_count> held{};   ///< how often its interval held the truth
    std::array<int, shop::fault_count> below{};  ///< how often the truth lay below it
    std::array<int, shop::fault_count> above{};
    std::array<Bin, shop::fault_count> by_fault;
    int diagnoses = 0;
    int named = 0;
    int named_wrongly = 0;
    int ruled_out = 0;
    int ruled_out_wrongly = 0;
    int with_contradiction = 0;
};

inline void add_to(Bin& bin, double p, bool there) {
    ++bin.n;
    bin.said += p;
    bin.came += there ? 1.0 : 0.0;
    bin.variance += p * (1.0 - p);
}

inline std::size_t bin_of(double p) { return static_cast<std::size_t>(std::clamp(static_cast<int>(10.0 * p), 0, 9)); }

/// One hypothesis, by its weight.
inline const diagnose::Hypothesis& drawn(const std::vector<diagnose::Hypothesis>& all, Random& random) {
    double left = uniform(random);
    std::size_t i = 0;
    while (i + 1 < all.size() && left >= all[i].weight) left -= all[i++].weight;
    return all[i];
}

inline void replay(Score& score, const diagnose::Diagnosis& d, std::uint64_t number) {
    Random random(number);
    for (Came& came : score.replayed) {
        const diagnose::Hypothesis& h = drawn(d.mixture.hypotheses, random);
        for (const diagnose::Belief& b : d.beliefs) {
            const auto i = static_cast<std::size_t>(b.fault);
            if (b.touched && diagnose::declared_prior()[i][h.lobe[i]].present) came[bin_of(b.probability)] += 1.0;
        }
    }
}

/// How far the bins are off altogether, each against its own sampling (as in the test of Hosmer and Lemeshow, from
/// memory). What is nearly sure tells nothing that way: at least a quarter of a case.
inline double off_altogether(const std::array<Bin, 10>& bins, const Came& came) {
    double sum = 0.0;
    for (std::size_t i = 0; i < bins.size(); ++i)
        sum += (came[i] - bins[i].said) * (came[i] - bins[i].said) / std::max(bins[i].variance, 0.25);
    return sum;
}

/// Share of replays that are off at least as far: as good as drawn from 0 to 1 if the probabilities are right.
inline double chance_of_more(const Score& score) {
    Came real{};
    for (std::size_t i = 0; i < real.size(); ++i) real[i] = score.bins[i].came;
    const double off = off_altogether(score.bins, real);
    const auto more = std::count_if(score.replayed.begin(), score.replayed.end(),
                                    [&](const Came& came) { return off_altogether(score.bins, came) >= off; });
    return (1.0 + static_cast<double>(more)) / (1.0 + static_cast<double>(replays));
}

/// Standard deviation of how many come in one bin, over the replays: unlike Bin::variance it knows that the faults of
/// one saw hang together.
inline double spread_of(const Score& score, std::size_t bin) {
    double sum = 0.0;
    double squares = 0.0;
    for (const Came& came : score.replayed) {
        sum += came[bin];
        squares += came[bin] * came[bin];
    }
    const double mean = sum / static_cast<double>(replays);
    return std::sqrt(std::max(0.0, squares / static_cast<double>(replays) - mean * mean));
}

inline void add(Score& score, const diagnose::Diagnosis& d, const Saw& saw) {
    ++score.diagnoses;
    score.with_contradiction += d.contradictions.empty() ? 0 : 1;
    for (const diagnose::Belief& b : d.beliefs) {
        if (!b.touched) continue;
        const auto i = static_cast<std::size_t>(b.fault);
        const double truth = shop::size_of(saw.truth, b.fault);
        ++score.asked[i];
        score.held[i] += b.coverage95.lo <= truth && truth <= b.coverage95.hi ? 1 : 0;
        score.below[i] += truth < b.coverage95.lo ? 1 : 0;
        score.above[i] += truth > b.coverage95.hi ? 1 : 0;
        add_to(score.bins[bin_of(b.probability)], b.probability, saw.present[i]);
        const double missed = b.probability - (saw.present[i] ? 1.0 : 0.0);
        score.brier += missed * missed;
        add_to(score.by_fault[i], b.probability, saw.present[i]);
        score.named += b.probability >= 0.95 ? 1 : 0;
        score.named_wrongly += b.probability >= 0.95 && !saw.present[i] ? 1 : 0;
        score.ruled_out += b.probability <= 0.05 ? 1 : 0;
        score.ruled_out_wrongly += b.probability <= 0.05 && saw.present[i] ? 1 : 0;
    }
}

/// Every number of a score, always in the same order: to add scores up, to write them down and to read them again.
template <class F>
void each_number(Score& score, F f) {
    const auto each_bin = [&](auto& bins) {
        for (Bin& b : bins) f(b.n), f(b.said), f(b.came), f(b.variance);
    };
    each_bin(score.bins);
    each_bin(score.by_fault);
    for (auto* list : {&score.asked, &score.held, &score.below, &score.above}) {
        for (int& n : *list) f(n);
    }
    for (Came& came : score.replayed) {
        for (double& n : came) f(n);
    }
    f(score.brier);
    for (int* n : {&score.diagnoses, &score.named, &score.named_wrongly, &score.ruled_out, &score.ruled_out_wrongly,
                   &score.with_contradiction})
        f(*n);
}

inline std::vector<double> numbers_of(Score score) {
    std::vector<double> all;
    each_number(score, [&](const auto& n) { all.push_back(static_cast<double>(n)); });
    return all;
}

inline void add_numbers(Score& score, const std::vector<double>& numbers) {
    std::size_t i = 0;
    each_number(score, [&](auto& n) { n += static_cast<std::remove_reference_t<decltype(n)>>(numbers[i++]); });
}

inline void merge(Score& a, const Score& b) { add_numbers(a, numbers_of(b)); }

}  // namespace random_saws
