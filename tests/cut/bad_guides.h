// A saw whose guides and blade are off, each of them often not.
#pragma once

#include "contact/draws.h"
#include "shop/truth.h"

inline offsquare::shop::Truth bad_guides(Draws& r) {
    offsquare::shop::Truth t;
    t.left_play_mm = r.between(0.0, 0.3);
    t.right_play_mm = r.between(0.0, 0.3);
    t.pitch_error_mm = r.coin() ? r.between(-0.1, 0.1) : 0.0;
    t.slot_splay_rad = r.coin() ? r.between(-3e-4, 3e-4) : 0.0;
    t.slot_wander_mm = r.coin() ? r.between(-0.06, 0.06) : 0.0;
    t.runner_bend_mm = r.coin() ? r.between(-0.08, 0.08) : 0.0;
    t.blade_toe_rad = r.coin() ? r.between(-1e-3, 1e-3) : 0.0;
    return t;
}
