#include "gui/keep/keep.h"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "base/quantity.h"
#include "base/read.h"
#include "base/save.h"

namespace offsquare::gui {

namespace fs = std::filesystem;

namespace {

constexpr base::Wanted small_file{"a file of offsquare's own", "units = mm", std::size_t{64} << 10U};

std::string text_of(const fs::path& folder, const char* name) {
    if (folder.empty()) return {};
    const fs::path path = folder / name;
    return base::read_file(path.string(), path.string(), small_file).value_or(std::string());
}

std::vector<std::string> lines_of(std::string_view text) {
    std::vector<std::string> lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        if (end > 0) lines.emplace_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return lines;
}

std::map<std::string, std::string> pairs_of(std::string_view text) {
    std::map<std::string, std::string> pairs;
    for (const std::string& line : lines_of(text)) {
        const std::size_t at = line.find(" = ");
        if (at != std::string::npos && line.front() != '#') pairs[line.substr(0, at)] = line.substr(at + 3);
    }
    return pairs;
}

/// A number within a range; `otherwise` if there is none.
double number(const std::map<std::string, std::string>& pairs, const char* key, double lo, double hi,
              double otherwise) {
    const auto found = pairs.find(key);
    if (found == pairs.end()) return otherwise;
    const auto value = base::parse_number(found->second);
    return value && *value >= lo && *value <= hi ? *value : otherwise;
}

}  // namespace

std::string to_text(const Settings& s) {
    return fmt::format("units = {}\nangles = {}\npaper = {}\nscale = {:g}\nreduced motion = {}\n",
                       !s.units                          ? "as the scenario"
                       : *s.units == base::Units::metric ? "mm"
                                                         : "inch",
                       s.angles == base::Units::Angles::mrad ? "mrad" : "slope",
                       s.scheme == picture::Scheme::dark ? "dark" : "light", s.scale, s.reduced_motion ? "yes" : "no");
}

Settings settings_from(std::string_view text) {
    auto pairs = pairs_of(text);
    Settings s;
    if (pairs["units"] == "mm") s.units = base::Units::metric;
    if (pairs["units"] == "inch") s.units = base::Units::imperial;
    if (pairs["angles"] == "mrad") s.angles = base::Units::Angles::mrad;
    if (pairs["paper"] == "dark") s.scheme = picture::Scheme::dark;
    s.scale = static_cast<float>(number(pairs, "scale", 0.75, 3.0, 0.0));
    s.reduced_motion = pairs["reduced motion"] == "yes";
    return s;
}

Settings settings_of(const View& view) {
    return {view.units_chosen ? std::optional(view.units.system) : std::nullopt, view.scheme, view.scale,
            view.reduced_motion, view.units.angles};
}

void apply(const Settings& settings, View& view) {
    view.units_chosen = settings.units.has_value();
    view.units = {settings.units.value_or(view.units.system), settings.angles};
    view.scheme = settings.scheme;
    view.scale = settings.scale;
    view.reduced_motion = settings.reduced_motion;
}

std::string to_text(const WindowSize& size) {
    return fmt::format("width = {}\nheight = {}\n", size.width, size.height);
}

WindowSize window_size_from(std::string_view text) {
    const auto pairs = pairs_of(text);
    const auto side = [&](const char* key, unsigned otherwise) {
        return static_cast<unsigned>(number(pairs, key, 320.0, 16384.0, otherwise));
    };
    return {side("width", 1280), side("height", 800)};
}

std::string to_text(const Paths& recent) {
    std::string text;
    for (const fs::path& path : recent) text += path.string() + "\n";
    return text;
}

Paths recent_from(std::string_view text) {
    Paths recent;
    for (const std::string& line : lines_of(text)) {
        if (recent.size() < most_recent && fs::path(line).is_absolute()) recent.emplace_back(line);
    }
    return recent;
}

Paths with_newest(Paths recent, const fs::path& path) {
    if (path.string().find('\n') != std::string::npos) return recent;  // such a name would be two lines
    recent.erase(std::remove(recent.begin(), recent.end(), path), recent.end());
    recent.insert(recent.begin(), path);
    if (recent.size() > most_recent) recent.resize(most_recent);
    return recent;
}

Keep::Keep(base::Folders folders)
    : folders_(std::move(folders)),
      settings_(settings_from(text_of(folders_.config, "settings"))),
      size_(window_size_from(text_of(folders_.state, "window"))) {}

void Keep::note(const std::string& problem) {
    if (!told_) trouble_ = "Settings and recent files are not kept: " + problem + ".";
    told_ = true;
}

void Keep::write(const fs::path& folder, const char* name, const std::string& text) {
    auto done = base::make_folder(folder);
    if (done) done = base::save((folder / name).string(), text, base::Old::drop);
    if (!done) note(done.error().message);
}

void Keep::settings_are(const Settings& settings) {
    if (settings == settings_) return;
    settings_ = settings;
    write(folders_.config, "settings", to_text(settings));
}

void Keep::window_is(const WindowSize& size) {
    if (size == size_) return;
    size_ = size;
    write(folders_.state, "window", to_text(size));
}

void Keep::opened(const fs::path& path) {
    std::error_code none;
    const fs::path whole = fs::absolute(path, none).lexically_normal();
    if (!none)
        write(folders_.state, "recent", to_text(with_newest(recent_from(text_of(folders_.state, "recent")), whole)));
}

Paths Keep::recent() const {
    Paths there = recent_from(text_of(folders_.state, "recent"));
    std::error_code none;
    there.erase(
        std::remove_if(there.begin(), there.end(), [&](const fs::path& p) { return !fs::is_regular_file(p, none); }),
        there.end());
    return there;
}

fs::path Keep::sessions_folder() {
    const fs::path folder = folders_.data.empty() ? fs::path() : folders_.data / "sessions";
    if (const auto made = base::make_folder(folder); !made) {
        note(made.error().message);
        return {};
    }
    return folder;
}

std::string Keep::trouble() { return std::exchange(trouble_, std::string()); }

}  // namespace offsquare::gui
