// Session files that version 0.1.0 wrote, kept as they were: what a person has saved opens for ever. A replay holds
// every number that was recorded after each action against what comes out now, so opening is the whole check.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "session/log.h"

using namespace offsquare;

namespace {

std::vector<std::filesystem::path> kept_files() {
    std::vector<std::filesystem::path> files;
    for (const auto& f : std::filesystem::directory_iterator(OFFSQUARE_SOURCE_DIR "/tests/session/kept"))
        files.push_back(f.path());
    std::sort(files.begin(), files.end());
    return files;
}

std::string content(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

/// The text with a 1 in front of the first number that a check read: another result than was saved.
std::string with_another_reading(std::string text) {
    const std::size_t at = text.find_first_of("0123456789", text.find("\"read_mm\":["));
    return text.insert(at, "1");
}

}  // namespace

TEST_CASE("every kept session opens, and every number in it comes out again") {
    const auto files = kept_files();
    CHECK(files.size() == 12);
    for (const auto& file : files) {
        const std::string name = file.filename().string();
        const auto replay = session::replay(content(file), name);
        CHECK_MESSAGE(replay.has_value(), (replay ? std::string() : replay.error().message));
    }
}

TEST_CASE("a kept session with another number in it does not agree") {
    // So the case above can fail: the numbers of these files are looked at.
    int changed = 0;
    for (const auto& file : kept_files()) {
        const std::string text = content(file);
        if (text.find("\"read_mm\":[") == std::string::npos) continue;
        CAPTURE(file.filename().string());
        ++changed;
        CHECK_FALSE(session::replay(with_another_reading(text), "changed.jsonl").has_value());
    }
    CHECK(changed >= 6);
}
