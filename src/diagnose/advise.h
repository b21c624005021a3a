// Which check to make next: what each would tell, for the minutes that it takes.
#pragma once

#include <memory>
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

/// The same where the outcome is a set of readings, normal under each hypothesis (weights need not sum to 1), eight of
/// them at most. One reading: by 64 points under each hypothesis, within 0.001 bits unless one is more than twenty
/// times as wide as another; several: by 64 random ones, fixed once and for all, within about 0.05 bits.
double information_bits(std::span<const Foreseen> foreseen);
/// The same about the group that the truth belongs to; `groups`: the group of each hypothesis.
double information_bits(std::span<const Foreseen> foreseen, std::span<const int> groups);

/// One check, seen from what is believed now.
struct Advice {
    measure::Check check = measure::Check::five_cut;
    double bits = 0.0;  ///< about which faults are there, and to which side; how large they are does not count
    double bits_per_minute = 0.0;
};

/// The heaviest hypotheses, with all that belongs to them: the only ones that advice looks at. Who keeps a diagnosis to
/// ask for advice later may keep these in the place of thousands.
Mixture head_for_advice(const Mixture& all);

/// Every check by falling bits per minute, on the saw as it stands `now` (its check does not matter). Looks at the
/// heaviest hypotheses only: what they leave out would change the order little.
std::vector<Advice> advise(const Diagnosis& diagnosis, const measure::Occasion& now, const Model& model,
                           const Prior& prior);

/// What is asked of the next check.
struct Wish {
    std::optional<LookAlikes> pair{};  ///< to tell these two apart; empty: which faults are there, and to which side
    double least_bits = 0.05;
    double least_per_minute = 0.0;  ///< bits
};
/// The check that answers it best.
struct Proposal {
    measure::Check check = measure::Check::five_cut;
    double bits = 0.0;
    std::vector<shop::Fault>
        sees{};                   ///< the faults that it can see at all, by falling doubt about whether they are there
    bool on_free_corner = false;  ///< it needs no new cut
};

/// What a check costs when the board that it uses up counts too [minutes]: 20 mm of it are a minute's work.
double cost_minutes(measure::Check check, bool on_free_corner);

/// Whether the check can be made now and may tell anything by its numbers: not what needs the sled to go while it jams,
/// nor what was made before and is bound to read the same.
bool can_be_asked(const measure::Occasion& occasion, const Diagnosis& diagnosis);

/// Looks for the next check. One that was made before on the saw as it is counts half as much, a quarter the second
/// time, and must still tell a good deal: another instrument sees what the first one's errors hide.
class Adviser {
public:
    /// All of it must outlive this.
    Adviser(const Diagnosis& diagnosis, const measure::Occasion& now, const Model& model, const Prior& prior);
    ~Adviser();
    Adviser(const Adviser&) = delete;
    Adviser& operator=(const Adviser&) = delete;
    std::optional<Proposal> best(const Wish& wish);

private:
    struct Works;
    std::unique_ptr<Works> works_;
};

/// The check that tells these two apart best for its minutes; empty when none tells a twentieth of a bit.
std::optional<measure::Check> separating(const LookAlikes& pair, const Diagnosis& diagnosis,
                                         const measure::Occasion& now, const Model& model, const Prior& prior);

}  // namespace offsquare::diagnose
