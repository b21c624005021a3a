// The notebook of a fault hunt in words: what was seen first, each reading, what speaks against a repair, the proof.
// Nothing of the truth.
#pragma once

#include <string>
#include <vector>

#include "session/findings.h"
#include "session/next.h"
#include "session/seen.h"

namespace offsquare::session {

/// One number of a note: "fence end", "12.034 mm ± 0.042 mm" (95 %).
struct ReadingWords {
    std::string name;
    std::string value;
};
struct NoteWords {
    std::string title;  ///< "2  Square on a cut"
    std::vector<ReadingWords> readings;
    std::string source;     ///< "typed by hand"; empty: read here
    std::string set_aside;  ///< why it no longer holds; empty: it holds
};
/// "fence_end" as a person reads it: "fence end".
std::string name_of_reading(std::string_view what);
/// `number` counts from 1, in the order in which the readings came about.
NoteWords words_of(const Note& note, std::size_t number, const shop::Drawing& drawing, base::Units units);

/// The reports that still hold, in the order in which the fence was clamped, for the diagnosis. What stands behind the
/// fence now is part of the fence: shims are told as far as they differ from those.
std::vector<measure::CheckReport> holding(const Seen& seen);

/// What the last test said, in one sentence: of the job's own test when its strip is read, else of the last five-cut
/// test in the notebook. Empty: there is none yet.
std::string symptom(const Seen& seen, base::Units units);

/// Whatever can be seen on the last strip's face without an instrument; empty when nothing was cut.
std::string face_sentence(const Seen& seen, base::Units units);

/// What speaks against this repair now: the fault itself is not sure, or another that would show the same is still
/// open. Empty: nothing.
std::vector<std::string> against_repair(const Findings& findings, shop::Fault fault);

/// "Put right: fence bowed". While the sled jams a runner is made narrower, not wider: "Ease the left runner".
std::string repair_heading(shop::Fault fault, bool jams);
/// What it does and costs: "Joint the fence true, or replace it. About 45 minutes."
std::string repair_sentence(shop::Fault fault, bool jams);

/// What to do after the weighing: "Next: put right "fence bowed"" once a fault is ripe for it, else the check that
/// tells most.
struct NextWords {
    std::string what;
    std::string why;  ///< empty: nothing to add
};
NextWords next_words(const Findings& findings);
/// The same where more is known than the readings: a repair or the check that the weighing proposes; `what` is empty
/// where something else comes next.
NextWords next_words(const Next& next, const Findings& findings);

/// What the readings show and nobody has to put right, since the test passes: "\"fence off square\"". Empty: nothing.
std::string let_be_words(const Findings& findings);

/// How the proof stands (session/next.h), in words.
struct ProofWords {
    std::string heading;
    std::string why;
};
ProofWords proof_words(const Seen& seen, base::Units units);

/// Tests and repairs in the order in which they came about: nothing that failed is left out.
struct DeedWords {
    std::string what;       ///< "Test", "Put right: left runner loose"
    std::string came;       ///< the verdict; what was done
    std::string set_aside;  ///< why it no longer holds; empty: it holds
};
std::vector<DeedWords> what_was_done(const Seen& seen, base::Units units);

}  // namespace offsquare::session
