// The push page's own state: the live sled, the hand on it, and what was pushed so far. No ImGui here and no arithmetic
// of the trade.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "gui/state/bench.h"
#include "picture/push_view.h"
#include "session/push_record.h"

namespace offsquare::session {
class WatchedSled;  // session/watch.h
}

namespace offsquare::gui {

class Pushing {
public:
    Pushing();
    ~Pushing();
    Pushing(Pushing&&) noexcept;
    Pushing& operator=(Pushing&&) noexcept;

    bool open = false;
    double at_mm = 0.0;       ///< where the hand holds the sled, in S
    double force_n = 80.0;    ///< the most that it gives
    double speed_mm_s = 0.0;  ///< that it wants now; 0 and not `holds`: it has let go
    bool holds = false;

    /// Call in every frame while it is open: a new sled whenever the saw has changed, and the hand of the scenario the
    /// first time, and where another saw has another.
    void follow(const Bench& bench);
    /// So much time has passed; the live sled moves.
    void tick(double seconds);
    void start_again(const Bench& bench);
    /// Whether the picture changes by itself.
    bool moving() const;

    picture::PushShown shown() const;
    const contact::LiveState& state() const;
    /// What statics says of this hand here; empty where the runners do not fit.
    const session::PushNow& now() const { return now_; }
    bool through() const { return record_.is_through(drawing_); }
    /// The hand pushed and the sled stands, and statics says why. So it stays when the hand lets go, until it holds the
    /// sled where it would move, or pulls it back.
    bool stuck() const { return still_s_ > 0.4; }
    /// While it jams: how far the hand must move towards the middle before any push is enough, to the next millimetre.
    double to_come_free_mm() const;
    /// What was pushed, for the five cuts; empty while nothing was.
    std::optional<session::PushTest> test() const;
    /// What a hand finds on this sled, in words: where its owner pushes, and in the middle.
    static std::string found(const Bench& bench);
    /// Whether the sled can turn in its slots at all: as soon as one runner fills its slot, it cannot.
    bool has_play() const;
    /// Gives both runners what a good fit leaves (shop/fault.h), so that a hand has something to turn.
    static session::SetBoth usual_play();
    static double usual_play_mm();
    double farthest_hand_mm() const { return 0.5 * drawing_.sled.width_mm; }

private:
    std::unique_ptr<session::WatchedSled> sled_;
    session::PushRecord record_;
    session::PushNow now_;
    shop::Drawing drawing_;
    std::size_t seen_changes_ = 0;
    double still_s_ = 0.0;
    bool held_ = false;  ///< in the last tick
};

}  // namespace offsquare::gui
