#include "base/folders.h"

#include <fmt/format.h>
#include <sys/stat.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>

namespace offsquare::base {

namespace fs = std::filesystem;

namespace {

/// An absolute folder that a variable names; nothing if it does not.
std::optional<fs::path> absolute(const Environment& environment, const char* variable) {
    const std::optional<std::string> text = environment(variable);
    if (!text || fs::path(*text).is_relative()) return std::nullopt;  // an empty path is relative
    return fs::path(*text);
}

fs::path place(const Environment& environment, const char* variable, const char* below_home) {
    if (const auto given = absolute(environment, variable)) return *given / "offsquare";
    if (const auto home = absolute(environment, "HOME")) return *home / below_home / "offsquare";
    return {};
}

}  // namespace

Environment own_environment() {
    return [](const std::string& name) -> std::optional<std::string> {
        const char* value = std::getenv(name.c_str());
        return value == nullptr ? std::nullopt : std::optional<std::string>(value);
    };
}

Folders folders_of(const Environment& environment) {
    return {place(environment, "XDG_CONFIG_HOME", ".config"), place(environment, "XDG_STATE_HOME", ".local/state"),
            place(environment, "XDG_DATA_HOME", ".local/share")};
}

Result<void> make_folder(const fs::path& folder) {
    if (folder.empty()) return fail(Grade::cannot_create, "there is no folder to keep things in: HOME is not set");
    fs::path made;
    for (const fs::path& part : folder) {
        made /= part;
        if (::mkdir(made.c_str(), 0700) == 0) continue;  // 0700: as the specification asks
        const int why = errno;
        std::error_code none;
        if (!fs::is_directory(made, none))
            return fail(Grade::cannot_create,
                        fmt::format("the folder {} cannot be made: {}", folder.string(), std::strerror(why)));
    }
    return {};
}

}  // namespace offsquare::base
