// The beliefs of the diagnosis as a list of hypotheses. A hypothesis is a choice of lobe for each fault that a reading
// has touched so far (diagnose/prior.h), with a weight, and a normal distribution over the sizes. Faults that no
// reading touched keep their prior and take no room.
//
// One reading at a time:  each hypothesis says what it expects and how sure it is; the weights are multiplied by how
// well the reading fits, and the normal distributions are narrowed as in a Kalman filter. Where the forward model is
// straight within the lobes this is exact Bayes; where it is bent it is straightened over what each hypothesis holds
// possible, and again over what the reading leaves of that (diagnose/straight.h). A spread (dust, creep, play under an
// unsteady hand) adds to the noise of the reading, at the size that the hypothesis holds.
//
// Faults that can bind the sled get their lobes together: a saw whose sled does not move is not among those that are
// believed in, so that a loose runner is likelier where another fault needs the room; and where the sled jams, a saw
// whose sled goes is not. How much of each choice of lobes goes, and where in it, is found by some hundreds of draws,
// fixed once and for all.
//
// Where it stops: hypotheses whose weight falls below `lightest` of the heaviest are dropped, and what they weighed is
// kept in `dropped`.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <type_traits>
#include <utility>
#include <vector>

#include "diagnose/observe.h"
#include "diagnose/prior.h"
#include "measure/check.h"
#include "measure/going.h"

namespace offsquare::diagnose {

/// What a check would read on a saw with these faults, without the instrument's own noise.
struct Prediction {
    std::vector<double> mean;      ///< by observable, as `observe` gives them
    std::vector<double> variance;  ///< what chance adds to u^2: chips, a wandering hand, clamps; below 0 where a
                                   ///< sticking instrument is surer to show one number than its u says
    std::vector<double> u;  ///< standard uncertainty that the instrument will have, for checks that are not made yet
};
/// What goes of each choice of lobes (diagnose/lobes.h), remembered for one prior and one `goes`.
class GoingMemory;
std::shared_ptr<GoingMemory> new_going_memory();

/// The forward model of assumed errors, handed in by whoever may simulate. Several threads may ask one at a time or at
/// once, itself or copies of it, and each gets the answer that it would get alone: what its functions remember, they
/// remember for each thread apart (diagnose/memory.h).
struct Model {
    /// Empty: with these faults no such reading comes about.
    using Reads = std::function<std::optional<Prediction>(const measure::Occasion&, const Sizes&)>;
    Reads reads;
    /// The means of `reads` alone and its variances alone, where that is cheaper; none: `reads` tells.
    std::function<std::optional<std::vector<double>>(const measure::Occasion&, const Sizes&)> means;
    std::function<std::vector<double>(const measure::Occasion&, const Sizes&)> chance;
    /// What the means themselves are off the saws that they stand for, where that counts beside what the instruments
    /// leave: one standard deviation of every observable of the check, in its unit.
    std::map<measure::Check, double> off{};
    std::function<bool(const Sizes&)> goes;  ///< whether such a saw can be the one that is read; none: always.
                                             ///< Its sled moves, unless a push said otherwise (diagnose/infer.h)
    std::function<measure::Going(const Sizes&)> felt;  ///< how its sled goes; none: nothing ever binds
    std::vector<shop::Fault> binding;                  ///< on which `goes` and `felt` depend
    std::shared_ptr<GoingMemory> memory{};  ///< of this `goes`, whoever changes which takes it away; none: it is tried
                                            ///< on hundreds of saws each time

