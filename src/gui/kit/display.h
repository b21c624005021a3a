// The X display itself, asked before and beside SFML. X's headers are seen in display.cpp only: they define common
// words as macros.
#pragma once

#include <functional>
#include <memory>

#include "base/result.h"

namespace offsquare::gui {

/// The scale that the display asks for: Xft.dpi / 96, held to 0.75 .. 3; 1 if unknown. Opens and closes a connection to
/// the display.
float display_scale();
/// Nothing if a window could be opened; else why not (Grade::no_input), as a part of a sentence.
base::Result<void> display_present();

/// A connection of our own, held as long as this lives; none where there is no display.
class DisplayHold {
public:
    DisplayHold();
    ~DisplayHold();
    DisplayHold(const DisplayHold&) = delete;
    DisplayHold& operator=(const DisplayHold&) = delete;

protected:
    struct Connection;
    std::unique_ptr<Connection> connection_;
};

/// SFML 2.5 does not report that a part of the window came out from under another. X tells it to whoever asks, so a
/// second connection asks.
class ExposureWatch : private DisplayHold {
public:
    explicit ExposureWatch(unsigned long window);  ///< an X window
    /// True when something was uncovered since the last call.
    bool uncovered();
};

/// While this lives, a connection to the X display that breaks is told, once, to `last_words`, which returns the exit
/// code. The program ends right after: Xlib knows no way on. Nothing that draws or asks the display may be called
/// there.
class DisplayLoss {
public:
    explicit DisplayLoss(std::function<int()> last_words);
    ~DisplayLoss();
    DisplayLoss(const DisplayLoss&) = delete;
    DisplayLoss& operator=(const DisplayLoss&) = delete;
};

}  // namespace offsquare::gui
