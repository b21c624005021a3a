// Which hunt `drill` plays.
#pragma once

#include <string>
#include <vector>

#include "cli/arguments.h"
#include "lesson/hunt.h"

namespace offsquare::cli {

/// By --case (with --again), --tier, --twin or --from; `notes`: what deserves a word although the file is usable.
base::Result<lesson::Hunt> hunt_to_play(const Arguments& arguments, std::vector<std::string>& notes);

}  // namespace offsquare::cli
