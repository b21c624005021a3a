// What looks like a slip is asked about where somebody sits there to be asked, and refused where nobody does.
#pragma once

#include "base/result.h"
#include "cli/verb.h"
#include "session/slips.h"

namespace offsquare::cli {

/// Nothing where there is no slip, it is insisted on, or the person says that it is meant; else Grade::bad_data, with
/// what to write when it is meant.
base::Result<void> ask_about(const session::Slips& slips, const Arguments& arguments, const Door& door);

}  // namespace offsquare::cli
