// Whether a sled goes through its slots, and how far it can be pushed sideways: the clearance of contact/runners.h at a
// few places, for the diagnosis, which asks thousands of times.
//
// Where it stops: straight and bowed faces only; the yaw's second-order parts are left out (a thousandth of the play at
// 1 mrad). Tests hold it to the contact room.
#pragma once

#include <optional>

#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::session {

/// Whether the runners fit in the slots all along the travel of a test cut.
bool sled_goes(const shop::Drawing& drawing, const shop::Truth& truth);

/// How far the sled moves sideways at both ends of its runners, the runners in the middle of the table.
struct Room {
    double front_mm = 0.0;
    double rear_mm = 0.0;
};
/// Empty: it binds.
std::optional<Room> room_of(const shop::Drawing& drawing, const shop::Truth& truth);

}  // namespace offsquare::session
