// What a whole class should look at now, in words that can be read from the back of a room: short.
#pragma once

#include <string>

#include "session/next.h"

namespace offsquare::session {

struct ClassWords {
    enum class Show { table, chart, verdict };
    Show show = Show::table;
    std::string result;  ///< the one number, question or sentence that counts now; at most some thirty letters
    std::string look;    ///< one sentence: what to look at
};

/// `running_cut` is the cut that is being shown, 1..5; 0 while none is.
ClassWords class_words(const Seen& seen, int running_cut, base::Units units);

}  // namespace offsquare::session
