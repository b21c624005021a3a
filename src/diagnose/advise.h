// Which check to make next: what each would tell, for the minutes that it takes.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "diagnose/infer.h"

namespace offsquare::diagnose {

/// Uncertainty of a choice [bits]; the probabilities sum to 1.
double entropy_bits(std::span<const double> probabilities);

/// What an outcome tells about a hypothesis, before it is known (mutual information, Shannon 1948) [bits].
/// `outcome_given[i][k]`: probability of outcome k under hypothesis i; each row sums to 1, as do the weights.
double information_bits(std::span<const double> weights, std::span<const std::vector<double>> outcome_given);

/// The same where the outcome is a set of readings, normal under each hypothesis (weights need not sum to 1). One
/// reading: by 64 points under each hypothesis, within 0.001 bits unless one is more than twenty times as wide as
/// another; several: by 64 random ones, fixed once and for all, within about 0.05 bits.
double information_bits(std::span<const Foreseen> foreseen);
/// The same about the group that the truth belongs to; `groups`: the group of each hypothesis.
double information_bits(std::span<const Foreseen> foreseen, std::span<const int> groups);

/// One check, seen from what is believed now.
struct Advice {
    measure::Check check = measure::Check::five_cut;
    double bits = 0.0;  ///< about which faults are there, and to which side; how large they are does not count
    double bits_per_minute = 0.0;
};

/// Every check by falling bits per minute, on the saw as it stands `now` (its check does not matter). Looks at the
/// heaviest hypotheses only: what they leave out would change the order little.
std::vector<Advice> advise(const Diagnosis& diagnosis, const measure::Occasion& now, const Model& model,
                           const Prior& prior);

/// The check that tells these two apart best for its minutes; empty when none tells a twentieth of a bit.
std::optional<measure::Check> separating(const LookAlikes& pair, const Diagnosis& diagnosis,
                                         const measure::Occasion& now, const Model& model, const Prior& prior);

}  // namespace offsquare::diagnose
