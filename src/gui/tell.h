// What stands in the window, written to a file after each frame, for whoever drives the window from outside
// (tests/gui/drive.sh): no place has to be guessed.
#pragma once

#include <string>

#include "gui/kit/record.h"

namespace offsquare::gui {

/// One line a thing, fields parted by tabs: kind, label, value, x and y of its middle (pixels of the window), then the
/// words "off", "unseen", "focused" and "selected" as they apply, parted by commas, or "-".
std::string as_lines(const Record& record);

/// Writes the lines when they have changed. Does nothing unless OFFSQUARE_TELL names a file.
class Tell {
public:
    Tell();
    void operator()(const Record& record);

private:
    std::string path_;
    std::string last_;
};

}  // namespace offsquare::gui
