// Saws for the tests of the push.
#pragma once

#include "contact/push.h"
#include "shop/truth.h"

namespace pushed {

using namespace offsquare;

/// A sled of which both runners are guided all along the passes of these tests.
inline shop::Drawing saw(double runner_mm) {
    shop::Drawing d;
    d.table.depth_mm = 2000.0;
    d.sled.runner_length_mm = runner_mm;
    return d;
}

inline shop::Truth loose(double left_mm, double right_mm) {
    shop::Truth t;
    t.left_play_mm = left_mm;
    t.right_play_mm = right_mm;
    return t;
}

inline contact::Rub rubbing(double mu, double base_n = contact::Rub{}.base_n) {
    contact::Rub rub;
    rub.mu = mu;
    rub.base_n = base_n;
    return rub;
}

}  // namespace pushed
