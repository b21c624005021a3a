// Where a program keeps what is its own between starts: the XDG base directories.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "base/result.h"

namespace offsquare::base {

/// How a variable of the environment is looked up: nothing when it is not set.
using Environment = std::function<std::optional<std::string>(const std::string& name)>;
Environment own_environment();

/// Folders of offsquare, each ending in "offsquare". Empty where there is none: the XDG variable is unset, empty or
/// relative (which the XDG Base Directory Specification says to ignore), and HOME is too.
struct Folders {
    std::filesystem::path config;  ///< settings
    std::filesystem::path state;   ///< window size, recent files, unsaved work
    std::filesystem::path data;    ///< the learner's own sessions
};
Folders folders_of(const Environment& environment);

/// The folder with all that leads to it, for this person alone. An empty path, or a folder that cannot be made:
/// Grade::cannot_create.
Result<void> make_folder(const std::filesystem::path& folder);

}  // namespace offsquare::base
