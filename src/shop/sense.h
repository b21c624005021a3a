// Whether a set-up makes sense before anything is cut: advice with its reason, never a refusal.
#pragma once

#include <string>
#include <vector>

#include "base/quantity.h"
#include "shop/drawing.h"

namespace offsquare::shop {

struct Advice {
    std::string key;       ///< of the scenario value to look at first, "fence.height"
    std::string sentence;  ///< what was found, why it matters, what would do
};

/// In the order of danger: the sled that falls in two, the blade that comes out uncovered, the runners that leave their
/// slots, the push that stops short, the board that hangs over. Rules: common practice, no source, but for the guide in
/// its grooves (29 CFR 1910.213(a)(6)). Figures in them are ours.
std::vector<Advice> sense_of(const Drawing& drawing, base::Units units);

}  // namespace offsquare::shop
