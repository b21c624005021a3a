// What there is to learn from a hunt that is closed: what was wrong and what was found of it, each verdict with the
// reading that decides it, what could be believed reading by reading, and the shortest road beside one's own.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lesson/hunt.h"
#include "lesson/shortest.h"

namespace offsquare::lesson {

/// One fault that was there, or was said to be.
struct Found {
    shop::Fault fault = shop::Fault::fence_skew;
    double was = 0.0;           ///< at the start [mm or rad]
    bool there = true;          ///< false: named, or put right, although it was as small as on any good saw
    bool counts = true;         ///< Wrong::counts
    bool named = false;         ///< by the person when it was closed
    bool put_right = false;     ///< a repair was made, or (a fence off square) shims or a repair
    double left = 0.0;          ///< at the end [mm or rad]; of a fence off square with its shims
    bool read = false;          ///< some reading spoke of it: then these hold
    base::Uncertain size;       ///< as the readings had it, before it was put right
    base::Interval coverage95;  ///< of the same
    bool within() const { return read && was >= coverage95.lo && was <= coverage95.hi; }
};

struct Verdict {
    enum class Mark { good, bad, so_so };
    Mark mark = Mark::good;
    std::string says;     ///< "the right thing was put right"
    std::string because;  ///< the reading or the deed that decides it
};

/// What could be believed after something was read or done.
struct Moment {
    std::string what;                 ///< "start", "Straightedge on the fence"
    double minutes = 0.0;             ///< spent by then
    std::vector<double> probability;  ///< of each fault, by its number
    double told_bits = 0.0;           ///< by how much the doubts about all faults, each by itself, have become less
    bool told_nothing = false;        ///< no fault became likelier or less likely by 5 in 100
    bool reads = false;               ///< something was read, and not only put right
    bool proves = false;              ///< by a five-cut test of the job
    std::optional<Suspects> said;     ///< what the person said after it, if anything was said
};

struct Debrief {
    Close closed;
    bool right = false;        ///< what was concluded is so: every fault that counts named and no other, and proved; or
                               ///< it was left open, and no road was found that decides it
    std::string headline;      ///< "Found, put right and proved in 41 minutes of 60."
    std::string beneath;       ///< of the shortest road, or why there is none
    std::vector<Found> found;  ///< those that were there first
    std::vector<Verdict> verdicts;
    std::vector<Moment> moments;  ///< the start first
    Road yours;
    std::optional<Road> shortest;
    int hints = 0;
    /// (how sure - whether it was right)^2 (Brier 1950), in [0, 1].
    double brier = 0.0;
};

/// Weighs every stage of the hunt and looks for the shortest road: some seconds. Grade::usage: it is still open.
base::Result<Debrief> debrief_of(const Hunt& hunt, base::Units units);

}  // namespace offsquare::lesson
