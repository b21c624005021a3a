// Writing a file so that a full disk, a pulled plug or an impatient person never costs the old one.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <string_view>

#include "base/result.h"

namespace offsquare::base {

/// What becomes of the file that stood there before.
enum class Old {
    keep,  ///< as PATH.bak (one of them): work of a person
    drop   ///< what can be made again at will: a picture, a setting
};

/// Writes to a temporary file in the same folder, flushes it to the disk, keeps the old file's mode, and renames. Links
/// are followed. Grade::cannot_create when the file cannot be made, Grade::io when writing breaks off; the old file is
/// then untouched and no temporary file stays. An interrupt (SIGINT, SIGTERM, SIGHUP) waits until the file is whole;
/// what a kill left of an earlier save of this file is taken away and stands in nobody's way.
Result<void> save(const std::string& path, std::string_view text, Old old = Old::keep);

/// Takes away the temporary files in this folder that killed programs of this person left while they saved a file whose
/// name is `ours`. A file that another program is writing now stays, and so does every other one.
void clear_leftovers(const std::filesystem::path& folder, const std::function<bool(std::string_view name)>& ours);

}  // namespace offsquare::base
