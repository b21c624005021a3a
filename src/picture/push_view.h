// The sled under a hand, from above: how it lies in its play, and the forces at the walls.
//
// Play and turn are drawn larger by one factor, the runners narrower by as much, so that a runner touches a wall in the
// picture where it touches one in truth. Where it stops: bent runners and wavy slots are drawn straight.
#pragma once

#include "contact/live.h"
#include "picture/table_view.h"
#include "session/push_record.h"

namespace offsquare::picture {

struct PushShown {
    contact::LiveState state;
    session::SledPlay play;
    double hand_x_mm = 0.0;  ///< in S
    bool holds = false;
};

/// How many times play and turn are drawn larger: round, and so that the runners keep three fifths of their width and
/// the sled stays on the page.
double push_factor(const shop::Drawing& drawing, const session::SledPlay& play);
/// A force of 1 N is drawn so long [mm], and none longer than this.
inline constexpr double mm_per_newton = 1.0;
inline constexpr double longest_arrow_mm = 180.0;
/// At least this far behind the fence's rear edge the mark of the hand stands [mm].
inline constexpr double hand_behind_mm = 34.0;

/// `Handle::sled` marks what can be taken hold of.
Picture push_view(const session::Seen& seen, const PushShown& shown, const ViewOptions& options);

}  // namespace offsquare::picture