    /// A sled that always goes.
    template <class F>
    requires std::is_invocable_r_v < std::optional<Prediction>,
    const F&, const measure::Occasion&,
        const Sizes& > &&(!std::is_same_v<std::remove_cvref_t<F>, Model>)Model(F f) : reads(std::move(f)) {}
    std::optional<std::vector<double>> means_of(const measure::Occasion& occasion, const Sizes& sizes) const;
    std::vector<double> chance_on(const measure::Occasion& occasion,
                                  const Sizes& sizes) const;  ///< where it has an answer
    double variance_off(measure::Check check) const {
        const auto found = off.find(check);
        return found == off.end() ? 0.0 : found->second * found->second;
    }
    std::optional<Prediction> operator()(const measure::Occasion& occasion, const Sizes& sizes) const {
        return reads(occasion, sizes);
    }
};

inline constexpr std::uint8_t untouched = 255;
inline constexpr double lightest = 1e-7;
inline constexpr std::size_t long_list =
    400;  ///< hypotheses; from here on the tail goes that weighs `light_tail` in all
inline constexpr double light_tail = 5e-4;
inline constexpr std::size_t most_hypotheses = 6000;

/// A reading that one hypothesis weighed along a straight line over all states, although the model is bent there
/// (diagnose/put_right.h).
struct Bend {
    std::size_t sighting = 0;         ///< index into Mixture::weighed
    std::vector<std::size_t> faults;  ///< in which it is bent
    double at_zero = 0.0;             ///< the reading less what the line gives where all states are 0
    std::vector<double> gradient;     ///< of the line, by state
    double noise = 0.0;               ///< variance of the reading about the line
};

/// Sizes of the faults; after them lasting errors of the instruments that were used; last, how far each new clamping
/// turned the fence.
struct Hypothesis {
    std::array<std::uint8_t, shop::fault_count> lobe{};  ///< index into the prior's lobes, or `untouched`
    double weight = 1.0;                                 ///< all weights sum to 1
    std::vector<double> mean;
    std::vector<double> covariance;                    ///< row by row, mean.size() squared
    std::vector<std::shared_ptr<const Bend>> bends{};  ///< shared by all that came of it
};

/// A normal distribution over the states of a hypothesis.
struct Normal {
    std::vector<double> mean;
    std::vector<double> covariance;
};
/// What of one choice of lobes of the faults that bind goes, before anything is read: how much of it, and a normal
/// distribution about it, half way from its own width to that of the lobes.
struct Part {
    Normal normal;       ///< sizes in the order of Model::binding
    double share = 1.0;  ///< in [0, 1]
};
using Going = std::map<std::vector<std::uint8_t>, Part>;  ///< by those lobes

/// The part of an instrument's error that stays when the same check is made again: by check and observable, its
/// standard deviation [the unit of the value].
using LastingErrors = std::map<std::pair<measure::Check, std::size_t>, double>;

/// The state of one lasting error.
struct LastingState {
    std::size_t state = 0;
    double sd = 0.0;  ///< before anything was read
};

/// What one observable is about.
struct Sighting {
    measure::Occasion occasion;
    std::size_t index = 0;  ///< which observable of the check
    Observable seen;
    std::optional<std::size_t> lasting;  ///< state of the lasting error, when it has one of its own
    std::vector<shop::Fault> faults;     ///< that its expected value depends on
};

struct Mixture {
    std::vector<Hypothesis> hypotheses;
    double dropped = 0.0;        ///< weight that was let go, in all
    std::vector<int> clampings;  ///< Occasion::clamped_again of the clampings that have a state of their own; their
                                 ///< states are the last
    std::shared_ptr<const Going> going{};  ///< once lobes are given to faults that bind
    std::map<std::pair<measure::Check, std::size_t>, LastingState> lasting{};
    std::vector<Sighting> weighed{};  ///< readings, in the order in which they were assimilated
};

/// One hypothesis, nothing touched. All checks made after one clamping share its turn; a clamping that is not
/// among `clampings` turns the fence for one reading only.
Mixture start(const Prior& prior, const LastingErrors& lasting, const std::vector<int>& clampings = {});

/// Gives a lobe to each of these faults in every hypothesis, and to all that bind when one of these does.
void touch(Mixture& mixture, const Prior& prior, const std::vector<shop::Fault>& faults, const Model& model);
/// Its two steps, and whether the first is one of them: the guides are tried on hundreds of saws.
bool touches_guides(const std::vector<shop::Fault>& faults, const Model& model);
void touch_guides(Mixture& mixture, const Prior& prior, const Model& model);
void touch_each(Mixture& mixture, const Prior& prior, const std::vector<shop::Fault>& faults);

/// What one hypothesis expects of a whole check: a normal distribution over its observables.
struct Foreseen {
    double weight = 0.0;
    std::vector<double> mean;
    std::vector<double> covariance;  ///< row by row
    std::size_t of = 0;              ///< which hypothesis of the mixture
};
/// A check that was made before is expected to err again by its lasting error, so that it tells only what a repeat
/// adds. Left out: hypotheses under which the model has no answer.
std::vector<Foreseen> foresee(const Mixture& mixture, const measure::Occasion& occasion,
                              const std::vector<shop::Fault>& faults, const Model& model);

/// The same model, which looks up what it was asked before, each thread in a memory of its own.
Model remembering(const Model& model);

/// How well a reading fitted what was expected before it.
struct Fit {
    double oddness = 1.0;     ///< probability of a reading at least as odd, over all hypotheses; in [0, 1]
    double deviations = 0.0;  ///< how far off the nearest hypothesis that is believed in one part of a thousand, in
                              ///< what it holds possible
};
Fit assimilate(Mixture& mixture, const Sighting& sighting, const Model& model, const Prior& prior);

/// The faults that a check can see at all.
struct Seen {
    std::vector<shop::Fault> any;    ///< on which what it reads depends, or how much it scatters
    std::vector<shop::Fault> value;  ///< on which what it reads depends
};
/// Tried over the lobes of the prior, one fault at a time, with tight and with loose runners, and those that bind also
/// two at a time. A hundredth of the instrument's uncertainty is nothing.
Seen seen_by(const measure::Occasion& occasion, const Model& model, const Prior& prior);
/// Whether one fault is among `seen_by(...).any`.
bool sees(const measure::Occasion& occasion, shop::Fault fault, const Model& model, const Prior& prior);

}  // namespace offsquare::diagnose
