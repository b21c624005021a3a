// The job as lists of actions, for the tests of this room.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "both_sides.h"
#include "session/log.h"
#include "session/next.h"
#include "session/story.h"
#include "shop/truth.h"

namespace job {

using namespace offsquare;
using session::Action;
using session::CutTest;
using session::End;
using session::History;
using session::PutShim;
using session::PutThickness;
using session::Read;
using session::SetValue;
using session::Stage;
using session::TakeShim;
using session::WorkOut;
using shim::At;

using Actions = std::vector<Action>;

inline bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

inline const scenario::Scenario& saw() {
    static const scenario::Scenario s = scenario::built_in();
    return s;
}

/// The built-in saw with another skew and side.
inline scenario::Scenario saw_with(double skew_rad, shop::Side kept = shop::Side::left) {
    scenario::Scenario s = saw();
    s.truth->fence_skew_rad = skew_rad;
    s.drawing.board.kept = kept;
    return s;
}

inline Actions cut_and_read() { return {CutTest{true}, Read{End::fence}, Read{End::far}}; }

inline Actions operator+(Actions a, const Actions& b) {
    a.insert(a.end(), b.begin(), b.end());
    return a;
}

/// Both sides of a session where a list of actions has led it; `tests` are those of the saw as it is.
struct Trial {
    session::Seen seen;
    session::Saw saw;
    std::vector<session::Test> tests;
    std::vector<session::Note> notebook;  ///< checks made or typed
    Stage stage = Stage::set_up;
    bool proved = false;

    double skew_now_rad() const { return session::skew_now_rad(saw); }
    double cut_skew_rad() const { return saw.tests.back().cut->skew_rad; }  ///< of the fence during the last test
    const cut::FiveCut& cut(std::size_t test = 0) const { return *saw.tests.at(seen.first_now + test).cut; }
};

inline Trial look(const History& history) {
    const session::Seen& seen = history.seen();
    Trial t{seen, session::saw_of(history), {}, {}, seen.stage, seen.proved};
    for (std::size_t i = 0; i < seen.tests_now(); ++i) t.tests.push_back(seen.test_now(i));
    t.notebook.assign(seen.checks.begin(), seen.checks.end());
    return t;
}

inline base::Result<Trial> run(const scenario::Scenario& s, const Actions& actions, std::uint64_t seed,
                               measure::Precision precision = measure::Precision::real) {
    return session::run(s, actions, seed, precision).map([](const History& h) { return look(h); });
}

inline session::Log log_of(const scenario::Scenario& s, std::uint64_t seed, measure::Precision precision,
                           const Actions& actions) {
    return {s, seed, precision, session::entries_of(actions)};
}

/// What the job says should be done next.
inline session::Now now(const Trial& t) {
    return session::words_of(session::next_in_job(t.seen), t.seen, t.seen.units);
}

/// All the pieces that the proposal names, put where it says.
inline Actions put(const shim::Stack& stack) {
    Actions a;
    for (const shim::PickedShim& p : stack.pieces) a.push_back(PutShim{stack.at, p.drawer_row});
    return a;
}

}  // namespace job
