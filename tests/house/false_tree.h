// A false house for the tests of its rules: files written into a new folder, one breach of one rule in them.
#pragma once

#include <doctest/doctest.h>
#include <unistd.h>

#include "rules.h"

namespace false_tree {

using house::Breach;
using house::Breaches;
namespace fs = std::filesystem;

inline void none(const Breaches& breaches) {
    for (const Breach& b : breaches) FAIL_CHECK(house::text_of(b));
    CHECK(breaches.empty());
}

/// A house of cards: files are written into a new folder, which goes when the test ends.
class FalseTree {
public:
    FalseTree() {
        std::string name =
            (fs::temp_directory_path() / "offsquare-house-XXXXXX").string();  // mkdtemp asks for these six letters
        REQUIRE(mkdtemp(name.data()) != nullptr);
        root_ = name;
        fs::create_directories(root_ / "src");
        fs::create_directories(root_ / "tests");
    }
    ~FalseTree() {
        std::error_code ignored;
        fs::remove_all(root_, ignored);
    }
    FalseTree(const FalseTree&) = delete;
    FalseTree& operator=(const FalseTree&) = delete;

    void write(const std::string& name, const std::string& text) const {
        fs::create_directories((root_ / name).parent_path());
        std::ofstream(root_ / name) << text;
    }
    void header(const std::string& name, const std::string& text = "") const {
        write(name, "// Says what it is for.\n#pragma once\n" + text);
    }
    const fs::path& root() const { return root_; }
    Breaches look(const std::set<std::string>& made = {}) const { return house::check_house(root_, made); }

private:
    fs::path root_;
};

/// Exactly one breach, by name, of this rule at this place.
inline void only(const FalseTree& tree, const std::string& file, int line, const std::string& rule) {
    const Breaches found = tree.look();
    REQUIRE_MESSAGE(found.size() == 1,
                    "wanted one breach of '"
                        << rule << "', found " << found.size()
                        << (found.empty() ? std::string() : ", first " + house::text_of(found.front())));
    CHECK(found.front().file == file);
    CHECK(found.front().line == line);
    CHECK(found.front().rule == rule);
}

}  // namespace false_tree
