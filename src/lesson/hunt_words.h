// A hunt in words: what is known so far, line by line, and what is left of the case's minutes and board. Nothing of the
// truth, nothing weighed.
#pragma once

#include <string>
#include <vector>

#include "lesson/hunt.h"

namespace offsquare::lesson {

/// One thing that was done, and what was seen of it.
struct Known {
    double minutes = 0.0;   ///< spent by then
    std::string what;       ///< "Straightedge on the fence", "Put right: fence bowed"
    std::string came;       ///< "bow 0.250 mm ± 0.051 mm"; of a test what its strip says; empty: nothing was read
    std::string set_aside;  ///< why it no longer holds; empty: it holds
};
/// In the order in which it was done; the newest last.
std::vector<Known> known(const Hunt& hunt, base::Units units);

/// "41 of 60 min spent, 90 mm of board left"; a case that may cost what it takes: "41 min spent".
std::string spent_words(const Hunt& hunt, base::Units units);

/// What an action is called in such a list; empty: it is part of another (a reading at the strip, the working).
std::string name_of_deed(const session::Action& action, const session::Seen& before);

}  // namespace offsquare::lesson
