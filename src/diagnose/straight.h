// The forward model as a straight line over what one hypothesis holds possible: the readings that it expects, how they
// move with each size, and what chance and bends add.
//
// Where the model is straight this is exact. Where it is bent, the line is the regression over points spread as the
// hypothesis is, in all bent sizes at once: the right mean and spread of the reading, and the slopes that go with them
// (statistical linearisation).
#pragma once

#include <optional>
#include <unordered_map>
#include <vector>

#include "diagnose/mixture.h"

namespace offsquare::diagnose {

struct Straight {
    double h = 0.0;                ///< expected reading at the point
    double variance = 0.0;         ///< what chance adds, and the bends
    double bends = 0.0;            ///< of the variance, what the bends add
    std::vector<double> gradient;  ///< by state
    std::vector<std::size_t>
        bent;  ///< faults in which the model is not straight over what the hypothesis holds possible
};

Sizes sizes_of(const std::vector<double>& mean);

/// The same as a check finds them that was made on this occasion: a clamping that has a state of its own turned the
/// fence.
Sizes sizes_on(const measure::Occasion& occasion, const std::vector<int>& clampings, const std::vector<double>& states);

/// Variance of a reading about what is expected of it: what its instrument errs anew each time, and chance. Chance may
/// take away from it, where coarse steps leave less to chance, but never all of it.
double noise_of(const Sighting& sighting, double chance);
double noise_of(double fresh_variance, double chance);

/// matrix*vector; the matrix is symmetric, row by row.
std::vector<double> times(const std::vector<double>& matrix, const std::vector<double>& vector);

/// Many hypotheses differ only in faults that the reading does not depend on: one line serves them all. For one
/// sighting at a time.
class Straightener {
public:
    /// `rough`: where it is bent, the mean of the slopes to both sides will do.
    Straightener(const Model& model, const std::vector<int>& clampings, bool rough = false)
        : model_(model), clampings_(clampings), rough_(rough) {}

    /// Over the normal distribution of this mean and covariance; chance as large as it is at `now`. Empty: the model
    /// has no answer there.
    std::optional<Straight> over(const Sighting& sighting, const std::vector<double>& mean,
                                 const std::vector<double>& covariance, const std::vector<double>& now);

private:
    struct HashOf {
        std::size_t operator()(const std::vector<double>& key) const;
    };
    std::optional<double> chance(const Sighting& sighting, const Sizes& sizes);

    const Model& model_;
    const std::vector<int>& clampings_;
    bool rough_;
    std::unordered_map<std::vector<double>, std::optional<Straight>, HashOf> known_;
    std::unordered_map<std::vector<double>, std::optional<double>, HashOf> chances_;
};

}  // namespace offsquare::diagnose
