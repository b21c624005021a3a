// A saw with no other errors than those that are known, cut again for the pictures: what a person may draw in the mind.
#pragma once

#include <array>
#include <vector>

#include "base/frame.h"
#include "session/seen.h"

namespace offsquare::session {

struct TrueTest;  // session/reveal.h

/// Corners of a piece in S, in order; empty: all of it went into chips.
using Outline = std::vector<base::Vec2>;
/// What cuts 1 to 4 took off, each as it fell.
using Offcuts = std::array<Outline, 4>;

/// Of a faultless saw, or, once the skew was read on the strip of that test, of one with just that skew.
Offcuts offcuts_as_known(const Test& test);
/// Of the test itself.
Offcuts offcuts_of(const TrueTest& test);

}  // namespace offsquare::session
