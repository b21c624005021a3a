// How each check shows what it shows, in a maker's words: what it asks of the suspects, and what is read. For the
// coach's hints.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "measure/check.h"

namespace offsquare::lesson {

/// One thing that a check shows: a sum of what the diagnosis weighs of it (diagnose/observe.h).
struct Sign {
    std::vector<double> of;  ///< times each of these numbers
    shop::FaultUnit unit = shop::FaultUnit::mm;
    std::string_view asks;   ///< "Which of your suspects would ...?"
    std::string_view reads;  ///< "... about 0.2 mm"
};

/// Those of a check, one at least; none of one that has no number to weigh (push_through).
std::span<const Sign> signs_of(measure::Check check);

}  // namespace offsquare::lesson
