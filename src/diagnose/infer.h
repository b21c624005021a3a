// From a set of readings to beliefs about every fault: is it there, how large, and what cannot be told apart.
//
// Handed a forward model of assumed errors (diagnose/mixture.h); never the truth.
#pragma once

#include <array>
#include <span>
#include <utility>
#include <vector>

#include "base/result.h"
#include "base/uncertain.h"
#include "diagnose/mixture.h"

namespace offsquare::diagnose {

struct Belief {
    shop::Fault fault = shop::Fault::fence_skew;
    bool touched = false;       ///< some reading depends on it; otherwise what stands here is the prior
    double probability = 0.0;   ///< that it is present: larger than on any good saw; in [0, 1]
    double size = 0.0;          ///< mean over all hypotheses [mm or rad], within the range of shop/fault.h
    double u = 0.0;             ///< standard deviation of the same
    base::Interval coverage95;  ///< holds the size with 95 % probability, 2.5 % out at each end; within that range
    bool disputed = false;      ///< a contradiction touches it that is not settled: nothing may be built on it
    double before = 1.0;        ///< the probability before anything was read, of a saw whose sled goes; in [0, 1]
};

/// A reading that hardly any hypothesis expected: of those that do not go together, the one that fits the others least.
/// Where only two look at the same thing, either may be wrong. It is left out of what is believed. A reading that is
/// odd by itself is none when another says the same: then the saw is odd, and not the reading.
struct Contradiction {
    measure::Occasion occasion;
    std::size_t report = 0;  ///< which of the reports
    std::size_t index = 0;   ///< which observable
    double oddness = 0.0;    ///< probability of a reading at least as odd
    double deviations =
        0.0;  ///< how far it lies off the nearest thing that the others leave possible, in standard deviations
    bool unexplained = false;            ///< odd by itself: no hypothesis explains it, whatever else was read
    bool settled = false;                ///< the same check was made again after it, and fits
    bool to_read_again = false;          ///< the same check was not made again yet
    std::vector<shop::Fault> touches{};  ///< that its check can see
};

/// Two faults of which the readings say that one of them, or some share of each, is there, but not which.
using LookAlikes = std::pair<shop::Fault, shop::Fault>;

struct Diagnosis {
    std::array<Belief, shop::fault_count> beliefs;
    std::vector<LookAlikes> unseparated;
    std::vector<Contradiction> contradictions;
    Mixture mixture;                             ///< the hypotheses behind it
    std::vector<measure::Occasion> made{};       ///< of all reports
    measure::Going felt = measure::Going::goes;  ///< how the sled goes: as the last push says, else
                                                 ///< it goes, or nobody would have cut on it
    bool jams() const { return felt != measure::Going::goes; }
};

/// A reading less likely than this contradicts the others: with some dozens of readings, a false alarm in about one
/// diagnosis of a hundred.
inline constexpr double odd = 3e-4;

/// What is done with readings that contradict, once they are named.
enum class TheOdd {
    left_out,  ///< nothing is built on them
    kept,      ///< weighed like any other: what Bayes' rule makes of all that was read
};

/// Weighs all reports together; their order does not matter but for rounding, and the last push counts. A sled that
/// jams leaves only saws whose sled jams so: not in at all, or on the way (where it sticks is not weighed); any other,
/// only saws whose sled goes. Refused (Grade::bad_data) as `observe` refuses.
base::Result<Diagnosis> infer(std::span<const measure::CheckReport> reports, const shop::Drawing& drawing,
                              const Model& model, const Prior& prior, TheOdd the_odd = TheOdd::left_out);

}  // namespace offsquare::diagnose
