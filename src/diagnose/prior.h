// What is believed of a saw before anything is read on it: a value, which whoever diagnoses is handed. Shops differ, so
// that a drill, a class or a person's own saw may have its own; the one that the rows of shop/fault.h declare is only
// the default of those who call from outside.
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

using shop::Lobe;
using Lobes = std::vector<Lobe>;  ///< the first is absent; weights sum to 1
using Prior = std::array<Lobes, shop::fault_count>;

/// The lobes of the fault table.
const Prior& declared_prior();

double mean_of(const Lobes& lobes);
double variance_of(const Lobes& lobes);     ///< of the size over all lobes
double probability_of(const Lobes& lobes);  ///< that the fault is present

}  // namespace offsquare::diagnose
