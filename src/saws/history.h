// The log of a sled as a session at a real saw, so that all that session/ knows serves here too: what still holds, the
// weighing of the readings, what to do next, and the words for it. Only typed actions; nothing is simulated.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "saws/set_up.h"
#include "session/findings.h"
#include "session/history.h"
#include "session/next.h"

namespace offsquare::saws {

struct OwnHistory {
    session::History history;           ///< of a real saw (Seen::real_saw), on the sizes as they are now
    std::vector<int> entry_of;          ///< by event: entry_of[event - 1] is the number of the entry of the log
    std::vector<std::string> left_out;  ///< entries that could not be carried over, each with its reason
};

/// The whole log, in the order of effect. Every reading says by itself how the fence stood (shims behind it, how often
/// it was clamped anew since the first reading).
OwnHistory history_of(const Sled& sled);

/// The number of the entry behind a reading of Seen::checks.
int entry_of(const OwnHistory& own, const session::Note& note);

/// Whether the entry is a strip test that can be one: not a taper that none of five cuts has. One that was insisted on
/// stays in the log, and nothing is made of it.
bool is_strip(const Entry& entry);

/// What is read of a strip as the check that the diagnosis weighs: the mean of the repeats at each end, with its
/// standard uncertainty. A strip that fell on the other side than the drawing's is turned round: its sign is the same.
/// `set_up` as of the day of the strip; `kept`: where the drawing of the whole log has the kept piece.
session::TypeReadings typed_readings(const Strip& strip, const SetUp& set_up, shop::Side kept);

/// What is read at the two ends and between them. Needs a whole strip.
diagnose::StripReadings strip_readings(const Strip& strip, const SetUp& set_up);

/// All readings that hold, weighed together: the same as `offsquare diagnose` makes of the readings file. Takes a while
/// (tenths of a second): a window does it beside. Grade::bad_data when there is nothing to weigh.
base::Result<session::Findings> weigh(const session::Seen& seen);

/// The readings file of this sled, for `offsquare diagnose`. Empty: nothing that holds was read yet.
std::string readings_file(const OwnHistory& own);

}  // namespace offsquare::saws
