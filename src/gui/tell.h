// What stands in the window and how far it has come, written to a file after each frame, for whoever drives the window
// from outside (tests/gui/drive.sh): no place has to be guessed and no time.
#pragma once

#include <string>

#include "gui/kit/bridge.h"
#include "gui/kit/record.h"

namespace offsquare::gui {

/// One line a thing, fields parted by tabs: kind, label, value, x and y of its middle (pixels of the window), then the
/// words "off", "unseen", "focused" and "selected" as they apply, parted by commas, or "-".
std::string as_lines(const Record& record);

/// One such line for the window itself: "window", frames, edges, 0, 0, then "settled", "rest" and "focused" as they
/// apply.
std::string as_line(const Pulse& pulse);

/// Writes the window's line and the others after each frame, and when the window comes to rest. To be called when all
/// that a frame did is done: who sees it told finds the files written. Does nothing unless OFFSQUARE_TELL names a file.
class Tell {
public:
    Tell();
    void operator()(const Record& record, const Pulse& pulse);

private:
    std::string path_;
    Pulse last_;
};

}  // namespace offsquare::gui
