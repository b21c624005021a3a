// A session as a file: JSON Lines, one action a line, with what came of it, so that a replay checks itself.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "session/trial.h"

namespace offsquare::session {

struct Log {
    scenario::Scenario scenario;
    std::uint64_t seed = 0;
    measure::Precision precision = measure::Precision::real;
    std::vector<Action> actions;
    bool real_saw = false;  ///< opened from a readings file: only what was typed counts, nothing is read here
};

/// First line: format, version of the program, seed, the scenario as text. Then one line per action: its number, the
/// action, its sentence, and the numbers that it led to (readings, skew, shim).
std::string to_text(const Log& log);

struct Replay {
    Log log;
    Trial trial;
    std::vector<std::string> notes;  ///< a partial last line that was dropped, another program version
};
/// Reads and replays, each action once. Every fault of the file is Grade::bad_data with name and line. When the numbers
/// recorded for an action are not what comes out now, Grade::bad_data names line, action, recorded and present number.
base::Result<Replay> replay(std::string_view text, std::string_view name);

/// Undo and redo on a list of actions: values in, values out.
class History {
public:
    const std::vector<Action>& done() const { return done_; }
    bool can_undo() const { return !done_.empty(); }
    bool can_redo() const { return !undone_.empty(); }
    void add(Action action);  ///< forgets what was undone
    void undo();              ///< nothing happens when there is nothing to undo
    void redo();
    void clear();
    void load(std::vector<Action> actions);

private:
    std::vector<Action> done_;
    std::vector<Action> undone_;
};

}  // namespace offsquare::session
