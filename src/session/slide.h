// Whether a sled goes through its slots, and how far it can be pushed sideways, to first order (contact/bowed_guides.h)
// at a few places: for the diagnosis, which asks thousands of times.
//
// Where it stops: straight and bowed faces only; the yaw's second-order parts are left out (a thousandth of the play at
// 1 mrad). Tests hold it to the contact room.
#pragma once

#include <optional>
#include <vector>

#include "measure/going.h"
#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::session {

/// One drawing made ready to be asked of many saws.
class Slide {
public:
    explicit Slide(const shop::Drawing& drawing);
    /// Whether the runners fit in the slots all along the travel of a test cut.
    bool goes(const shop::Truth& truth) const;
    /// As the check push_through finds it: where it does not go all along, whether it even starts.
    measure::Going how_it_goes(const shop::Truth& truth) const;

private:
    shop::Drawing drawing_;
    std::vector<double> stops_mm_;  ///< of the travel
    double start_mm_ = 0.0;         ///< where the runners have just gone in
};
bool sled_goes(const shop::Drawing& drawing, const shop::Truth& truth);  ///< the same for one saw

/// How far the sled moves sideways at both ends of its runners, the runners in the middle of the table.
struct Room {
    double front_mm = 0.0;
    double rear_mm = 0.0;
};
/// Empty: it binds.
std::optional<Room> room_of(const shop::Drawing& drawing, const shop::Truth& truth);

}  // namespace offsquare::session
