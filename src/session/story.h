// The session in words: what to do now and why, the working with the person's own numbers, the verdict. Window and
// command line print the same.
#pragma once

#include <string>
#include <vector>

#include "session/next.h"

namespace offsquare::session {

/// What the "now" card says.
struct Now {
    std::string heading;  ///< "Measure the strip at both ends"
    std::string why;      ///< one or two sentences
    std::string button;   ///< "Read the strip"; empty: nothing to press (done)
};
/// Of a step of the job.
Now words_of(const Next& next, const Seen& seen, base::Units units);

/// One line of the working: "four corners added", "÷ 4", "0.079 mm".
struct WorkingLine {
    std::string what;
    std::string how;
    std::string result;
};
struct Working {
    std::vector<WorkingLine> lines;  ///< empty while the strip is not read
    std::string conclusion;          ///< "Shim 0.158 mm at the left end"
    std::string because;  ///< "give or take 0.012 mm (95 %): the strip is wider at the fence, so the left end sits too
                          ///< near you."
};
Working working(const Test& test, base::Units units);

/// "brass 0.10 + paper 0.05 = 0.150 mm, leaves 0.02 mm in 1 m", or why nothing is proposed; empty while the
/// strip is not read.
std::string stack_sentence(const Test& test, base::Units units);

/// The same for a narrow place, without names and the unit of the shims: "0.200 + 0.100 = 0.300, leaves 0.02 mm in 1
/// m"; with both ends "left 0.400 in, right 0.300 in, leaves 0.1 thou in 12 in". Empty when nothing is proposed.
std::string stack_line(const Test& test, base::Units units);

/// "off by 0.10 mm in 1 m, give or take 0.05 (95 %)"
std::string off_by(double middle_rad, const base::Interval& coverage95, base::Units units);

/// The verdict about the fence in words: for which board it holds; or, while it is open, what the strip says, what of
/// the fence is not known, and the least work that would decide it.
std::string verdict_sentence(const Test& test, base::Units units);
/// The same in a list of what was done: "Pass: off by 0.04 mm in 1 m, give or take 0.05 (95 %)."
std::string verdict_in_short(const Test& test, base::Units units);

/// The cautions for anyone who goes to a real saw: title and lines. Paraphrased common rules; local codes and qualified
/// instruction come first.
struct Cautions {
    std::string title;
    std::vector<std::string> lines;
    std::string short_line;  ///< the one that always stands in the window
};
const Cautions& cautions();

}  // namespace offsquare::session
