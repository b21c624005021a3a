// What a person at this saw knows: the sizes, what was read and what follows from it, what was done and what it cost.
// Nothing of the truth: that is in saw.h, which no door, no picture and nothing that advises may see.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/shared_list.h"
#include "cut/face_marks.h"
#include "cut/five_cut.h"
#include "diagnose/five_cut.h"
#include "measure/check.h"
#include "measure/instruments.h"
#include "scenario/concern.h"
#include "session/action.h"
#include "shim/propose.h"
#include "shop/fault.h"

namespace offsquare::session {

/// Why something that was read no longer holds, and since when. It stays where it stands, struck out.
struct Ended {
    enum class Why {
        repaired,   ///< a fault that it depends on was put right
        shimmed,    ///< other shims stand behind the fence now
        value_set,  ///< a value of the set-up was changed
        jammed,     ///< the sled has jammed since: it is not the sled any more that
                    ///< went for this reading
        freed,      ///< a sled that jammed was seen to go since
    };
    Why why = Why::repaired;
    std::size_t since = 0;             ///< number of the event that ended it
    std::optional<shop::Fault> fault;  ///< repaired: which
    std::string key;                   ///< value_set: which value
};
/// "No longer holds since step 7: "fence bowed" was put right."
std::string sentence_of(const Ended& ended);

/// Whether another board would come out as this one did, by what was read of the fence's face and still holds.
enum class OtherBoards {
    unknown,   ///< nobody has laid a straightedge on the fence, nor cut a long board and a short one
    alike,     ///< the face is straight as far as a board half as wide could tell
    otherwise  ///< it is not, or nobody can tell by what was read
};

/// One five-cut test with what was read on its strip and what follows.
struct Test {
    std::size_t event = 0;                      ///< number of the event that cut it
    shop::Drawing drawing;                      ///< the set-up as it was for this test
    std::vector<shim::PickedShim> behind_left;  ///< as marked, what stood behind the fence during the test
    std::vector<shim::PickedShim> behind_right;
    int clamped_again = 0;                ///< how often the fence had been clamped anew by then
    std::optional<cut::HandPass> pushed;  ///< by a hand that turned the sled in its play; empty: pressed as the
                                          ///< drawing says
    bool brushed = false;                 ///< the fence was brushed before each cut: no chips
    std::size_t round = 0;                ///< tests cut alike, one after the other, are one round; counted from 0
    std::size_t in_round = 1;             ///< which of its round, from 1
    cut::Outcome outcome = cut::Outcome::done;
    std::optional<double> went_mm;            ///< the runners bind: how far the sled goes in (measure/going.h)
    int cuts_made = 0;                        ///< 0..5
    std::optional<shop::Side> strip_fell;     ///< where the strip fell; empty: none came of it
    double furthest_in_mm = 0.0;              ///< how far in from an end of the strip the
                                              ///< caliper may stand, in whole mm
    cut::FaceMarks face;                      ///< of the last cut: anyone can look at it
    std::vector<measure::Reading> fence_end;  ///< stations count from the fence end along the old edge
    std::vector<measure::Reading> far_end;
    std::optional<measure::Reading> between;       ///< the tape, between the two places; there as soon as both ends are
                                                   ///< read
    std::optional<diagnose::StripReadings> strip;  ///< the means that the working starts from
    std::optional<base::Uncertain> skew_rad;       ///< of this test alone; there as soon as both ends are read
    std::optional<base::Uncertain> pooled_rad;     ///< the mean with the tests just before it of the same round;
                                                   ///< proposal and verdict rest on it
    int pooled_tests = 0;                          ///< how many tests are in that mean
    bool worked_out = false;                       ///< the person has asked for the working
    std::optional<shim::Proposal> proposal;
    std::optional<diagnose::Verdict> verdict;  ///< about the fence and this board: what may change from test to test is
                                               ///< counted, by all that was read until the next test
    OtherBoards other_boards = OtherBoards::unknown;  ///< whether the verdict holds for other boards too
    std::optional<Ended> ended;                       ///< empty: it holds
    bool holds() const { return !ended; }
};

/// One reading of the notebook: a check that was made or typed, or the strip of a test.
struct Note {
    std::size_t event = 0;  ///< number of the event that brought it
    measure::CheckReport report;
    bool typed = false;          ///< by a person, and not read here
    bool stood_typed = false;    ///< and so is how the fence stood
    std::optional<Ended> ended;  ///< empty: it holds
    bool holds() const { return !ended; }
};

/// A repair that was made; shims put behind a fence that was tested are one of the fence.
struct RepairNote {
    shop::Fault fault = shop::Fault::fence_skew;
    std::size_t event = 0;  ///< number of the event that made it; of a stack the first piece
    bool by_shims = false;
    bool eased = false;          ///< a runner that jammed was made narrower, not wider
    bool of_this_set_up = true;  ///< false: a value was changed since
};

/// One thing that was done, with what came of it. Events are numbered from 1 and never erased; whether what came of one
/// still holds stands with the test or the note.
struct Event {
    std::size_t number = 0;
    Action action;
    Cost cost;
    std::string says;                 ///< the action in one sentence, in the units of the scenario
    std::optional<std::size_t> test;  ///< index of the test that it cut or read
    std::optional<std::size_t> note;  ///< index of the check that it made or typed
};

/// Where the job stands.
enum class Stage { set_up, cut, read, work_out, shim, prove };
std::string_view name_of(Stage stage);  ///< "Set up", "Cut", ...

struct Seen {
    std::string title;  ///< of the scenario
    std::string story;
    std::optional<scenario::Concern> concern;  ///< of a case: what its owner speaks of; empty: it is no case
    base::Units units = base::Units::metric;   ///< what the scenario speaks
    std::uint64_t seed = 0;
    measure::Precision precision = measure::Precision::real;
    bool real_saw = false;  ///< opened from a readings file: only what was typed counts, nothing is read here
    cut::Grain grain = cut::Grain::fine;  ///< of every cut; coarse in sessions that version 0.1.0 saved
    shop::Drawing drawing;
    std::vector<shim::PickedShim> behind_left;  ///< now, as marked
    std::vector<shim::PickedShim> behind_right;
    std::vector<int> left_in_drawer;  ///< pieces per drawer line
    base::SharedList<Event> events;   ///< everything that was done, in order
    base::SharedList<Test> tests;     ///< all of them, in order
    std::size_t first_now = 0;        ///< the first test of the saw as it is: later than every repair and changed value
    base::SharedList<Note> checks;    ///< every check that was made or typed, in order
    std::vector<RepairNote> repairs;
    int clamped_again = 0;  ///< how often the fence was loosened and clamped since the start
    double minutes = 0.0;   ///< what it all has cost
    double stock_mm = 0.0;
    bool shims_changed_since_last_test = false;  ///< other pieces than during the last test of the saw as it is
    Stage stage = Stage::set_up;                 ///< where the job stands
    bool proved = false;                         ///< the last test of the saw as it is was worked out, and passes

    std::size_t tests_now() const { return tests.size() - first_now; }
    const Test& test_now(std::size_t i) const { return tests[first_now + i]; }  ///< i < tests_now()
    /// The last test of the saw as it is; nullptr: none yet.
    const Test* last_test() const { return tests_now() == 0 ? nullptr : &tests.back(); }
};

/// Pieces as marked, added up [mm].
double marked_mm(const std::vector<shim::PickedShim>& pieces);

/// A test whose strip is read as a note: it tells as much as the five-cut test of the notebook; or one that the sled
/// jammed at, as a push. Empty: not read.
std::optional<Note> note_of(const Test& test);
/// Every reading in the order in which it came about: checks made and typed, and the strips of the tests. Of a real saw
/// only what was typed.
std::vector<Note> notes_of(const Seen& seen);

/// How far the sled goes in, by the last push that still holds; it jams then. Empty: it goes, as far as anyone knows.
std::optional<double> jams_at_mm(const Seen& seen);
inline bool jams(const Seen& seen) { return jams_at_mm(seen).has_value(); }
/// "The sled does not go into its slots." or "The sled sticks 212 mm in."; empty while it does not jam.
std::string jam_sentence(const Seen& seen, base::Units units);

}  // namespace offsquare::session
