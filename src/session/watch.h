// One of the two calls that look at the saw itself (the other is reveal.h): what anyone at the saw sees move or reads
// off an instrument while it is held there. It costs nothing and is written down nowhere; a check made by hand is made
// of it.
#pragma once

#include <cstddef>
#include <cstdint>

#include "contact/live.h"
#include "contact/live_pass.h"
#include "measure/check.h"
#include "session/history.h"
#include "session/push_record.h"
#include "shop/hidden.h"

namespace offsquare::session {

/// What the instrument of this check shows at one of its places (by its number among the check's readings), the saw as
/// it stands now: the true thing, before the reading is rounded and before chance. Refused (Grade::usage): the sled
/// binds; the check has no such place; a check that cuts a board shows nothing until it is cut, and must be made.
base::Result<measure::CheckReading> watch(const History& history, measure::Check check, std::size_t place);

/// The sled of this saw, moved by a hand.
class WatchedSled {
public:
    /// Stands still at the travel s, midway in its play.
    WatchedSled(const History& history, double s_mm);

    std::int64_t advance(double seconds, const contact::LiveHand& hand) { return sled_.advance(seconds, hand); }
    const contact::LiveState& state() const { return sled_.state(); }
    /// What statics says of a hand on it where it is now.
    PushNow under(double x_mm, double force_n) const;
    const SledPlay& play() const { return play_; }

private:
    shop::Drawing drawing_;
    shop::Hidden truth_;
    SledPlay play_;
    contact::LiveSled sled_;
};

/// A whole pass of the sled of a scenario under a hand, by statics and by the live sled.
contact::PushedPass watch_push(const scenario::Scenario& scenario, const contact::HandPush& hand,
                               const contact::Rub& rub, const contact::PushRange& range);
contact::LivePass watch_live_push(const scenario::Scenario& scenario, const contact::HandPush& hand,
                                  const contact::Rub& rub, const contact::PushRange& range);

}  // namespace offsquare::session
