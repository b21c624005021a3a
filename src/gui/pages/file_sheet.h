// Opening and saving: the chooser, what it is open for, and what is kept of it.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>

#include "gui/keep/keep.h"
#include "gui/keep/unsaved.h"
#include "gui/kit/chooser.h"
#include "gui/pages/area.h"

namespace offsquare::gui {

struct FileState {
    enum class Choosing { open, save, picture, readings };

    Chooser chooser;
    Choosing choosing = Choosing::open;
    std::filesystem::path save_folder;   ///< where a session was saved last
    Keep* keep = nullptr;                ///< what is kept between starts; none in most tests
    Unsaved* unsaved = nullptr;          ///< work that was left behind; none in most tests
    std::filesystem::path on_bench;      ///< the file that the work on the bench is, as it was opened or saved
    bool opened = false;                 ///< a file has come onto the bench since this was last looked at
    std::optional<std::uint64_t> aside;  ///< what went aside for it
};

/// Each opens the chooser.
void open_file(FileState& files);
void save_file(FileState& files);
void save_picture(FileState& files);
void save_readings(FileState& files);

/// What the person chose is opened. What is unsaved now is not lost by it: it is offered again.
void open_chosen(Bench& bench, FileState& files, const std::filesystem::path& path);

void draw_file_sheet(Kit& kit, Bench& bench, FileState& files);
/// Unsaved work of an earlier start, while there is some.
void draw_offer(Kit& kit, Bench& bench, Unsaved& unsaved, const Area& area);

}  // namespace offsquare::gui
