// What the proposal of a test means as things to do. Window and command line do the same.
#pragma once

#include <vector>

#include "session/seen.h"

namespace offsquare::session {

/// Both ends are worth the trouble when one end alone would leave more than half the tolerance, and what is to be taken
/// out was put in last. False while nothing is proposed.
bool uses_both_ends(const Test& test);

/// The pieces to take out and put in, in order; empty when no shim is proposed or nothing from the drawer helps.
std::vector<Action> proposed_actions(const Test& test);

}  // namespace offsquare::session
