// Whether a sled goes through its slots, and how far it can be pushed sideways: the clearance of contact/runners.h at a
// few places, for the diagnosis, which asks thousands of times.
//
// Where it stops: straight and bowed faces only; the yaw's second-order parts are left out (a thousandth of the play at
// 1 mrad). Tests hold it to the contact room.
#pragma once

#include <array>
#include <cstddef>
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

    static constexpr std::size_t places = 17;  ///< along the runners
    using List = std::array<double, places>;
    /// What the drawing says of one place of the travel.
    struct Stop {
        List y{};           ///< along the runners, from the middle of the guided part [mm]
        List in_table{};    ///< the same in T
        List slot_bow{};    ///< of a slot whose middle stands out by 1 mm
        List runner_bow{};  ///< of a runner bent by 1 mm
    };

private:
    std::vector<Stop> stops_;    ///< empty: no runner is over the table somewhere
    std::optional<Stop> start_;  ///< where the runners have just gone in
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
