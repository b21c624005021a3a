// The forward model that the diagnosis is handed: what each check would read on a saw with assumed errors. Knows the
// drawing, and not the truth.
#pragma once

#include <vector>

#include "diagnose/mixture.h"
#include "shop/drawing.h"

namespace offsquare::session {

/// Simulates every check exactly, as measure/run_check.h does, with the assumed sizes in place of the truth and shims
/// as thick as they are marked; chance enters as a variance. Faces of other shapes than a bow are not among the
/// assumptions. The drawing is copied. Threads may share it.
diagnose::Model model_of(const shop::Drawing& drawing);

/// What a diagnosis starts from: what each check would read on a saw of these sizes, and what is believed of it before
/// anything is read. Whoever diagnoses is handed both; a drill, a class or a person's own saw may have others than the
/// usual.
struct Assumptions {
    diagnose::Model model;
    diagnose::Prior prior;
};
/// model_of the drawing, and the prior that the rows of the faults declare.
Assumptions usual_assumptions(const shop::Drawing& drawing);

/// By check, in the order of the enum: the faults that it sees at all.
using Sight = std::vector<std::vector<shop::Fault>>;
Sight sight_of(const Assumptions& assumed);
Sight sight_of(const shop::Drawing& drawing);  ///< with the usual assumptions

}  // namespace offsquare::session
