// A sled's log in one line, for a list.
#pragma once

#include <string>

#include "saws/sled.h"

namespace offsquare::saws {

/// "4 tests since 3 March, the last one passed; slots waxed after it"; "no test yet"; "nothing written yet".
std::string so_far(const Sled& sled, Date today);

}  // namespace offsquare::saws
