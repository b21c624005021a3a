// One page to hang beside the saw: what stands behind the fence, what the newest strip says, how square the sled has
// been, what was done, what comes next, and the cautions.
#pragma once

#include <string>

#include "base/result.h"
#include "picture/shapes.h"
#include "saws/history.h"

namespace offsquare::picture {

/// As for a sheet of A4, upright; one millimetre of the picture is one point of the page. `findings` nullptr: nothing
/// was weighed.
Picture saw_page(const saws::Sled& sled, const session::Findings* findings, base::Units units, saws::Date today);

/// The same as a PDF file with real text.
base::Result<void> write_saw_page(const saws::Sled& sled, const session::Findings* findings, base::Units units,
                                  saws::Date today, const std::string& path);

}  // namespace offsquare::picture
