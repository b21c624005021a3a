// A saw whose guides are loose, and often bent, splayed and wavy.
#pragma once

#include "contact/draws.h"
#include "shop/truth.h"

inline offsquare::shop::Truth curved_truth(Draws& r) {
    offsquare::shop::Truth t;
    t.left_play_mm = r.between(0.1, 1);
    t.right_play_mm = r.between(0.1, 1);
    t.pitch_error_mm = r.between(-0.2, 0.2);
    t.runner_bend_mm = r.coin() ? r.between(-0.3, 0.3) : 0.0;
    t.slot_splay_rad = r.coin() ? r.between(-5e-4, 5e-4) : 0.0;
    if (r.coin()) t.left_slot_profile = r.coin() ? r.wavy(-280, 280, 0.2) : r.rough(-280, 280, 0.1, r.whole(2, 40));
    if (r.coin()) t.right_slot_profile = r.coin() ? r.wavy(-280, 280, 0.2) : r.rough(-280, 280, 0.1, r.whole(2, 40));
    return t;
}
