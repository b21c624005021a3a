// The beliefs of the diagnosis as a list of hypotheses. A hypothesis is a choice of lobe for each fault that a reading has touched so far (diagnose/prior.h), with a
// weight, and a normal distribution over the sizes. Faults that no reading touched keep their prior and take no room.
//
// One reading at a time:  each hypothesis says what it expects and how sure it is; the weights are multiplied by how well the reading fits, and the normal
// distributions are narrowed as in a Kalman filter. Where the forward model is straight within the lobes this is exact Bayes; where it is bent it is straightened at
// the place where each hypothesis stands, twice. A spread (dust, creep, play under an unsteady hand) adds to the noise of the reading, at the size that the hypothesis holds.
//
// Where it stops: hypotheses whose weight falls below `lightest` of the heaviest are dropped, and what they weighed is kept in `dropped`.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "diagnose/observe.h"
#include "diagnose/prior.h"
#include "measure/check.h"

namespace offsquare::diagnose {

/// What a check would read on a saw with these faults, without the instrument's own noise.
struct Prediction {
    std::vector<double> mean;       ///< by observable, as `observe` gives them
    std::vector<double> variance;   ///< what chance adds: chips, a wandering hand, clamps
    std::vector<double> u;          ///< standard uncertainty that the instrument will have, for checks that are not made yet
};
/// The forward model of assumed errors, handed in by whoever may simulate. Empty: with these faults the sled does not move, or no strip comes of the test.
using Model = std::function<std::optional<Prediction>(const measure::Occasion&, const Sizes&)>;

inline constexpr std::uint8_t untouched = 255;
inline constexpr double lightest = 1e-7;
inline constexpr std::size_t most_hypotheses = 6000;

/// Sizes of the faults, and after them lasting errors of instruments that were used more than once.
struct Hypothesis {
    std::array<std::uint8_t, shop::fault_count> lobe{};   ///< index into the prior's lobes, or `untouched`
    double weight = 1.0;                                  ///< all weights sum to 1
    std::vector<double> mean;
    std::vector<double> covariance;                       ///< row by row, mean.size() squared
};

struct Mixture {
    std::vector<Hypothesis> hypotheses;
    double dropped = 0.0;          ///< weight that was let go, in all
};

/// One hypothesis, nothing touched; `extra` more states of standard deviation given.
Mixture start(const Prior& prior, const std::vector<double>& lasting_errors);

/// Gives a lobe to each of these faults in every hypothesis.
void touch(Mixture& mixture, const Prior& prior, const std::vector<shop::Fault>& faults);

/// What one observable is about.
struct Sighting {
    measure::Occasion occasion;
    std::size_t index = 0;                    ///< which observable of the check
    Observable seen;
    std::optional<std::size_t> lasting;       ///< state of the lasting error, when it has one of its own
    std::vector<shop::Fault> faults;          ///< that its expected value depends on
};

/// What one hypothesis expects of a whole check: a normal distribution over its observables.
struct Foreseen {
    double weight = 0.0;
    std::vector<double> mean;
    std::vector<double> covariance;   ///< row by row
};
/// Left out: hypotheses under which the model has no answer.
std::vector<Foreseen> foresee(const Mixture& mixture, const measure::Occasion& occasion, const std::vector<shop::Fault>& faults, const Model& model);

/// The same model, which looks up what it was asked before.
Model remembering(const Model& model);

/// How well the reading fitted what was expected before it: the probability of a reading at least as odd, over all hypotheses. In [0, 1].
double assimilate(Mixture& mixture, const Sighting& sighting, const Model& model);

/// The faults that a check can see at all.
struct Seen {
    std::vector<shop::Fault> any;     ///< on which what it reads depends, or how much it scatters
    std::vector<shop::Fault> value;   ///< on which what it reads depends
};
/// Tried over the lobes of the prior, one fault at a time, with tight and with loose runners. A thousandth of the instrument's uncertainty is nothing.
Seen seen_by(const measure::Occasion& occasion, const Model& model, const Prior& prior);

}  // namespace offsquare::diagnose
