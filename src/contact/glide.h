// The sled's travel to first order: for whoever asks of thousands of saws, and needs no more digits than an instrument
// shows.
//
// Plays, bows, splay and yaw are taken as small: the yaw's cosine is 1, and a bow is a parabola. Then what stops the
// sled on one side is a parabola over the left runner and a straight line over the right one, and where it stands under
// the push is written down.
//
// Where it stops: bows and straight faces only, and a hand that presses to one side. Against travel() x is off by some
// thousandths of a millimetre and the yaw by some hundredths of a milliradian, most of it because there a bow is a
// broken line; tests/contact/glide_test.cpp says how much.
#pragma once

#include <array>
#include <cstddef>

#include "contact/runners.h"

namespace offsquare::contact {

/// The travel at places evenly apart; x and yaw are straight between them.
struct Glide {
    static constexpr std::size_t places = 65;
    using List = std::array<double, places>;
    List s_mm{};  ///< as SledPose, by increasing s
    List x_mm{};
    List yaw_rad{};
};

/// How a travel is found to first order.
enum class Gliding {
    goes,
    binds,  ///< the runners do not fit in their slots somewhere
    ask     ///< a guide has a profile of its own, or the hand presses to no side or beyond the guided length: travel()
            ///< must be asked
};

/// From `from` to `to` (from < to); `out` holds when it goes.
Gliding glide(const shop::Drawing& drawing, const shop::Truth& truth, const Push& push, double from_mm, double to_mm,
              Glide& out);

}  // namespace offsquare::contact
