// A data folder of its own, so that no test writes into that of the person who runs it.
#pragma once

#include <cstdlib>

#include "base/scratch.h"

namespace door {

/// For as long as it lives.
struct Home {
    scratch::Folder folder;
    Home() { ::setenv("XDG_DATA_HOME", folder.path.c_str(), 1); }
    ~Home() { ::unsetenv("XDG_DATA_HOME"); }
};

}  // namespace door
