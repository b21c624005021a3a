// What became of what the owner of a case says: a five-cut test is about the corner, and many an owner is not.
#pragma once

#include <string>

#include "session/seen.h"

namespace offsquare::session {

enum class Became {
    nothing,   ///< it is no case
    answered,  ///< the last test tells of it
    mended,    ///< it was seen here, and is not since something was put right
    felt,      ///< a hand was on the sled since
    open       ///< nothing that was done here tells of it
};
/// Of a saw whose last test passes. `took_hold`: as session/next.h has it.
Became complaint_of(const Seen& seen, bool took_hold);

/// In one or two sentences; empty: it is no case, or its last test does not pass.
std::string complaint_words(const Seen& seen, bool took_hold);

/// Whether something was put right on the saw as it is set up, shims too.
bool was_repaired(const Seen& seen);

/// A sled that its owner says goes badly is pushed through before anything is cut on it, and again once a runner or a
/// slot was worked on.
bool to_be_pushed_first(const Seen& seen);

}  // namespace offsquare::session
