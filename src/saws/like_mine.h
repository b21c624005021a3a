// A saw to practise on that is like one's own: the same sizes, instruments and drawer, and hidden errors as large as
// those of one's own may be.
#pragma once

#include "saws/history.h"

namespace offsquare::saws {

/// The errors are drawn from what the readings of this sled leave possible: from the beliefs of `findings` (weigh), and
/// of what nobody has looked at from what is usual (the rows of shop/fault.h). They are sealed in the scenario. The
/// fence is as it stands with its shims, and nothing stands behind it in the scenario. The same seed draws the same
/// saw. Saws whose test gives no strip are drawn again, 50 times at most. `findings` nullptr: nothing was read yet.
/// Grade::bad_data: none of them gave a strip.
base::Result<scenario::Scenario> like_mine(const Sled& sled, const session::Findings* findings, std::uint64_t seed);

}  // namespace offsquare::saws
