// After the last reading: what normal distributions and straight lines got wrong about each hypothesis.
#pragma once

#include "diagnose/mixture.h"

namespace offsquare::diagnose {

/// Two things are put right by points drawn from each hypothesis, which count by how much more or less is to be
/// believed of them (importance sampling). Weight, mean and covariance become those of the points.
/// - A hypothesis about faults that bind holds, before anything is read, a normal distribution about what goes of its
/// lobes (diagnose/lobes.h). Readings narrow the lobes and not that
///   distribution, and what goes ends at an edge: a point counts as much as the lobes themselves hold of it, and not at
///   all where the sled does not go.
/// - A reading of which the model is bent was weighed along a line (`Bend`): a point counts by how well the reading
/// fits what the model itself expects there. Where too few points count, they are drawn again from what counts of them.
/// Where it stops: hypotheses below three thousandths, and those of which too few points count even then, keep what
/// they had.
void put_right(Mixture& mixture, const Prior& prior, const Model& model);

}  // namespace offsquare::diagnose
