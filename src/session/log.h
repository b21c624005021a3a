// A session as a file: JSON Lines, one action a line, with what came of it, so that a replay checks itself.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "session/history.h"

namespace offsquare::session {

struct Log {
    scenario::Scenario scenario;
    std::uint64_t seed = 0;
    measure::Precision precision = measure::Precision::real;
    std::vector<Entry> entries;  ///< the record: what was done, and what was taken back
    bool real_saw = false;       ///< opened from a readings file: only what was typed counts, nothing is read here
    cut::Grain grain = cut::Grain::fine;  ///< of every cut
};
Log log_of(const History& history);
std::vector<Entry> entries_of(std::span<const Action> actions);  ///< each an intention of its own

/// First line: format, version of the program, seed, the grain of the cuts (without it: coarse, as they once were), the
/// scenario as text. Then one line per entry: its number, the
/// action, its sentence, and the numbers that it led to (readings, skew, shim). Format 1 holds single actions; format 2
/// is written when some belong together ("joins") or were taken back ("take-back", "again").
std::string to_text(const Log& log);

/// Reads what a file records without doing it again: for a list of files. Errors as replay().
base::Result<Log> read_log(std::string_view text, std::string_view name);
/// What was done by a record and is not taken back, as History::actions() has it after a replay.
std::vector<Action> standing(std::span<const Entry> record);

struct Replay {
    Log log;
    History history;
    std::vector<std::string> notes;  ///< a partial last line that was dropped, another program version
    std::size_t compared = 0;        ///< numbers of the file that were compared with what comes out now
};
/// Reads and replays, each action once. Every fault of the file is Grade::bad_data with name and line. When the numbers
/// recorded for an action are not what comes out now, Grade::bad_data names line, action, recorded and present number.
base::Result<Replay> replay(std::string_view text, std::string_view name);

}  // namespace offsquare::session
