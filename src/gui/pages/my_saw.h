// The page "My saw": a person's own sled, strip by strip.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "gui/kit/chooser.h"
#include "gui/pages/area.h"
#include "gui/state/my_checks.h"
#include "gui/state/my_saw.h"

namespace offsquare::gui {

/// What lies over the page; one at a time.
enum class MySheet {
    none,
    how_to_cut,
    working,
    what_is_in,
    drawer,
    sizes,
    date,
    add,
    entry,
    checks,
    another,
    remove,
    print
};

/// A piece that is being typed: of the drawer, or behind the fence.
struct PieceTexts {
    std::string name, thickness, count = "1";
};

/// What the sheets remember while they are open.
struct MySheets {
    MySheet open = MySheet::none;
    MySheet before = MySheet::none;  ///< the one that was open in the last frame
    std::string trouble;             ///< why the last button did nothing
    int end = 0;                     ///< what is in: 0 left, 1 right
    std::string put;                 ///< how thick
    std::vector<int> chosen;         ///< how many of each row of the drawer
    std::vector<PieceTexts> pieces;  ///< the drawer
    std::vector<PieceTexts> moved;   ///< of the entry that is looked at
    int moved_end = 0;               ///< of it: 0 left, 1 right; where both were shimmed: 0 as they are, 1 exchanged
    std::string written;             ///< of a check, what was written down last
    std::string date, text, name, saw;
    int kind = 0;              ///< of an entry to add
    std::optional<int> fault;  ///< row of shop::faults() that was put right; empty: something else
    std::optional<int> entry;  ///< the one that is looked at
    bool sure = false;         ///< delete was pressed once
    std::map<std::string, std::string> sizes, size_troubles;  ///< by key
    bool all_sizes = false;
    std::optional<measure::Check> asked;  ///< whose readings look like a slip: pressed again, they are meant
};

/// What gets the keyboard next, where it is not what Tab would choose.
enum class MyPlace { none, far_end, between, fence_end, side, button };

/// What is written into a file that the person chooses.
enum class MyExport { page, csv, json, steps };

struct MySawState {
    MySaw saw;
    Chooser chooser;
    MyExport exports = MyExport::page;
    MyChecks checks;
    MySheets sheets;
    bool takes_keyboard = false;  ///< the first field gets the cursor
    StripDraft seen;              ///< of the last frame
    double rest_s = 0.0;          ///< since the draft was changed last
    double field_s = 0.0;         ///< since a field was left
    MyPlace goes_to = MyPlace::none;
    bool look_first = false;                            ///< the answer says to look at the shim first
    float now_height = 260.0F, besides_height = 92.0F;  ///< of these cards in the last frame [design pixels]
    bool moving = false;                     ///< a card has another height than in the last frame: one more is due
    std::pair<std::size_t, float> log_seen;  ///< at which change and height the log was scrolled to its end
    int log_to_end = 0;
    std::string export_folder;  ///< where exports go; empty: the working folder
};

/// What the page asks of the window around it.
struct MySawWish {
    std::optional<scenario::Scenario> practise_on;  ///< a saw like this one
};

void open_my_saw(MySawState& state);
MySawWish draw_my_saw(Kit& kit, Bench& bench, MySawState& state, float width, float height);
/// Keys of this page alone; true: no other may have them.
void my_saw_keys(Bench& bench, MySawState& state);
bool any_sheet_open(const MySawState& state);
/// Digits may be meant for a field: a strip stands half typed, or a field was left a moment ago.
bool strip_is_typed(const MySawState& state);

}  // namespace offsquare::gui
