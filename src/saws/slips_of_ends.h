// Which end of a strip lay at the fence, where the log tells: a fence that was not touched, or only shimmed, cannot be
// off now to one side and now to the other.
#pragma once

#include "saws/slips.h"

namespace offsquare::saws {

/// Asked when the strip contradicts the newest test before it, or after it, and would fit with the ends of one of the
/// two exchanged (or with the strip fallen on the other side), or with the shims behind the other end. What shims were
/// moved between them counts. Nothing was put right between them and the fence was not moved.
Questions ends_in_doubt(const Sled& sled, const Strip& strip, Date date, base::Units units,
                        std::optional<int> corrects);

}  // namespace offsquare::saws
