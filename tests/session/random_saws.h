// Saws drawn from the prior that the program declares, checked for real, and how well the diagnosis then knew them. Shares nothing with the diagnosis but the prior's numbers:
// own random numbers, own binning, and the truth only looked at afterwards.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "cut/five_cut.h"
#include "diagnose/infer.h"
#include "measure/run_check.h"
#include "session/model.h"

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

inline bool goes(const shop::Drawing& drawing, const shop::Truth& truth) { return cut::five_cut(drawing, truth, {}).outcome == cut::Outcome::done; }

/// A saw whose sled moves; others are drawn again.
inline Saw saw_that_goes(const shop::Drawing& drawing, Random& random) {
    for (;;) {
        const Saw saw = any_saw(random);
        if (goes(drawing, saw.truth)) return saw;
    }
}

inline std::vector<measure::CheckReport> checked(const std::vector<measure::Check>& checks, const shop::Drawing& drawing, const shop::Truth& truth, std::uint64_t seed) {
    std::vector<measure::CheckReport> reports;
    for (const measure::Check check : checks) {
        const auto report = measure::run_check(check, measure::Stand{drawing, truth, {}, {}, 0}, seed, static_cast<std::uint32_t>(reports.size()));
        if (!report) return {};
        reports.push_back(*report);
    }
    return reports;
}

struct Bin {
    int n = 0;
    double said = 0.0;       ///< sum of probabilities
    double came = 0.0;       ///< how many were there
    double variance = 0.0;   ///< of `came`, if the probabilities are right
    double off() const { return n > 0 ? (came - said) / n : 0.0; }
    double sampling() const { return n > 0 ? std::sqrt(variance) / n : 0.0; }
};

/// What came of many diagnoses.
struct Score {
    std::array<Bin, 10> bins;
    std::array<int, shop::fault_count> asked{};   ///< how often the size was looked at
    std::array<int, shop::fault_count> held{};    ///< how often its interval held the truth
    std::array<Bin, shop::fault_count> by_fault;
    int diagnoses = 0;
    int named = 0;
    int named_wrongly = 0;
    int readings = 0;
    int with_contradiction = 0;
};

inline void add_to(Bin& bin, double p, bool there) {
    ++bin.n;
    bin.said += p;
    bin.came += there ? 1.0 : 0.0;
    bin.variance += p * (1.0 - p);
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
        add_to(score.bins[static_cast<std::size_t>(std::clamp(static_cast<int>(10.0 * b.probability), 0, 9))], b.probability, saw.present[i]);
        add_to(score.by_fault[i], b.probability, saw.present[i]);
        score.named += b.probability >= 0.95 ? 1 : 0;
        score.named_wrongly += b.probability >= 0.95 && !saw.present[i] ? 1 : 0;
    }
}

}  // namespace random_saws
