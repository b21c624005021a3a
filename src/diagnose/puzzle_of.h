// A real diagnosis as a small discrete puzzle (diagnose/look_ahead.h), so that the next check can be chosen by the
// minutes that the whole search will take.
//
// Where it stops: of the hypotheses some dozens stand for all, each group at its whole weight; what each check would
// read is told in eight kinds of outcome at most; a size that two checks read is taken as drawn anew for each; a corner
// of a board that the search itself would cut free is not thought of. So the minutes are an estimate, good for choosing
// and for a rough "about".
#pragma once

#include <optional>
#include <vector>

#include "diagnose/infer.h"
#include "diagnose/look_ahead.h"

namespace offsquare::diagnose {

struct DiagnosisPuzzle {
    Puzzle puzzle{};                             ///< a check's minutes are its cost_minutes (diagnose/advise.h), twice
                                                 ///< as many for each time that it was made on the saw as it is
    std::vector<measure::Check> checks{};        ///< by check of the puzzle, in the order of the enum
    std::vector<bool> on_free_corner{};          ///< by check: it needs no new cut
    std::vector<shop::Fault> asked{};            ///< which of these are there is what must be found
    std::vector<std::vector<bool>> there{};      ///< by hypothesis, which of the asked
    std::vector<std::vector<Foreseen>> reads{};  ///< by check, what it would read under each hypothesis (`of`); left
                                                 ///< out: those that it cannot be made under
};

inline constexpr std::size_t most_asked = 6;  ///< faults at once: two to the sixth are as many groups as a person's
                                              ///< question ever has

/// What is asked when nobody says what, `most_asked` at most, of the faults that are neither sure nor ruled out (and
/// while the sled jams, that may jam it): those that the readings cannot tell apart, so that what was read is explained
/// first; where there are none, by how much doubt there is for the minutes of the cheapest check that sees it. In a
/// search among independent places that order is the best (probability over cost: Stone, Theory of Optimal Search, from
/// memory).
std::vector<shop::Fault> asked_by_default(const Diagnosis& diagnosis, const measure::Occasion& now, const Model& model,
                                          const Prior& prior);

/// About which of these faults are there (most_asked of them at most, the first; none: asked_by_default), on the saw as
/// it stands `now` (its check does not matter). Checks: those that can be made and see one of them, made less than
/// three times.
DiagnosisPuzzle puzzle_of(const Diagnosis& diagnosis, const measure::Occasion& now, const Model& model,
                          const Prior& prior, std::vector<shop::Fault> asked = {});

/// The check that look-ahead proposes.
struct LookedAhead {
    measure::Check check = measure::Check::five_cut;
    std::size_t index = 0;         ///< in the puzzle
    double bits = 0.0;             ///< about which of the asked faults are there
    double bits_per_minute = 0.0;  ///< board counted as minutes
    double minutes = 0.0;          ///< expected until it is decided, this check included; board counted as minutes
    bool on_free_corner = false;
};
/// How wide is thought ahead in a real diagnosis: six checks at each step, two steps.
inline constexpr Ahead quick_ahead{2, 6, 0.01};
/// Empty: it is decided, or no check would tell a fiftieth of a bit.
std::optional<LookedAhead> look_ahead_check(const DiagnosisPuzzle& puzzle);
std::optional<LookedAhead> look_ahead_check(const Diagnosis& diagnosis, const measure::Occasion& now,
                                            const Model& model, const Prior& prior,
                                            std::vector<shop::Fault> asked = {});

}  // namespace offsquare::diagnose
