// The second door: the window.
#pragma once

#include <functional>
#include <string>

namespace offsquare::gui {

struct Wanted {
    std::string file;        ///< a scenario (.toml), a saved session (.jsonl), a case by its name, or "built-in": the
                             ///< job on the built-in saw; "": the first screen
    std::string screenshot;  ///< draw, write this PNG and leave; "": stay
    bool mrad = false;       ///< angles in mrad too, whatever the kept settings say
};

/// Opens the window. `no_window` is told why where none can be opened, and says what the exit code is then. Returns the
/// exit code.
int run_window(const Wanted& wanted, const std::function<int(const std::string& why)>& no_window);

}  // namespace offsquare::gui
