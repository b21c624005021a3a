// The folders of gui/: what is remembered (state/) and what lies on the disk (keep/) knows no window, and the toolkit
// (kit/) knows no saw.
#include <doctest/doctest.h>

#include "rules.h"

namespace {

using house::Breach;
using house::Breaches;
using house::Source;
using house::Tree;

/// Headers that this folder must not reach, directly or through any other header.
struct Folder {
    const char* folder;
    std::vector<std::string> never;
    const char* why;
};

const std::vector<Folder>& folders() {
    static const std::vector<Folder> list{
        {"gui/state/",
         {"imgui", "SFML/", "GL/", "X11/", "gui/kit/", "gui/pages/", "gui/keep/", "gui/window.h"},
         "what is remembered draws nothing"},
        {"gui/keep/",
         {"imgui", "SFML/", "GL/", "X11/", "gui/kit/", "gui/pages/", "gui/window.h"},
         "what is kept on disk draws nothing"},
        {"gui/kit/",
         {"gui/state/", "gui/pages/", "gui/keep/", "gui/window.h", "session/", "scenario/", "shop/"},
         "the toolkit knows no saw"},
        {"gui/pages/", {"SFML/", "GL/", "X11/", "gui/window.h"}, "pages are drawn with the toolkit alone"},
    };
    return list;
}

/// The way from an include to something that must not be reached, "a.h -> b.h"; empty: there is none.
std::string way_to(const Tree& tree, const std::string& first, const std::vector<std::string>& never) {
    std::map<std::string, std::string> chain{{first, first}};
    std::deque<std::string> open{first};
    for (; !open.empty(); open.pop_front()) {
        const std::string header = open.front();
        if (house::starts_with_one_of(header, never)) return chain[header];
        const auto found = tree.find(header);
        if (found == tree.end()) continue;
        for (const house::Include& next : found->second.includes)
            if (chain.emplace(next.path, chain[header] + " -> " + next.path).second) open.push_back(next.path);
    }
    return "";
}

Breaches check_folders(const Tree& tree) {
    Breaches out;
    for (const auto& [path, s] : tree) {
        for (const Folder& f : folders()) {
            if (path.rfind(f.folder, 0) != 0) continue;
            for (const house::Include& first : s.includes)
                if (const std::string way = way_to(tree, first.path, f.never); !way.empty())
                    house::add(out, s, first.line, "folders of the window",
                               std::string(f.why) + ", but it gets " + way);
        }
    }
    return out;
}

/// A file of a false tree with these includes.
void put(Tree& tree, const std::string& path, const std::vector<std::string>& includes) {
    Source s;
    s.path = path;
    s.room = house::room_of_path(path);
    for (const std::string& include : includes)
        s.includes.push_back({static_cast<int>(s.includes.size()) + 1, include, include.find("gui/") == 0});
    tree[path] = s;
}

}  // namespace

TEST_CASE("state and keep know no window, the toolkit knows no saw, pages know no window system") {
    const Tree tree = house::read_tree(std::filesystem::path(OFFSQUARE_SOURCE_DIR) / "src");
    for (const Breach& b : check_folders(tree)) FAIL_CHECK(house::text_of(b));
    // Every folder is there, else its rule would hold for want of files; and nobody has made another one.
    std::set<std::string> seen;
    for (const auto& [name, s] : tree) {
        const std::string& path = name;  // clang 14 captures no structured binding
        if (s.room != "gui") continue;
        const std::size_t slash = path.find('/', 4);
        if (slash != std::string::npos) seen.insert(path.substr(0, slash + 1));
        else CHECK_MESSAGE((path.rfind("gui/window.", 0) == 0 || path.rfind("gui/tell.", 0) == 0), path);
    }
    std::set<std::string> wanted;
    for (const Folder& f : folders()) wanted.insert(f.folder);
    CHECK(seen == wanted);
}

TEST_CASE("each of these rules can fail, directly and through another header") {
    for (const Folder& f : folders()) {
        for (const std::string& never : f.never) {
            CAPTURE(f.folder);
            CAPTURE(never);
            const std::string forbidden = never.ends_with(".h") ? never : never + "x.h";
            Tree direct;
            put(direct, std::string(f.folder) + "a.cpp", {"vector", forbidden});
            const Breaches found = check_folders(direct);
            REQUIRE(found.size() == 1);
            CHECK(found[0].line == 2);
            CHECK(found[0].rule == "folders of the window");
            Tree through;
            put(through, "picture/honest.h", {forbidden});
            put(through, std::string(f.folder) + "a.cpp", {"picture/honest.h"});
            REQUIRE(check_folders(through).size() == 1);
            CHECK(check_folders(through)[0].what.find("picture/honest.h -> " + forbidden) != std::string::npos);
        }
        Tree sound;
        put(sound, std::string(f.folder) + "a.cpp", {"vector", "base/quantity.h"});
        CHECK(check_folders(sound).empty());
    }
}
