#pragma once
/// \file
/// Files that an earlier version wrote, kept beside the tests of their room.
#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

namespace kept {

/// Those of tests/ROOM/kept, by name.
inline std::vector<std::filesystem::path> files_of(const std::string& room) {
    std::vector<std::filesystem::path> files;
    for (const auto& f : std::filesystem::directory_iterator(OFFSQUARE_SOURCE_DIR "/tests/" + room + "/kept"))
        files.push_back(f.path());
    std::sort(files.begin(), files.end());
    return files;
}

}  // namespace kept
