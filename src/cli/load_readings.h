// Readings files as the verbs take them: one or several of one saw, and what looks like a slip is asked about.
#pragma once

#include "base/result.h"
#include "cli/arguments.h"
#include "cli/verb.h"
#include "scenario/readings.h"

namespace offsquare::cli {

/// All files that the operands name, one after the other; "-": from `door.in`. In the units that the person wants. They
/// must be of one saw (Grade::bad_data), and a slip must be meant (cli/insist.h).
base::Result<scenario::Readings> readings_of(const Arguments& arguments, const Door& door);

}  // namespace offsquare::cli
