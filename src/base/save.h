// Writing a file so that a full disk or a pulled plug never costs the old one.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace offsquare::base {

/// Writes to a temporary file in the same folder, flushes it to the disk, keeps the old file's mode, and renames. Links are followed. What stood there before is kept
/// as PATH.bak. Grade::cannot_create when the file cannot be made, Grade::io when writing breaks off; the old file is then untouched.
Result<void> save(const std::string& path, std::string_view text);

}  // namespace offsquare::base
