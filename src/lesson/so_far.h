// A piece of work as a list shows it: what it is called and what was done so far. Never a file's name, and nothing that
// tells what is wrong.
#pragma once

#include <string>

#include "session/log.h"

namespace offsquare::lesson {

struct SoFar {
    std::string called;  ///< a case by its owner's sentence, in quotes; the title where the person has set
                         ///< the errors, and of what is no case
    std::string done;    ///< "2 tests, 3 checks; 41 of 60 min spent; nothing put right yet"
};

SoFar so_far(const session::History& history);
/// The same of a file that is not replayed: whether it was proved is not said.
SoFar so_far(const session::Log& log);

}  // namespace offsquare::lesson
