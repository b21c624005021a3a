// One test as text for a person: what was cut, what was read, the working, the shim. The verdict is left to the caller:
// it stands last.
#pragma once

#include <string>
#include <string_view>

#include "cli/text.h"
#include "scenario/scenario.h"
#include "session/seen.h"

namespace offsquare::session {
struct Revealed;  // session/reveal.h: only for who has asked for the truth
}

namespace offsquare::cli {

inline std::string_view side_word(shop::Side side) { return side == shop::Side::left ? "left" : "right"; }

/// "brass 0.10 mm behind the left end, …" or "nothing behind the fence".
std::string behind_the_fence(const session::Test& test, base::Units units);

/// The pieces of the report, each ending with a newline, or empty when there is nothing to say.
std::string cut_lines(const session::Test& test, base::Units units);
std::string reading_lines(const session::Test& test, base::Units units, const Ink& ink);
std::string working_lines(const session::Test& test, base::Units units, const Ink& ink);
std::string shim_lines(const session::Test& test, base::Units units);
std::string truth_lines(const session::Revealed& revealed, base::Units units, const Ink& ink);  ///< of the last test

/// The whole set-up without the hidden errors, in two columns.
std::string set_up_lines(const scenario::Scenario& scenario);

/// The sentence in the colour of the state (the words say it without colour too).
std::string inked_verdict(const session::Test& test, base::Units units, const Ink& ink);

}  // namespace offsquare::cli
