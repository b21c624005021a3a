// Which check to make next, not by what it tells at once but by the minutes that the whole search will take: a small
// discrete puzzle as a value, four ways to choose the next check, and the least minutes that any way can need.
//
// Some hypotheses with a weight each, in groups: which group it is must be found. Each check costs minutes and has one
// of a few outcomes, whose probabilities each hypothesis knows. Each check is made once at most. The search ends when
// one group is as sure as is wished, or when no check that is left would tell anything about the groups.
//
// Where it stops: under one hypothesis the outcomes of different checks are independent. Two checks that read the same
// size, which the hypothesis leaves open, are not quite so.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

namespace offsquare::diagnose {

/// One check of a puzzle.
struct PuzzleCheck {
    double minutes = 1.0;                              ///< > 0
    std::vector<std::vector<double>> outcome_given{};  ///< [hypothesis][outcome]; each row sums to 1
};

struct Puzzle {
    std::vector<double> weights{};  ///< of the hypotheses, >= 0; they sum to 1
    std::vector<int> groups{};      ///< of each hypothesis: what must be decided
    std::vector<PuzzleCheck> checks{};
    double sure = 0.95;        ///< the search ends when one group has this probability; in (0, 1]
    double least_bits = 1e-9;  ///< a check that tells less about the groups is not worth making, > 0
    /// Hypotheses that together are an answer too, though they are of several groups ("this fault is there, whatever
    /// else is"): the search ends when one of these is as sure. May overlap; may be none.
    std::vector<std::vector<std::size_t>> answers{};
};

/// How far a search has come.
struct Known {
    std::vector<double> weights{};  ///< as in the puzzle, after the outcomes so far
    std::vector<bool> made{};       ///< by check
};
Known start_of(const Puzzle& puzzle);

/// The probabilities of the outcomes of a check; they sum to 1.
std::vector<double> outcomes_of(const Puzzle& puzzle, const Known& now, std::size_t check);
/// After this outcome, which is possible (Bayes' rule).
Known after(const Puzzle& puzzle, const Known& now, std::size_t check, std::size_t outcome);
/// What the check would tell about the groups [bits].
double bits_of(const Puzzle& puzzle, const Known& now, std::size_t check);
/// The probability of the likeliest group or answer.
double surest(const Puzzle& puzzle, const Known& now);
/// The checks that would tell something; none once the search has ended.
std::vector<std::size_t> open_checks(const Puzzle& puzzle, const Known& now);

/// The check to make next; empty: the search has ended. The order in which hypotheses, checks and outcomes stand does
/// not matter; of checks that are equally good the cheaper one, then the first.
using Policy = std::function<std::optional<std::size_t>(const Puzzle&, const Known&)>;

/// The most bits a minute.
std::optional<std::size_t> next_by_bits(const Puzzle& puzzle, const Known& now);
/// The one that splits the suspects most evenly, whatever it costs: each hypothesis goes with the outcome that it makes
/// likeliest, and the heaviest outcome is as light as can be.
std::optional<std::size_t> next_by_halves(const Puzzle& puzzle, const Known& now);

/// How far and how wide to look ahead.
struct Ahead {
    int depth = 2;             ///< checks that are thought through, >= 1; what is left after them is estimated
    std::size_t widest = 100;  ///< of the checks the best by bits a minute, at each step, >= 1
    double as_good = 0.0;      ///< among checks whose minutes are this share above the least at most, the most bits a
                               ///< minute; 0: equal ones only
};
/// A check and the minutes that the search is expected to take from here, this check included.
struct Choice {
    std::size_t check = 0;
    double minutes = 0.0;  ///< estimated but for the oracle
};
/// The fewest expected minutes. What is left after `depth` checks is taken to go on at as many bits a minute as the
/// best check then gives, until as much is known as "sure" asks for, and never to cost more than all that is left.
std::optional<Choice> next_by_look_ahead(const Puzzle& puzzle, const Known& now, const Ahead& ahead = {});
/// Every check that was thought of as the first, the one to make first, the others by rising minutes.
std::vector<Choice> looked_ahead(const Puzzle& puzzle, const Known& now, const Ahead& ahead = {});

/// The least minutes that a search can be expected to take, and the check that it begins with; exact, by trying
/// everything. `too_large`: outcomes and checks that would have to be tried are more than `most_standings`.
struct Oracle {
    bool too_large = false;
    std::optional<Choice> choice{};  ///< empty: the search has ended, or it is too large
};
inline constexpr double most_standings = 2e5;
Oracle oracle(const Puzzle& puzzle, const Known& now);

/// What is to be expected of a way to choose, exactly: every outcome is followed.
struct Walk {
    double minutes = 0.0;
    double checks = 0.0;
    double decided = 0.0;  ///< probability that it ends sure
};
/// Branches less likely than `least` are cut off as if the search ended there; 0: none is.
Walk walk(const Puzzle& puzzle, const Known& from, const Policy& policy, double least = 0.0);

}  // namespace offsquare::diagnose
