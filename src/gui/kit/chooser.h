// Choosing a file to open or to save, as a sheet of our own. The folder is read by std::filesystem; every error is
// text.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "gui/kit/widgets.h"

namespace offsquare::gui {

struct FileEntry {
    std::string name;
    bool folder = false;
    std::uintmax_t bytes = 0;  ///< files only
};

struct Listing {
    std::vector<FileEntry> entries;  ///< folders first, each group by name without regard to case
    std::string error;               ///< why the folder could not be read; empty: it could
};

/// What is in a folder. Names that begin with a dot are left out. `extensions` like ".toml" (lower case, compared
/// without regard to case); empty: all files.
Listing list_folder(const std::filesystem::path& folder, const std::vector<std::string>& extensions);

enum class ChooserUse { open, save };

/// What was typed or chosen becomes a path: `~/` is the home folder, a relative name stands in `folder`, a missing
/// extension is added when saving. Open: must be a regular file. Save: its folder must exist, and it must not be a
/// folder.
base::Result<std::filesystem::path> accept_path(std::string_view text, const std::filesystem::path& folder,
                                                ChooserUse use, const std::vector<std::string>& extensions);

struct ChooserOptions {
    std::string title = "Open";
    ChooserUse use = ChooserUse::open;
    std::vector<std::string> extensions{};
    std::filesystem::path folder{};               ///< where to start; empty or missing: the current folder
    std::string name{};                           ///< suggested file name (save)
    std::vector<std::filesystem::path> recent{};  ///< stand at the top of the list
};

class Chooser {
public:
    void open(ChooserOptions options);
    bool is_open() const { return open_; }
    /// Call in every frame. The chosen path once; nothing otherwise. Saving over an existing file asks first.
    std::optional<std::filesystem::path> draw(Kit& kit);
    const std::filesystem::path& folder() const { return options_.folder; }

private:
    void enter(const std::filesystem::path& folder);
    void draw_recent(Kit& kit, std::optional<std::filesystem::path>& result);
    void draw_list(Kit& kit, std::optional<std::filesystem::path>& result);
    void draw_buttons(Kit& kit, std::optional<std::filesystem::path>& result);
    void try_accept(std::optional<std::filesystem::path>& result);

    ChooserOptions options_;
    Listing listing_;
    std::string text_;
    std::string problem_;
    bool open_ = false;
    bool ask_replace_ = false;
};

}  // namespace offsquare::gui
