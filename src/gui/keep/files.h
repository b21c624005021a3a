// Opening what a person chose: a scenario (.toml) or a saved session (.jsonl).
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "base/result.h"
#include "gui/state/bench.h"
#include "lesson/so_far.h"

namespace offsquare::gui {

/// Puts the file on the bench. The value is one sentence for the person: what was opened, or the first warning about
/// the file. On an error the bench stays as it was.
base::Result<std::string> open_on(Bench& bench, const std::filesystem::path& path);

/// What a file holds, as a list shows it: found without doing it again. Empty: it cannot be read, or is none of ours.
std::optional<lesson::SoFar> so_far_in(const std::filesystem::path& path);

}  // namespace offsquare::gui
