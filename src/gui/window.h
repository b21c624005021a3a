// The second door: the window.
#pragma once

#include <string>

namespace offsquare::gui {

/// Opens the window on a scenario (.toml) or a saved session (.jsonl); "" opens the built-in scenario. With `screenshot` it draws, writes that PNG and leaves. Returns the exit code.
int run_window(const std::string& file, const std::string& screenshot);

}  // namespace offsquare::gui
