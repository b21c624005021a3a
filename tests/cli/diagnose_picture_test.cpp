// offsquare diagnose --picture: the same diagnosis as a file, without a display.
#include <doctest/doctest.h>

#include "base/scratch.h"
#include "door.h"

namespace {

std::string readings() {
    return door::run({"cut", "built-in", "--check", "five-cut", "--check", "jaws", "-o", "-"}).out;
}

}  // namespace

TEST_CASE("diagnose --picture: draws the faults, their standing and the next check, and still answers in words") {
    const scratch::Folder folder;
    const std::string path = folder / "diagnosis.svg";
    const door::Said said = door::run({"diagnose", "-", "--picture", path}, readings());
    REQUIRE(said.code == 0);
    const std::string svg = scratch::text_of(path);
    CHECK(svg.starts_with("<"));
    // What the text names as next, the picture names too.
    const std::size_t next = said.out.find("Next: ");
    REQUIRE(next != std::string::npos);
    const std::string title = said.out.substr(next, said.out.find(" (", next) - next);
    CHECK_MESSAGE(door::has(svg, title), title);
    for (const char* word : {"fence off square", "blade wobbling", "not looked at", "how likely"})
        CHECK_MESSAGE(door::has(svg, word), word);
    // The same readings, the same bytes.
    const std::string again = folder / "again.svg";
    REQUIRE(door::run({"diagnose", "-", "--picture", again}, readings()).code == 0);
    CHECK(scratch::text_of(again) == svg);
}

TEST_CASE("diagnose --picture: another ending is refused before anything is read") {
    const door::Said said = door::run({"diagnose", "no-such-file.toml", "--picture", "diagnosis.gif"});
    CHECK(said.code == 2);
    CHECK(door::has(said.err, "--picture ends in .svg, .png or .pdf"));
}
