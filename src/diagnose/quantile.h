// Quantiles of a sum of normal distributions.
#pragma once

#include <span>

namespace offsquare::diagnose {

struct Share {
    double weight = 0.0;  ///< all weights sum to 1
    double mean = 0.0;
    double sd = 0.0;  ///< >= 0
};

/// Normal distribution function, by cubics between the places of a table: within 1e-9.
double quick_below(double z);

/// Where the shares below reach p, 0 < p < 1: to a thousandth of the narrowest share of some weight. One share or more.
double quantile(std::span<const Share> shares, double p);

}  // namespace offsquare::diagnose
