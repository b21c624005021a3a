// The second door: the window.
#pragma once

#include <functional>
#include <string>

namespace offsquare::gui {

/// Opens the window on a scenario (.toml) or a saved session (.jsonl); "" opens the built-in scenario. With
/// `screenshot` it draws, writes that PNG and leaves. `no_window` is told why where no window can be opened, and says
/// what the exit code is then. Returns the exit code.
int run_window(const std::string& file, const std::string& screenshot,
               const std::function<int(const std::string& why)>& no_window);

}  // namespace offsquare::gui
