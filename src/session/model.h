// The forward model that the diagnosis is handed: what each check would read on a saw with assumed errors. Knows the
// drawing, and not the truth.
#pragma once

#include <vector>

#include "diagnose/mixture.h"
#include "shop/drawing.h"

namespace offsquare::session {

/// Simulates every check exactly, as measure/run_check.h does, with the assumed sizes in place of the truth and shims
/// as thick as they are marked; chance enters as a variance. Faces of other shapes than a bow are not among the
/// assumptions. The drawing is copied.
diagnose::Model model_of(const shop::Drawing& drawing);

/// By check, in the order of the enum: the faults that it sees at all on a saw of these sizes.
using Sight = std::vector<std::vector<shop::Fault>>;
Sight sight_of(const shop::Drawing& drawing);

}  // namespace offsquare::session
