// The notebook of a fault hunt in words: what was seen first, each reading, what speaks against a repair, the proof.
// Nothing of the truth.
#pragma once

#include <string>
#include <vector>

#include "session/findings.h"
#include "session/trial.h"

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
/// `number` counts from 1, in the order in which the checks were made.
NoteWords words_of(const Note& note, std::size_t number, base::Units units);

/// A test of the job as a note, when its strip is read: it tells as much as the five-cut test of the notebook.
std::optional<Note> note_of(const Test& test);
/// Every reading that the diagnosis may weigh: the notes, and after them the job's own tests.
std::vector<Note> all_notes(const Trial& trial);
/// Those alone that a person has typed.
std::vector<Note> typed_notes(const Trial& trial);
/// The reports of those that still hold, in the order in which the fence was clamped.
std::vector<measure::CheckReport> holding(std::span<const Note> notes);

/// What the last test said, in one sentence: of the job's own test when its strip is read, else of the last five-cut
/// test in the notebook. Empty: there is none yet.
std::string symptom(const Trial& trial, std::span<const Note> notes, base::Units units);

/// Whatever can be seen on the last strip's face without an instrument; empty when nothing was cut.
std::string face_sentence(const Trial& trial, base::Units units);

/// What speaks against this repair now: the fault itself is not sure, or another that would show the same is still
/// open. Empty: nothing.
std::vector<std::string> against_repair(const Findings& findings, shop::Fault fault);

/// The open faults that stand in a pair with this one: the readings cannot tell them apart. Premature closing is a main
/// cause of wrong verdicts.
std::vector<shop::Fault> rivals_of(const Findings& findings, shop::Fault fault);

/// What a repair does and costs: "Joint the fence true, or replace it. About 45 minutes."
std::string repair_sentence(shop::Fault fault);

/// The fault to put right first: the surest of those that are there; empty while none is.
std::optional<shop::Fault> first_to_repair(const Findings& findings);

/// How the proof stands.
struct Proof {
    enum class State { not_cut, passed, undecided, failed };
    State state = State::not_cut;
    std::string heading;
    std::string why;
};
Proof proof_of(const Trial& trial, base::Units units);

/// The actions of one test from the cut to the working: cut, read both ends, work out.
std::vector<Action> proof_actions();

}  // namespace offsquare::session
