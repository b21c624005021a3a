// What tests of hunts have in common.
#pragma once

#include <doctest/doctest.h>

#include "lesson/cases.h"
#include "lesson/hunt.h"
#include "session/next.h"

namespace hunting {

using namespace offsquare;
using lesson::Close;
using lesson::Did;
using lesson::Ending;
using lesson::Hunt;
using lesson::Suspects;
using measure::Check;
using shop::Fault;

inline Hunt hunt_on(const char* name) {
    const lesson::Case* c = lesson::find_case(name);
    REQUIRE(c != nullptr);
    return Hunt(c->scenario, c->scenario.seed, c->name);
}

inline Did check(Check c) { return {{session::MakeCheck{c}}}; }

/// One test as it stands, read and worked out.
inline Did test() { return {session::proof_intention()}; }

}  // namespace hunting
