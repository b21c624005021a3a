// What follows from the strip that is being typed, or from the newest one of the log: how thick a shim, behind which
// end, in addition to what stands there, how sure, why, and from which pieces; and what else would look the same.
//
// The instant part is pure arithmetic on the fields as far as they are typed: call it at every key. The weighing of all
// readings (saws::weigh) takes tenths of a second and is handed in.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "saws/history.h"
#include "saws/shims_told.h"
#include "saws/strip_shim.h"
#include "session/fence_verdict.h"

namespace offsquare::saws {

struct Answer {
    std::vector<std::string> missing;  ///< fields still to be typed, in words: "the far end"; empty: all is there
    std::string cannot_be;             ///< the strip is none of a five-cut test: why; then nothing below
    std::optional<StripShim> shim;     ///< `offsquare shim`, to the last digit; all fields are there
    /// The strip as a session has its tests, for the words of session/story.h: working(), stack_sentence(),
    /// verdict_sentence(). Its strip, skew_rad and verdict (by this strip alone) are there as soon as both ends, the
    /// length and the side are; its proposal (from my drawer, beside what stands there) needs the span too.
    session::Test test;
    Standing standing;          ///< what stood behind the fence for this strip
    bool drawer_typed = false;  ///< false: the drawer is not known, and nothing is proposed from it
    std::optional<bool> ends_marked;
};

/// Of fields as far as they are typed. `set_up` and `standing` as of the day of the strip. A span that is not typed
/// with the strip is taken from the set-up where it was typed as a size.
Answer answer_of(const Strip& strip, const SetUp& set_up, const Standing& standing);

/// Of the newest test in effect, as it stood on its day; nullopt: none yet.
std::optional<Answer> newest_answer(const Sled& sled);

/// What the answer says, largest first. Empty strings: nothing to say there.
struct AnswerWords {
    std::string heading;       ///< "Add 0.180 mm behind the left end"; "Still to type: the far end"
    std::string give_or_take;  ///< of this strip's readings; and with what may change from one test to the next
    std::string why;           ///< why that end
    std::string stack;         ///< "paper 0.100 + brass 0.080 = 0.180 mm, leaves 0.01 mm in 1 m"
    std::string square;        ///< against what counts as square, by this strip alone
    std::string which_end;     ///< which end is which cannot be seen; what it would be the other way round
};
/// What the log knows besides the strip.
struct InLog {
    /// What all its tests say of the fence. Only that one says that it may be left as it is: a strip alone says nothing
    /// of what changes from one test to the next.
    std::optional<session::FenceVerdict> fence;
    std::optional<ShimsTold> shims;  ///< what the shims before this strip did
    bool contradicted = false;       ///< its readings do not go together with the others, or nothing explains them
};
/// Of a log in which the strip is the newest.
InLog in_log(const Sled& sled, const session::Seen& seen, base::Units units);
/// The shims did not do what they should, and the strip is not square: they are looked at before more is done.
bool look_at_shims_first(const Answer& answer, const InLog& in_log);
AnswerWords words_of(const Answer& answer, base::Units units, const InLog& in_log = {});

/// What to do once the fence was worked on after the newest strip: cut again. Whoever followed that strip once more
/// would put its shim in twice. nullopt: there is no strip, or nothing was done since.
struct CutAgain {
    std::string heading;  ///< "Now prove it: cut a second strip"
    std::string why;      ///< what stands behind the fence now, and what that strip had asked for
};
std::optional<CutAgain> cut_again(const Sled& sled, base::Units units, Date today);

/// The pieces of the proposal as an entry of the log; nothing is moved where nothing is proposed. `both_ends`: the
/// other way, where the proposal has one.
ShimsMoved as_moved(const Answer& answer, bool both_ends = false);

/// What this strip would leave of the skew once these pieces are moved [rad]: a shim of t behind the left end turns the
/// fence by -t over the distance between the shim points (DEVELOPERS.md, frames and signs). nullopt: not all is typed.
std::optional<double> left_over(const Answer& answer, const ShimsMoved& moved);

/// From all that was read and still holds.
struct Besides {
    bool agree = false;  ///< there are two readings or more, none contradicts the others, and the tests of one fence do
                         ///< not differ by more than they may
    std::vector<std::string> contradicts;  ///< a sentence each
    bool of_the_fence = false;             ///< one of them is about what the strips say
    std::vector<shop::Fault> look_alikes;  ///< would look the same as a fence off square
    std::optional<measure::Check> check;   ///< the cheapest that would tell them apart, or that tells most
    double minutes = 0.0;                  ///< of it
    std::string says;                      ///< the whole of it in one or two sentences
};
Besides besides_of(const session::Findings& findings, const session::Seen& seen);

/// The same, in which a reading that contradicts is named by its day: "Five-cut test of 25 November".
Besides besides_of(const session::Findings& findings, const OwnHistory& own, const Sled& sled, Date today);

/// The verdict about the fence, from all tests of it as it stands (session/fence_verdict.h); nullopt: none.
std::optional<session::FenceVerdict> fence_verdict(const session::Seen& seen);
/// In words: "Square, as far as three tests tell", with the interval; empty where there is none.
std::string verdict_words(const session::FenceVerdict& verdict, base::Units units);

}  // namespace offsquare::saws
