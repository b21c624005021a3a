// Giving lobes of the prior to hypotheses: one fault at a time, or all faults that can bind the sled together.
#pragma once

#include "diagnose/mixture.h"

namespace offsquare::diagnose {

/// Of a list the ones to keep, by falling weight; to `dropped` is added what the others weigh.
std::vector<std::size_t> heavy_ones(const std::vector<double>& weights, double& dropped);

/// Every hypothesis in which the fault is untouched becomes one for each of its lobes, by falling weight and without
/// the lightest.
void give(Mixture& mixture, const Lobes& lobes, shop::Fault fault);

/// Gives lobes to all of `model.binding`, unless they have some; of each choice of lobes only the part that goes. Where
/// none goes, the model knows nothing of it: all do.
void give_binding(Mixture& mixture, const Prior& prior, const Model& model);

}  // namespace offsquare::diagnose
