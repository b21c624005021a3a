// How a window is ended from outside by a signal; it leaves time for last words. (By a display that goes away:
// display.h.)
#pragma once

namespace offsquare::gui {

/// While this lives, the first SIGTERM, SIGINT or SIGHUP is only noted, for the loop to see; a second one ends the
/// program at once. One that was ignored when the program started (nohup) stays ignored.
class EndSignals {
public:
    EndSignals();
    ~EndSignals();  ///< forgets what came
    EndSignals(const EndSignals&) = delete;
    EndSignals& operator=(const EndSignals&) = delete;

    static int came();  ///< the signal; 0: none
};

/// Ends the program by this signal, so that who started it sees how it ended. 0: does nothing.
void end_by(int signal);

}  // namespace offsquare::gui
