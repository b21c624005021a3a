// Slips in the fields of a strip, each against what strips are, against the other fields, and against one's own earlier
// tests.
#pragma once

#include "saws/slips.h"

namespace offsquare::saws {

/// Instant. `corrects`: this entry of the log does not count.
Questions in_fields(const Sled& sled, const Strip& strip, Date date, base::Units units, std::optional<int> corrects);

}  // namespace offsquare::saws
