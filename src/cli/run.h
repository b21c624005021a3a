// The command line: one of the two doors of the house.
#pragma once

#include <istream>
#include <optional>
#include <ostream>
#include <string>

#include "base/result.h"

namespace offsquare::cli {

/// Runs one command. Data goes to `out`, everything else to `err`; `in` is what "-" reads. argv[0] is the program's
/// name. Never throws. Returns the exit code: 0 done; 1 ran and the verdict is no; 2 usage; 65 bad data; 66 no input;
/// 70 our fault; 73 cannot create; 74 I/O. Colour is used only when `out` is std::cout on a terminal and NO_COLOR is
/// not set, or when it is asked for.
int run(int argc, const char* const* argv, std::ostream& out, std::ostream& err, std::istream& in);

/// What `offsquare` alone or `offsquare window …` asks for.
struct WindowWish {
    std::string file;        ///< scenario to open; empty: the built-in one
    std::string screenshot;  ///< write a picture of the window here and leave; empty: stay
    bool mrad = false;       ///< angles in mrad too
};

/// The wish, when the command is one for the window and is well formed; nothing when `run` must deal with it (other
/// verbs, help, mistakes).
std::optional<WindowWish> window_wish(int argc, const char* const* argv);

/// What to say when the window cannot be opened, and how to go on with text.
std::string no_window_sentence(const std::string& why);

}  // namespace offsquare::cli
