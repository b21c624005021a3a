// The lower triangle L of a covariance, L*L' = C (Cholesky): from standard normal points to points of a normal
// distribution, and back. Row by row, k by k.
#pragma once

#include <cstddef>
#include <vector>

namespace offsquare::diagnose {

/// A direction that the others tell wholly, or without spread, gets a rounding's worth, so that nothing divides by
/// zero.
std::vector<double> root_of(const std::vector<double>& covariance, std::size_t k);

std::vector<double> times_lower(const std::vector<double>& root, const std::vector<double>& z);  ///< L*z
std::vector<double> against_lower(const std::vector<double>& root,
                                  const std::vector<double>& x);  ///< the z of L*z = x
/// |z|^2 of L*z = x - mean: the square of how far x is off, in deviations.
double square_off(const std::vector<double>& root, const std::vector<double>& mean, const std::vector<double>& x);
double log_height(const std::vector<double>& root, std::size_t k);  ///< log of 1/det(L)

}  // namespace offsquare::diagnose
