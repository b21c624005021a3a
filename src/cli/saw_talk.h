// `offsquare saw` alone on a terminal: it asks, question by question, and writes what was answered into the log.
#pragma once

#include "cli/verb.h"
#include "saws/store.h"

namespace offsquare::cli {

/// `door.ask` is there. An end of the input ends the talk; what was written by then stays.
base::Result<Answer> talk_about_a_saw(const saws::Store& store, saws::Date today, const Door& door);

}  // namespace offsquare::cli
