// Writing a file so that a full disk, a pulled plug or an impatient person never costs the old one.
#pragma once

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
/// then untouched and no temporary file stays. An interrupt (SIGINT, SIGTERM, SIGHUP) waits until the file is whole.
Result<void> save(const std::string& path, std::string_view text, Old old = Old::keep);

}  // namespace offsquare::base
