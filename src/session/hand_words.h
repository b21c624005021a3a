// What a hand on the sled finds, in words: where its owner pushes, in the middle, and with slicker runners.
#pragma once

#include <string>

#include "base/quantity.h"
#include "contact/push.h"

namespace offsquare::session {

/// The same usual pass pushed in three ways.
struct HandTries {
    contact::PushedPass there;    ///< as shop::Feed has it
    contact::PushedPass middle;   ///< on the blade's line
    contact::PushedPass slicker;  ///< where the owner pushes, with half the friction at the runners
};

/// "Pushed 190 mm right of the blade it jams, however hard the push; in the middle it goes with 46 N. ..."
std::string hand_words(const shop::Feed& feed, const HandTries& tries, base::Units units);

}  // namespace offsquare::session
