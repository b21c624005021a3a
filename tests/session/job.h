// The job as lists of actions, for the tests of this room.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "session/log.h"
#include "session/story.h"
#include "session/trial.h"
#include "shop/truth.h"

namespace job {

using namespace offsquare;
using session::Action;
using session::CutTest;
using session::End;
using session::PutShim;
using session::PutThickness;
using session::Read;
using session::SetValue;
using session::Stage;
using session::TakeShim;
using session::Trial;
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

inline Actions cut_and_read() { return {CutTest{}, Read{End::fence}, Read{End::far}}; }

inline Actions operator+(Actions a, const Actions& b) {
    a.insert(a.end(), b.begin(), b.end());
    return a;
}

/// All the pieces that the proposal names, put where it says.
inline Actions put(const shim::Stack& stack) {
    Actions a;
    for (const shim::PickedShim& p : stack.pieces) a.push_back(PutShim{stack.at, p.drawer_row});
    return a;
}

}  // namespace job
