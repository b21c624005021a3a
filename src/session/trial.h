// The corridor: one session from start to end, as a pure function of scenario, actions and seed.
//
//     apply the actions: feed the board, cut, take readings, fit, propose, judge.
//
// Proving is the same test with one more action before it: the shim.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "cut/face_marks.h"
#include "cut/five_cut.h"
#include "diagnose/five_cut.h"
#include "measure/check.h"
#include "measure/instruments.h"
#include "scenario/scenario.h"
#include "session/action.h"
#include "shim/propose.h"

namespace offsquare::session {

/// A piece behind the fence: what is marked on it, and what it really measures.
struct PlacedShim {
    shim::PickedShim picked;  ///< drawer_row -1: not from the drawer
    double true_mm = 0.0;
    std::uint32_t piece = 0;  ///< which piece of its drawer line
};

/// One five-cut test with what was read on its strip and what follows.
struct Test {
    shop::Drawing drawing;                ///< the set-up as it was for this test
    std::vector<PlacedShim> behind_left;  ///< what stood behind the fence during the test
    std::vector<PlacedShim> behind_right;
    int clamped_again = 0;  ///< how often the fence had been clamped anew by then
    std::optional<cut::HandPass>
        pushed;           ///< by a hand that turned the sled in its play; empty: pressed as the drawing says
    cut::FiveCut cut;     ///< the truth: shown only when asked
    cut::FaceMarks face;  ///< of the last cut: anyone can look at it
    std::vector<measure::Reading> fence_end;  ///< stations count from the fence end along the old edge
    std::vector<measure::Reading> far_end;
    std::optional<measure::Reading> between;  ///< the tape, between the two places; there as soon as both ends are read
    std::optional<diagnose::StripReadings> strip;  ///< the means that the working starts from
    std::optional<base::Uncertain> skew_rad;       ///< of this test alone; there as soon as both ends are read
    std::optional<base::Uncertain> pooled_rad;     ///< the mean with the tests just before it of the same set-up and
                                                   ///< shims; proposal and verdict rest on it
    int pooled_tests = 0;                          ///< how many tests are in that mean
    bool worked_out = false;                       ///< the person has asked for the working
    std::optional<shim::Proposal> proposal;
    std::optional<diagnose::Verdict> verdict;
};

/// How far in from an end the caliper may stand [mm]: the two places stay on their own halves of the strip.
double furthest_in_mm(const cut::Strip& strip);

/// One check as it stands in the notebook.
struct Note {
    measure::CheckReport report;
    bool holds = true;                        ///< false: something that it depends on was repaired since
    std::optional<shop::Fault> set_aside_by;  ///< which repair did that
    bool typed = false;                       ///< by a person, and not read here
};

/// A repair that was made.
struct RepairNote {
    shop::Fault fault = shop::Fault::fence_skew;
    std::size_t after_notes = 0;  ///< how many notes there were by then
};

/// Where the job stands.
enum class Stage { set_up, cut, read, work_out, shim, prove };
std::string_view name_of(Stage stage);  ///< "Set up", "Cut", ...

struct Trial {
    scenario::Scenario scenario;  ///< with the values that actions have set
    std::uint64_t seed = 0;
    measure::Precision precision = measure::Precision::real;
    std::vector<Test> tests;
    std::vector<PlacedShim> behind_left;  ///< now
    std::vector<PlacedShim> behind_right;
    std::vector<int> left_in_drawer;  ///< pieces per drawer line
    std::vector<Note> notebook;       ///< every check that was made, in order
    std::vector<RepairNote> repairs;
    int clamped_again = 0;   ///< how often the fence was loosened and clamped since the start
    double crept_rad = 0.0;  ///< how far the last clamping turned the fence (truth)
    double minutes = 0.0;    ///< what checks and tests have cost
    double stock_mm = 0.0;
    Stage stage = Stage::set_up;  ///< what is to be done next
    bool proved = false;          ///< the last test was cut after a shim or a repeat, is read, and passes

    bool shims_changed_since_last_test() const;
    double skew_now_rad() const;  ///< the truth, shims counted
};

/// Runs the list. An action that is not possible where it stands is Grade::usage and names the action by its number and
/// sentence.
base::Result<Trial> run(const scenario::Scenario& scenario, std::span<const Action> actions, std::uint64_t seed,
                        measure::Precision precision = measure::Precision::real);

/// The same one action at a time, for whoever looks at the trial between them: run() is start() and a step() for each
/// action.
struct Run {
    Trial trial;
    std::size_t actions_done = 0;
    std::uint32_t tests_cut = 0;           ///< ever, so that no two tests share a draw
    std::uint32_t checks_made = 0;         ///< ever, for the same reason
    std::vector<PlacedShim> clamped_left;  ///< what stood behind the fence when it was clamped last
    std::vector<PlacedShim> clamped_right;
    std::vector<std::vector<std::uint32_t>> drawer;  ///< the pieces in each drawer line, the next one to be taken last
};
/// More actions than this are refused, so that whatever can be done can also be saved and replayed: more than a person
/// makes, more than the longest job of the command line, and few enough that a hostile file cannot keep a processor
/// busy for long.
inline constexpr std::size_t most_actions = 10000;
Run start(const scenario::Scenario& scenario, std::uint64_t seed,
          measure::Precision precision = measure::Precision::real);
base::Result<void> step(Run& run, const Action& action);  ///< an action that is not possible leaves the run as it was

}  // namespace offsquare::session
