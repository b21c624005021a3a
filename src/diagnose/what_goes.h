// After the last reading: of each hypothesis only the part stays in which the sled goes.
#pragma once

#include "diagnose/mixture.h"

namespace offsquare::diagnose {

/// A hypothesis about faults that bind holds, before anything is read, a normal distribution about what goes of its lobes (diagnose/lobes.h). Readings narrow the lobes and not that
/// distribution, and what goes ends at an edge; both are put right here: places drawn from each hypothesis count as much as the lobes themselves hold of them, and not at all where the sled does not go.
/// Weight, mean and covariance become those of the places. Where it stops: hypotheses below a thousandth, and those of which too few places count, keep what they had.
void keep_what_goes(Mixture& mixture, const Prior& prior, const Model& model);

}  // namespace offsquare::diagnose
