// What is believed of a saw before anything is read on it. Declared by us, not measured: shops differ.
//
// Each fault is a few "lobes": absent, which is not exactly zero but as small as it is on any good saw; or present, of
// a usual size, to either side. A size within a lobe is normal. So "is it there?" has a plain meaning, and within one
// choice of lobes everything that is straight in the sizes stays normal.
#pragma once

#include <array>
#include <string_view>
#include <vector>

#include "shop/fault.h"

namespace offsquare::diagnose {

/// The size of every fault [mm or rad], in the order of shop::Fault.
using Sizes = std::array<double, shop::fault_count>;

struct Lobe {
    bool present = false;
    double weight = 0.0;  ///< probability of the lobe, before anything is read
    double mean = 0.0;    ///< of the size [mm or rad]
    double sd = 0.0;      ///< > 0
};
using Lobes = std::vector<Lobe>;  ///< weights sum to 1
using Prior = std::array<Lobes, shop::fault_count>;

/// The prior that the program uses; in the help of `offsquare faults`. Invented, from what the words of the table
/// suggest.
const Prior& declared_prior();

double mean_of(const Lobes& lobes);
double variance_of(const Lobes& lobes);     ///< of the size over all lobes
double probability_of(const Lobes& lobes);  ///< that the fault is present

}  // namespace offsquare::diagnose
