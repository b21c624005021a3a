// What should be done next, in the job and in the notebook: the only place that knows. It sees what a person at this
// saw knows, and gives the action that does it; doors add words and a key.
#pragma once

#include <optional>
#include <vector>

#include "session/findings.h"
#include "session/seen.h"

namespace offsquare::session {

enum class Todo {
    // the job
    cut,            ///< the first test
    cut_otherwise,  ///< no strip came of the last test: change the set-up, cut again
    read_fence_end,
    read_far_end,
    work_out,
    repeat_test,        ///< not decided yet, and one more test of the round may decide it
    look_at_play,       ///< not decided yet: the wiggle (`check`) may decide it with fewer minutes than tests
    put_shims,          ///< the pieces that were proposed
    prove,              ///< shims were put in, or something was put right, since the last test: cut again
    nothing_fits,       ///< no pieces of the drawer would make it better
    undecidable,        ///< repeating alone will not decide it with this instrument
    something_changes,  ///< tests of one fence disagree: shims would chase what changes
    look_elsewhere,     ///< shims alone do not square it: something else is wrong
    find_the_jam,       ///< the sled jams, so that nothing can be cut: the notebook finds out why
    done,               ///< proved
    // the notebook
    look_at_suspects,
    weigh,  ///< the readings are being weighed
    cannot_weigh,
    wait_for_sled,  ///< `check` needs the sled to go, and it jams
    make_check,     ///< `check`
    type_readings,  ///< of a real saw: `check` is to be made there and its readings typed
    repair,         ///< `fault`
    repair_there,   ///< of a real saw: `fault` is to be put right there
    prove_there,    ///< of a real saw: the test is to be cut again there
    take_hold,      ///< it is proved, and its owner speaks of how the sled goes: a hand on it finds out
};

struct Next {
    Todo todo = Todo::done;
    std::vector<Action> intention{};  ///< what does it, as one intention; empty: nothing at the saw does
    std::optional<measure::Check> check{};
    std::optional<shop::Fault> fault{};
};

/// How the person likes to test.
struct Ways {
    Action test = CutTest{true};  ///< pressed as the drawing says, or pushed by hand; the fence brushed before each
                                  ///< cut, which costs less than finding out how much the chips do
    std::size_t reads = 1;        ///< readings at each end of the strip before it is worked out, >= 1
    double fence_in_mm = 0.0;     ///< how far in from that end the caliper stands
    double far_in_mm = 0.0;
};

/// Limits of a job, so that it does not chase noise.
inline constexpr std::size_t most_rounds = 4;  ///< of shims: each leaves half a shim step at most
inline constexpr std::size_t most_tests = 12;  ///< of one round: a person's patience, and twelve boards

/// In the job: from the first cut to the proof.
Next next_in_job(const Seen& seen, const Ways& ways = {});

/// In the notebook, whatever page is open. `findings`: all readings that hold, weighed; nullptr while they are not.
/// `took_hold`: whether a hand was on the sled since something was last put right (that is written down nowhere). A
/// test that passes ends the hunt once nothing is left that is surely there and that the test does not measure, and
/// what the owner speaks of was looked at.
Next next_in_hunt(const Seen& seen, const Findings* findings, bool took_hold = false);

/// The pages of the notebook, in the order of a hunt.
enum class Leaf { symptom, suspects, checks, repairs, proof };
/// What the person has open and has chosen there.
struct Opened {
    Leaf leaf = Leaf::symptom;
    measure::Check check = measure::Check::five_cut;
    shop::Fault fault = shop::Fault::fence_skew;
    bool took_hold = false;  ///< as next_in_hunt has it
};
/// On that page: what the person chose there, or what should be done next.
Next next_on(const Opened& opened, const Seen& seen, const Findings* findings);

/// The surest fault that is there, once it should be put right before anything else is checked: it is there in 98 of
/// 100, or no rival of it is open, or no check would tell more. Empty: not yet.
std::optional<shop::Fault> ripe_for_repair(const Findings& findings);
/// The same of a saw as it stands: where the last test passes, it is square enough with the fence and the play that it
/// has, and what was put right once is let be.
std::optional<shop::Fault> to_put_right(const Seen& seen, const Findings& findings);

/// What to put right next on a sled that jams when the readings are not sure of the cause: what was put right least
/// often since the start, of these the likelier cause; a runner that is tight counts as one, and is eased.
shop::Fault likeliest_jam(const Findings& findings, const std::vector<RepairNote>& made);

/// How the proof stands: of the last test of the saw as it is, worked out, with nothing changed since. It is about the
/// fence and not about one strip.
enum class Proved {
    not_cut,
    passed,
    marked,
    undecided,
    failed,
    changing  ///< its tests disagree
};            ///< marked: it is square, but the heel marks the face
Proved proof_of(const Seen& seen);

/// One test from the cut to the working, the fence brushed before each cut, each end read twice.
std::vector<Action> proof_intention();

/// The step of the job that this belongs to.
Stage stage_of(Todo todo);

}  // namespace offsquare::session
