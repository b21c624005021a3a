// Unsaved work: written to the state folder every half minute, and offered at the next start if the person has not
// saved it. No ImGui here.
//
// Each window writes a file of its own and holds a lock beside it as long as it lives; the system lets go of the lock
// when the program ends, however it ends. A file whose lock can be taken is therefore one that nobody works on. Two
// windows never touch each other's file.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "base/descriptor.h"
#include "base/result.h"
#include "gui/state/bench.h"

namespace offsquare::gui {

inline constexpr double autosave_every_s = 30.0;

/// A file of unsaved work and the lock on it.
struct Slot {
    std::filesystem::path file;
    std::filesystem::path lock;
    base::Descriptor held;
};

class Unsaved {
public:
    /// `state` is the folder; empty: nothing can be kept. Looks for work that was left behind.
    explicit Unsaved(std::filesystem::path state);

    /// Call often; `now_s` is any steady clock. Writes when it is time, and takes the file away when there is nothing
    /// unsaved any more.
    void tick(const Bench& bench, double now_s);
    /// Writes at once what is unsaved: the window closes, or other work takes its place.
    void write(const Bench& bench);
    /// What was written stays and is offered; the present work goes on in another file.
    void set_aside();

    bool holds_work() const { return own_ != nullptr && written_; }  ///< some of the present work is on the disk
    bool offers() const { return !left_.empty(); }
    std::string when() const;  ///< of the newest work left behind: "14:05", or "24 Nov 14:05" when it was not today
    /// Puts it on the bench. What stood there unsaved is offered next. On an error the file is kept, renamed, and not
    /// offered again.
    base::Result<void> take_up(Bench& bench);
    void throw_away();

    /// Why work could not be kept, once; empty: all is well.
    std::string trouble();

private:
    void clear();
    bool get_slot();

    std::filesystem::path state_;
    std::vector<std::unique_ptr<Slot>> left_;  ///< the newest last
    std::unique_ptr<Slot> own_;
    bool written_ = false;
    std::size_t written_changes_ = 0;
    double due_s_ = -1.0;  ///< when the next write is due; negative: nothing waits
    std::string trouble_;
    bool told_ = false;
};

}  // namespace offsquare::gui
