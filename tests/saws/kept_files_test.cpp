// Files that a version wrote open for ever, and say the same.
#include <doctest/doctest.h>

#include <filesystem>
#include <set>

#include "base/scratch.h"
#include "logs.h"
#include "saws/answer.h"
#include "saws/form.h"

namespace kept_files_test {

using namespace logs;

TEST_CASE("kept files open, are carried over whole, and are written again as they stand") {
    std::set<std::string> kinds;
    int files = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::filesystem::path(OFFSQUARE_SOURCE_DIR) / "tests/saws/kept")) {
        CAPTURE(entry.path());
        ++files;
        const std::string text = scratch::text_of(entry.path().string());
        const auto read = read_file_text(text, "kept");
        REQUIRE(read);
        CHECK(read->notes.empty());
        const std::string again = file_text(read->sled);
        CHECK(again.substr(again.find('\n')) == text.substr(text.find('\n')));  // the head names the program
        CHECK(history_of(read->sled).left_out.empty());
        for (const Entry& e : read->sled.entries) kinds.insert(kind_of(e.what));
    }
    CHECK(files >= 1);
    // Every kind of entry is in one of them.
    CHECK(kinds == std::set<std::string>{"Test", "Straightedge on the fence", "Shims", "Fence moved", "Put right",
                                         "Note", "Sizes", "Drawer", "Withdrawn"});
}

TEST_CASE("what a kept file says is what it said") {
    const std::string path = OFFSQUARE_SOURCE_DIR "/tests/saws/kept/version-0.1.0.jsonl";
    const auto read = read_file_text(scratch::text_of(path), "kept");
    REQUIRE(read);
    const Sled& s = read->sled;
    CHECK(s.units == base::Units::imperial);
    CHECK(in_effect(s).size() == 11);
    CHECK(total_mm(standing_of(s).right) == 0.1016 + 0.0508);
    const auto answer = newest_answer(s);
    REQUIRE((answer && answer->shim));
    // As it printed when the file was written.
    CHECK(answer->shim->shim_mm.value == 0.04678600832791941);
    CHECK(answer->shim->shim_mm.u == 0.006896521778735131);
    CHECK(answer->shim->at == shim::At::right);
}

}  // namespace kept_files_test
