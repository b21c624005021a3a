// offsquare cut --check: checks instead of the five-cut test alone.
#pragma once

#include "cli/request.h"
#include "cli/verb.h"

namespace offsquare::cli {

base::Result<Answer> checks_made_answer(const Arguments& arguments, const Request& request, const Door& door);

}  // namespace offsquare::cli
