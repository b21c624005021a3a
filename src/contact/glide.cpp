#include "contact/glide.h"

#include <cmath>

#include "contact/bowed_guides.h"
#include "contact/tracks.h"

namespace offsquare::contact {

Gliding glide(const shop::Drawing& drawing, const shop::Truth& truth, const Push& push, double from_mm, double to_mm,
              Glide& out) {
    if (push.side == 0.0 || has_profiles(truth)) return Gliding::ask;
    const double facing = push.side < 0.0 ? -1.0 : 1.0;
    const BowedGuides guides(drawing, truth, facing);
    const double at = push.moment_mm == 0.0 ? 0.0 : -push.moment_mm / push.side;
    for (std::size_t i = 0; i < Glide::places; ++i) {
        const double s = from_mm + (to_mm - from_mm) * static_cast<double>(i) / (Glide::places - 1);
        const auto offsets = guides.at(s);
        if (!offsets || !(std::abs(at) < offsets->h)) return Gliding::ask;
        const double spacing = offsets->on_runner == 0.0 ? 2.0 * guides.half_runner() / (Samples::most - 1) : 0.0;
        const LineRoom room(*offsets, guides.left_play(), guides.right_play());
        if (!room.open()) return Gliding::binds;
        const Line sled = room.pressed_right(at, spacing);
        out.s_mm[i] = s;
        out.x_mm[i] = facing * (sled.at_0 - sled.slope * offsets->middle);
        out.yaw_rad[i] = -facing * sled.slope;
    }
    return Gliding::goes;
}

}  // namespace offsquare::contact
