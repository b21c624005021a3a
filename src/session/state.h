// What an action changes: the saw and what is seen of it, side by side. An action gets a copy and gives it back
// changed, or says why not; so what is not possible leaves everything as it was, clamping and chance too.
#pragma once

#include "base/result.h"
#include "measure/going.h"
#include "session/saw.h"
#include "session/seen.h"

namespace offsquare::session {

struct State {
    Saw saw;
    Seen seen;
};

State start_of(const scenario::Scenario& scenario, std::uint64_t seed, measure::Precision precision, bool real_saw,
               cut::Grain grain);

/// The state after an action, with its event. Not possible: Grade::usage, naming the action by its number and sentence.
base::Result<State> after(const State& before, const Action& action);

// ---- what several actions share ----

/// Fills the drawer anew: each line's pieces lie in a heap, piece 0 on top.
void fill_drawer(State& state);
/// A fence that was loosened for its shims is clamped again before the next cut or check, and may turn while that is
/// done.
void clamp(State& state);
/// Other shims stand behind the fence now: what depended on how it stood is struck out, or holds again when the same
/// pieces are back and nothing was clamped since; and the repair is noted.
void shims_changed(State& state);
/// Strikes out what depends on a fault that was put right.
void strike_out(State& state, shop::Fault repaired);
/// The sled was seen to go, or to jam: strikes out what was read while it did the other.
void strike_out(State& state, measure::Going felt);
/// Strikes out everything that was read here on another set-up; what a person has typed stands as it is.
void strike_out(State& state, const std::string& key_set);
/// The saw is another one now: the job begins anew, and the tests so far are not of it.
inline void begin_anew(State& state) { state.seen.first_now = state.seen.tests.size(); }

/// The number of the event that is being made.
inline std::size_t this_event(const State& state) { return state.seen.events.size() + 1; }

}  // namespace offsquare::session
