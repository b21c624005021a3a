// The coach: what is open now, as a ladder of three rungs. It knows what the person knows (the readings that hold, what
// follows from them, and whom the person suspects), and nothing of the saw behind them.
//
//   1  the question that is open
//   2  which suspects are alive, and which reading ruled out the others
//   3  what to do about it: the check that splits them, what it costs and what each would make it read; or the repair
//
// A later rung says all that the earlier ones say, and more.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "diagnose/puzzle_of.h"
#include "session/findings.h"
#include "session/seen.h"

namespace offsquare::lesson {

/// Whom the person suspects, the likeliest first, with how sure, of 100.
using OwnSuspects = std::vector<std::pair<shop::Fault, int>>;

/// What is open.
enum class Matter {
    read_again,    ///< a reading contradicts the others
    repair,        ///< one fault is sure enough
    split,         ///< a check tells the suspects apart, or looks for them
    nothing_more,  ///< no check that is left tells enough
};
std::string_view name_of(Matter matter);  ///< "read-again", "repair", "split", "nothing-more"

/// One suspect as the readings have it.
struct SuspectNow {
    shop::Fault fault = shop::Fault::fence_skew;
    session::Standing standing = session::Standing::untouched;
    std::optional<std::size_t> ruled_out_by;  ///< number of the report, from 0, after which it was ruled out and stayed
    bool own = true;                          ///< the person named it
};
/// What one suspect would make the check read.
struct WouldRead {
    std::optional<shop::Fault> fault;  ///< empty: if none of them is there
    double size = 0.0;                 ///< root of the mean square, what else is open and the instrument's own errors
                                       ///< in it [mm or rad]
};
/// A check by numbers, for who asks for them.
struct CheckNumbers {
    measure::Check check = measure::Check::five_cut;
    double bits = 0.0;              ///< about which of the suspects are there
    double bits_per_minute = 0.0;   ///< board counted as minutes
    std::optional<double> minutes;  ///< expected until one is found or all are known, this check made first; empty: not
                                    ///< thought through
};

struct Coaching {
    Matter matter = Matter::nothing_more;
    base::Units units = base::Units::metric;  ///< of the sentences
    std::vector<SuspectNow> suspects;         ///< those of the person; without any, those that the coach asks about
    std::optional<measure::Check> check;      ///< read_again, split
    std::optional<shop::Fault> fault;         ///< repair
    bool on_free_corner = false;
    std::vector<WouldRead> would_read;  ///< split
    std::vector<CheckNumbers> numbers;  ///< split: the check first, then by bits a minute
    /// What each rung adds, in sentences.
    std::vector<std::string> question;
    std::vector<std::string> alive;
    std::vector<std::string> deed;
};

/// What is known, for the coach.
struct CoachKnows {
    std::span<const measure::CheckReport> reports;  ///< those that `findings` weigh
    const shop::Drawing& drawing;
    const session::Findings& findings;
    const session::Assumptions& assumed;
    base::Units units = base::Units::metric;
};
/// Takes a few tenths of a second, most of it to find out which reading ruled out whom.
Coaching coach(const CoachKnows& known, const OwnSuspects& suspects);
/// The same at a saw.
Coaching coach(const session::Seen& seen, const session::Findings& findings, const session::Assumptions& assumed,
               const OwnSuspects& suspects);

/// All that a rung says, 1 to 3, in order: the sentences of the rungs below it first.
std::vector<std::string> hint(const Coaching& coaching, int rung);

/// The first report, from 0, after which the fault was ruled out and stayed so; empty: it is not, or no reading did it.
/// Weighs the reports again, a few times.
std::optional<std::size_t> ruled_out_by(shop::Fault fault, std::span<const measure::CheckReport> reports,
                                        const shop::Drawing& drawing, const session::Assumptions& assumed);

}  // namespace offsquare::lesson
