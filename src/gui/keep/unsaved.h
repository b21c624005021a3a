// Unsaved work: written to the state folder every half minute, and offered at the next start if the person has not
// saved it. No ImGui here.
//
// Each window writes a file of its own and holds a lock beside it as long as it lives; the system lets go of the lock
// when the program ends, however it ends. A file whose lock can be taken is therefore one that nobody works on. Two
// windows never touch each other's file.
#pragma once

#include <cstdint>
#include <ctime>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/descriptor.h"
#include "base/result.h"
#include "gui/state/bench.h"
#include "lesson/so_far.h"

namespace offsquare::gui {

inline constexpr double autosave_every_s = 30.0;

/// A file of unsaved work and the lock on it.
struct Slot {
    std::filesystem::path file;
    std::filesystem::path lock;
    base::Descriptor held;
};

/// Work that was left behind, as a list shows it.
struct LeftWork {
    std::uint64_t id = 0;  ///< of this start of the program
    lesson::SoFar so_far;
    std::string complaint;  ///< of the case that it is; empty: none
    std::string when;       ///< "14:05", or "24 Nov 14:05" when it was not today
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
    /// What was to be written stays and is offered; the present work goes on in another file. Where the disk took
    /// nothing it stays in memory as long as the program runs. The value is its number; empty: there was nothing.
    std::optional<std::uint64_t> set_aside();

    bool holds_work() const { return own_ != nullptr && written_; }  ///< some of the present work is on the disk
    bool offers() const { return !left_.empty(); }
    std::vector<LeftWork> left() const;  ///< the newest first
    std::string when() const;            ///< of the newest work left behind
    /// Puts it on the bench, the newest or that of this number. What stood there unsaved is offered next, and
    /// `went_aside`, if given, is its number. On an error the file is kept, renamed, and not offered again.
    base::Result<void> take_up(Bench& bench, std::optional<std::uint64_t> id = std::nullopt,
                               std::optional<std::uint64_t>* went_aside = nullptr);
    void throw_away(std::optional<std::uint64_t> id = std::nullopt);

    /// Why work could not be kept, once; empty: all is well.
    std::string trouble();

private:
    struct Left {
        std::unique_ptr<Slot> slot;  ///< nullptr: the disk took nothing
        std::string text;            ///< then the work itself
        std::time_t written = 0;
        LeftWork work;
    };
    using Place = std::vector<Left>::iterator;

    void clear();
    bool get_slot();
    void describe(const Bench& bench);
    Place place_of(std::optional<std::uint64_t> id);

    std::filesystem::path state_;
    std::vector<Left> left_;  ///< the newest last
    LeftWork present_;        ///< what is to be written
    std::string unwritten_;   ///< the same as text, where the disk did not take it
    std::uint64_t next_id_ = 1;
    std::unique_ptr<Slot> own_;
    bool written_ = false;
    std::size_t written_changes_ = 0;
    double due_s_ = -1.0;  ///< when the next write is due; negative: nothing waits
    std::string trouble_;
    bool told_ = false;
};

}  // namespace offsquare::gui
