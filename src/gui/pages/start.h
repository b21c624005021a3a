// The first screen: what a person can do, what was done before, and the cases. What it remembers; places.h does what is
// chosen there.
#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "gui/pages/area.h"
#include "lesson/cases.h"
#include "lesson/results.h"
#include "lesson/so_far.h"
#include "picture/door_view.h"
#include "session/next.h"

namespace offsquare::gui {

using Doorway = picture::Door;
inline constexpr std::array doorways{Doorway::my_saw, Doorway::learn, Doorway::practise, Doorway::what_if,
                                     Doorway::show_class};

/// What stands behind a door, in words.
struct DoorWords {
    std::string_view title;
    std::string_view sentence;
};
DoorWords words_of(Doorway door);

/// Where in the window the work on the bench stands, so that it goes on there.
struct Place {
    bool notebook = false;
    session::Leaf leaf = session::Leaf::symptom;
    bool push = false;
    bool for_class = false;
    bool reveal = false;
    std::optional<session::Stage> looking_at;
    std::optional<Doorway> door;
    bool truth_seen = false;
};

/// What was chosen on the first screen.
struct ChosenCase {
    std::string name;
};
struct OwnSled {
    std::string name;
};
struct GoOnWith {
    /// The bench, work left behind, a file, a sled of one's own.
    std::variant<std::monostate, std::uint64_t, std::filesystem::path, OwnSled> what;
};
struct ThrowAway {
    std::uint64_t id = 0;
};
struct OpenAFile {};
using StartWish = std::variant<std::monostate, Doorway, ChosenCase, GoOnWith, ThrowAway, OpenAFile>;

/// A line of "go on where you were".
struct GoOnLine {
    GoOnWith with;
    lesson::SoFar so_far;
    std::string when;  ///< empty: it stands on the bench, or is a file
    std::string complaint;
};

struct StartState {
    bool open = false;              ///< it stands in front of what is on the bench, which waits
    bool from_my_saw = false;       ///< it was left for this screen, and Escape leads back there
    bool was_open = false;          ///< once in this window: what was left behind has been offered there
    bool all_cases = false;         ///< shown
    bool all_lines = false;         ///< of what one can go on with
    bool stands = false;            ///< something was put on the bench by the person
    std::optional<Doorway> door;    ///< by which it came
    bool wanted = false;            ///< it opens when this frame has taken what was typed
    bool truth_seen = false;        ///< since it stands there: then nothing is proved by it
    std::size_t noted_changes = 0;  ///< of the bench, for the results
    lesson::Results results;
    std::map<std::uint64_t, Place> places;  ///< of work that was left behind in this window
    std::vector<GoOnLine> files;            ///< opened or saved lately
    std::vector<GoOnLine> sleds;            ///< of one's own, with something in their logs
    bool files_known = false;
};

/// Draws it, and says what was chosen. `lines`: what one can go on with, in order.
StartWish draw_start(Kit& kit, Bench& bench, StartState& state, const std::vector<GoOnLine>& lines, float width,
                     float height);

}  // namespace offsquare::gui
