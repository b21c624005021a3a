// The diagnosis at a glance: one row a fault with how likely, how large, and what cannot be told apart. Never colour
// alone: each standing has a mark and a word.
#pragma once

#include <vector>

#include "base/quantity.h"
#include "picture/shapes.h"
#include "session/hunt_words.h"

namespace offsquare::picture {

struct DiagnosisPage {
    double width = 820.0;  ///< [points], 760 or more
    double height = 0.0;   ///< rows grow to fill this; 0: as high as it needs
    base::Units units = base::Units::metric;
    std::string title;          ///< stands above the rows; empty: none
    session::NextWords next{};  ///< what is to be done; `what` empty: what the readings alone advise
};

/// Where a fault's row lies, in the picture's own millimetres (y up), so that a person can point at it.
struct DiagnosisRow {
    shop::Fault fault = shop::Fault::fence_skew;
    Vec2 lo, hi;
};

struct DiagnosisView {
    Picture picture;  ///< one millimetre is one point of the page; top left at (0, 0)
    std::vector<DiagnosisRow> rows;
};

/// Sorted: there, open, ruled out, not looked at. Sizes stand on a scale of their own each, with a band that is too
/// small to matter. Pairs that cannot be told apart are joined by a bracket and named beneath, with readings that do
/// not fit and the next check.
DiagnosisView diagnosis_view(const session::Findings& findings, const DiagnosisPage& page);

/// Plain words in lines of at most this width [points].
std::vector<std::string> broken(const std::string& text, double size, Weight weight, double width);

}  // namespace offsquare::picture
