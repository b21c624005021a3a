// Session files that version 0.1.0 wrote, kept as they were: what a person has saved opens for ever. A replay holds
// every number that was recorded after each action against what comes out now, so opening is the whole check.
#include <doctest/doctest.h>

#include <string>

#include "base/scratch.h"
#include "kept.h"
#include "session/log.h"

using namespace offsquare;

namespace {

/// The text with a 1 in front of the first number that a check read: another result than was saved.
std::string with_another_reading(std::string text) {
    const std::size_t at = text.find_first_of("0123456789", text.find("\"read_mm\":["));
    return text.insert(at, "1");
}

}  // namespace

TEST_CASE("every kept session opens, and every number in it comes out again") {
    const auto files = kept::files_of("session");
    CHECK(files.size() == 13);
    for (const auto& file : files) {
        const std::string name = file.filename().string();
        const auto replay = session::replay(scratch::text_of(file), name);
        CHECK_MESSAGE(replay.has_value(), (replay ? std::string() : replay.error().message));
    }
}

TEST_CASE("a kept session with another number in it does not agree") {
    // So the case above can fail: the numbers of these files are looked at.
    int changed = 0;
    for (const auto& file : kept::files_of("session")) {
        const std::string text = scratch::text_of(file);
        if (text.find("\"read_mm\":[") == std::string::npos) continue;
        CAPTURE(file.filename().string());
        ++changed;
        CHECK_FALSE(session::replay(with_another_reading(text), "changed.jsonl").has_value());
    }
    CHECK(changed >= 6);
}
