// What is kept between starts, as small text files of `key = value` lines or plain lines. No ImGui here. Reading never
// fails: what cannot be read or understood is as if it were not there.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/folders.h"
#include "gui/state/bench.h"

namespace offsquare::gui {

/// How the person wants to see things; $XDG_CONFIG_HOME/offsquare/settings.
struct Settings {
    std::optional<base::Units::System> units;  ///< empty: as each scenario has it
    picture::Scheme scheme = picture::Scheme::light;
    float scale = 0.0F;  ///< 0: as the display asks
    bool reduced_motion = false;
    base::Units::Angles angles = base::Units::Angles::slope;
    friend bool operator==(const Settings&, const Settings&) = default;
};
std::string to_text(const Settings& settings);
Settings settings_from(std::string_view text);
Settings settings_of(const View& view);
void apply(const Settings& settings, View& view);

/// Design pixels; $XDG_STATE_HOME/offsquare/window.
struct WindowSize {
    unsigned width = 1280;
    unsigned height = 800;
    friend bool operator==(const WindowSize&, const WindowSize&) = default;
};
std::string to_text(const WindowSize& size);
WindowSize window_size_from(std::string_view text);  ///< sides outside 320 .. 16384 are not believed

/// Files that were opened or saved, the last one first; $XDG_STATE_HOME/offsquare/recent, a path a line.
inline constexpr std::size_t most_recent = 8;
using Paths = std::vector<std::filesystem::path>;
std::string to_text(const Paths& recent);
Paths recent_from(std::string_view text);
Paths with_newest(Paths recent, const std::filesystem::path& path);  ///< the path comes first, and stands there once

/// The three files above in their places.
class Keep {
public:
    explicit Keep(base::Folders folders);

    const Settings& settings() const { return settings_; }
    const WindowSize& window_size() const { return size_; }
    /// Writes what has changed since it was read or written.
    void settings_are(const Settings& settings);
    void window_is(const WindowSize& size);
    void opened(const std::filesystem::path& path);
    /// Those that are still there. Read anew: another window may have added some.
    Paths recent() const;
    /// Where the person's sessions are saved unless another folder is chosen; made when asked for. Empty: nowhere.
    std::filesystem::path sessions_folder();
    const base::Folders& folders() const { return folders_; }

    /// Why something could not be kept, once; empty: all is well.
    std::string trouble();

private:
    void write(const std::filesystem::path& folder, const char* name, const std::string& text);
    void note(const std::string& problem);

    base::Folders folders_;
    Settings settings_;
    WindowSize size_;
    std::string trouble_;
    bool told_ = false;  ///< the same trouble at every change would only annoy
};

}  // namespace offsquare::gui
