// How practice goes, for `drill`: what is kept of closed hunts, and what it says.
#pragma once

#include "cli/verb.h"
#include "lesson/debrief.h"

namespace offsquare::cli {

/// One more closed hunt. `tier`: 0 for a case of none.
base::Result<void> keep_progress(const lesson::Hunt& hunt, const lesson::Debrief& debrief, int tier);

/// --progress and --forget.
base::Result<Answer> about_progress(const Arguments& arguments, const Door& door);

}  // namespace offsquare::cli
