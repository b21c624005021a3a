// The verdict about the fence, from everything that a person at this saw has read and that still holds.
#pragma once

#include <optional>

#include "session/seen.h"

namespace offsquare::session {

struct FenceVerdict {
    diagnose::Verdict verdict;
    OtherBoards other_boards = OtherBoards::unknown;
    std::size_t tests = 0;  ///< that it was made from: all of this fence as it stands
};

/// About the fence that the last test of the saw as it is has seen; its strip is read. Counts what may change from test
/// to test (diagnose/claim.h): before anything is read as the rows of the faults declare it, of what was put right on
/// this set-up as a repair leaves it. The wiggle and the runners' fit bound the play, a brushed test has no chips, and
/// further tests, those of the notebook too, show the scatter itself. Read exactly, nothing changes.
FenceVerdict verdict_on_the_fence(const Seen& seen);

/// The same where every test is typed, as on a real saw: about the fence that the newest five-cut test that holds has
/// seen, with all tests that were cut while it stood so. Empty: there is none.
std::optional<FenceVerdict> verdict_on_typed_tests(const Seen& seen);

}  // namespace offsquare::session
