// What a check would read under each hypothesis as small normal distributions: their densities, and points that stand
// for them. For advise.cpp and puzzle_of.cpp.
#pragma once

#include <boost/container/static_vector.hpp>
#include <vector>

#include "diagnose/mixture.h"

namespace offsquare::diagnose::bells {

/// A number for each reading of a check.
using Readings = boost::container::static_vector<double, 8>;

/// A hypothesis ready to be asked for densities.
struct Bell {
    double weight = 0.0;
    Readings mean;
    std::vector<double> root;
    double log_height = 0.0;  ///< log of 1/det(L)
};

/// `total`: what all weights sum to.
Bell bell_of(const Foreseen& foreseen, double total);

/// log density but for the constant that all bells share.
double log_density(const Bell& bell, const Readings& y);

/// Where a reading may fall under a hypothesis, and how likely.
struct Point {
    Readings z;           ///< in its own deviations
    double weight = 0.0;  ///< all sum to 1
};

/// 64 points for k readings. For one reading the trapezoid rule over 6 deviations to each side, which for a bell is as
/// good as exact; for several random ones, all alike and the same each time.
std::vector<Point> points_for(std::size_t k);

/// The reading that stands so many deviations off.
Readings carried(const Bell& bell, const Readings& z);

}  // namespace offsquare::diagnose::bells
