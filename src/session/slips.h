// Slips of the hand and the eye in readings that a person types: the one checker behind `shim`, `diagnose` and the
// window's fields. It asks, and never decides: each slip is a question, and whoever meant it may say so.
//
// Asked about: a decimal place that slipped, inches for millimetres, a length longer than the board, a width that the
// strip cannot have, a size below nothing, repeats that disagree beyond the instrument, the same report twice, and a
// reading that contradicts the notebook. What is plausible comes from the drawing and from the other readings, with
// room for any saw that a fault of shop/fault.h makes.
//
// Where it stops: a slip that leaves a plausible number is not seen; a digit that is wrong by a little looks like a
// fence that is off.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/quantity.h"
#include "measure/check.h"
#include "session/history.h"
#include "shop/drawing.h"

namespace offsquare::session {

/// Whole sentences: what was found, against what, and what would fit.
using Slips = std::vector<std::string>;

/// In the last of these reports, against the drawing and the reports before it. Not empty.
Slips slips_in_last(std::span<const measure::CheckReport> reports, const shop::Drawing& drawing, base::Units units);

/// In each of them, against those before it; named by their place in the list, from 1.
Slips slips_in(std::span<const measure::CheckReport> reports, const shop::Drawing& drawing, base::Units units);

/// Whether the last of these reports contradicts the others, or can be explained by no fault: all are weighed for it,
/// which takes as long as a diagnosis. Empty: it fits.
Slips contradictions_of_last(std::span<const measure::CheckReport> reports, const shop::Drawing& drawing);

/// In readings that are about to be written into the notebook, against the drawing and all that holds there; where
/// nothing else is asked about, their contradictions. Empty also where they cannot be written at all.
Slips slips_in(const History& history, const TypeReadings& typed, base::Units units);

/// A length as it was typed where no drawing stands behind it.
struct TypedLength {
    std::string name;  ///< as the person knows it, "--length"
    base::Typed typed;
    bool bare = false;  ///< without a unit
};
struct TypedStrip {
    TypedLength fence_end;
    TypedLength far_end;
    TypedLength length;
    TypedLength span;
    bool units_said = false;  ///< the person has said what a bare number counts in
};
Slips slips_in(const TypedStrip& strip, base::Units units);

/// What stands in where no instrument is named: a caliper of 0.01 mm with limits of error of 0.02 mm up to 200 mm (DIN
/// 862, from memory) and a scatter of 0.01 mm (invented).
const shop::Caliper& common_caliper();
/// Standard uncertainty of one width that was read with it, typed to this step [mm].
double u_of_common_caliper(double typed_step_mm);
/// "a common caliper (0.01 mm, limits of error 0.02 mm; DIN 862, from memory)"
std::string common_caliper_words(base::Units units);

/// Plainly, since one strip does not show it: which end the two widths belong to.
std::string_view which_end_sentence();

}  // namespace offsquare::session
