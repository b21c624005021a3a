// What is hidden stays hidden: the locks hold on the house as it is, no right is given that nobody uses, and each lock
// bites on a false tree, directly and through honest headers.
#include "lock.h"

#include <doctest/doctest.h>

#include "false_tree.h"

namespace {

using false_tree::FalseTree;
using false_tree::none;
using false_tree::only;
using house::Breach;
using house::Breaches;

const house::Tree& tree() {
    static const house::Tree t = house::read_tree(std::filesystem::path(OFFSQUARE_SOURCE_DIR) / "src");
    return t;
}

/// Every room that is locked out; the file there has a name that no list holds.
std::vector<std::string> locked_out(const std::vector<std::string>& may) {
    std::vector<std::string> out;
    for (const std::string& room : house::rooms())
        if (std::find(may.begin(), may.end(), room) == may.end()) out.push_back(room);
    return out;
}

/// A header behind the lock.
std::string header_behind(const std::string& name) { return name.back() == '/' ? name + "x.h" : name; }

/// All breaches of one rule, by file.
std::multiset<std::string> breakers(const Breaches& breaches, const std::string& rule) {
    std::multiset<std::string> out;
    for (const Breach& b : breaches)
        if (b.rule == rule) out.insert(b.file);
    return out;
}

/// The files of the house that a name in a list stands for.
std::vector<const house::Source*> named(const std::string& name) {
    std::vector<const house::Source*> out;
    for (const auto& [path, s] : tree())
        if (house::is_named(path, name)) out.push_back(&s);
    return out;
}

bool uses(const house::Source& s, const house::Lock& lock) {
    return house::starts_with_one_of(s.path, lock.behind) ||
           std::any_of(s.includes.begin(), s.includes.end(),
                       [&](const house::Include& i) { return !house::way_in(tree(), i.path, lock).empty(); });
}

bool uses(const house::Source& s, const house::Word& word) {
    return std::any_of(s.code.begin(), s.code.end(), [&](const std::string& line) { return house::says(line, word); });
}

/// Who advises, tells and draws: from what a person knows.
const std::vector<std::string>& advisers() {
    static const std::vector<std::string> list{
        "session/next.h",        "session/next.cpp",        "session/advice.h",     "session/advice.cpp",
        "session/findings.h",    "session/findings.cpp",    "session/hunt_words.h", "session/hunt_words.cpp",
        "session/story.h",       "session/story.cpp",       "session/seen.h",       "session/seen.cpp",
        "session/class_words.h", "session/class_words.cpp", "session/action.h",     "session/action.cpp",
        "session/history.h",     "session/log.h",           "session/log.cpp",      "session/reveal.h",
        "session/watch.h",       "session/as_known.h",      "session/model.h"};
    return list;
}

}  // namespace

TEST_SUITE("the locks hold") {
    TEST_CASE("nothing hidden is reached but by who may") { none(house::check_locks(tree())); }
    TEST_CASE("nothing hidden is named but by who may") { none(house::check_words(tree())); }
    TEST_CASE("no right is given that nobody uses") {
        for (const house::Lock& lock : house::locks())
            for (const std::string& name : lock.files) {
                const auto files = named(name);
                CHECK_MESSAGE(files.size() == 1, lock.name << ": " << name);
                // One of the makers of events that needs no truth is still a maker of events.
                const bool maker = name.rfind("session/", 0) == 0 && lock.name == std::string("the truth");
                for (const house::Source* s : files)
                    CHECK_MESSAGE((maker || uses(*s, lock)), lock.name << ": " << name);
            }
        for (const house::Word& word : house::words())
            for (const std::string& name : word.files) {
                const auto files = named(name);
                CHECK_MESSAGE(files.size() == 1, word.name << ": " << name);
                for (const house::Source* s : files) CHECK_MESSAGE(uses(*s, word), word.name << ": " << name);
            }
    }
    TEST_CASE("who advises, and every header of an action, is named in no list of those who may see the saw") {
        std::vector<std::string> all = advisers();
        for (const auto& [path, s] : tree())
            if (path.rfind("session/actions/", 0) == 0 && path.ends_with(".h")) all.push_back(path);
        CHECK(all.size() >= advisers().size() + 8);
        for (const std::string& path : all) {
            REQUIRE_MESSAGE(tree().count(path) == 1, path);
            for (const house::Lock& lock : house::locks())
                if (lock.name != std::string("the lock"))
                    CHECK_MESSAGE(!house::may(tree().at(path), lock.rooms, lock.files), lock.name << ": " << path);
        }
    }
}

TEST_SUITE("each lock can fail") {
    TEST_CASE("directly, from every room that is locked out") {
        for (const house::Lock& lock : house::locks()) {
            for (const std::string& name : lock.behind) {
                const std::string header = header_behind(name);
                for (const std::string& room : locked_out(lock.rooms)) {
                    if (house::place_of(room) < house::place_of(house::room_of_path(header))) continue;
                    CAPTURE(header);
                    CAPTURE(room);
                    const FalseTree tree;
                    tree.header("src/" + header);
                    tree.write("src/" + room + "/nobody.cpp", "\n#include \"" + header + "\"\n");
                    const Breaches found = tree.look();
                    CHECK(breakers(found, lock.name) == std::multiset<std::string>{"src/" + room + "/nobody.cpp"});
                    CHECK(found.front().line == 2);
                }
            }
        }
    }
    TEST_CASE("through two honest headers, with the way told") {
        for (const house::Lock& lock : house::locks()) {
            const std::string header = header_behind(lock.behind.front());
            const std::string room = locked_out(lock.rooms).back();
            const std::string between = lock.rooms.empty() ? "session" : std::string("measure");
            CAPTURE(lock.name);
            const FalseTree tree;
            tree.header("src/" + header);
            const std::string home = house::place_of(house::room_of_path(header)) > house::place_of("measure")
                                         ? house::room_of_path(header)
                                         : between;
            tree.header("src/" + home + "/b.h", "#include \"" + header + "\"\n");
            tree.header("src/" + home + "/a.h", "#include \"" + home + "/b.h\"\n");
            tree.write("src/" + room + "/p.cpp", "\n\n#include \"" + home + "/a.h\"\n");
            const Breaches found = tree.look();
            CHECK(breakers(found, lock.name).count("src/" + room + "/p.cpp") == 1);
            for (const Breach& b : found) {
                if (b.file != "src/" + room + "/p.cpp") continue;
                CHECK(b.line == 3);
                CHECK_MESSAGE(b.what.find(home + "/a.h -> " + home + "/b.h -> " + header) != std::string::npos, b.what);
            }
        }
    }
    TEST_CASE("each adviser and the header of an action, by the state of a session") {
        std::vector<std::string> all = advisers();
        all.push_back("session/actions/shims.h");
        for (const std::string& path : all) {
            CAPTURE(path);
            const FalseTree tree;
            tree.header("src/session/state.h");
            tree.header("src/" + path, "#include \"session/state.h\"\n");
            only(tree, "src/" + path, 3, "the saw");
        }
    }
    TEST_CASE("who is named may, in gui in whatever folder, and nobody of the same name in another room") {
        const FalseTree tree;
        tree.header("src/session/reveal.h");
        tree.write("src/cli/cut.cpp", "#include \"session/reveal.h\"\n");
        tree.write("src/gui/state/bench.cpp", "#include \"session/reveal.h\"\n");
        none(tree.look());
        tree.write("src/picture/bench.cpp", "#include \"session/reveal.h\"\n");
        only(tree, "src/picture/bench.cpp", 1, "reveal");
        const FalseTree other;
        other.header("src/session/state.h");
        other.write("src/session/actions/repair.cpp", "#include \"session/state.h\"\n");
        none(other.look());
        other.write("src/session/repair.cpp", "#include \"session/state.h\"\n");
        only(other, "src/session/repair.cpp", 1, "the saw");
    }
    TEST_CASE("the program's own main looks at nothing hidden") {
        const FalseTree tree;
        tree.header("src/session/reveal.h");
        tree.write("src/main.cpp", "#include \"session/reveal.h\"\n");
        only(tree, "src/main.cpp", 1, "reveal");
    }
    TEST_CASE("the lock on diagnose and shim, also when the fault is in measure") {
        for (const char* seen : {"shop/truth.h", "contact/x.h", "cut/x.h"}) {
            for (const char* room : {"diagnose", "shim"}) {
                CAPTURE(seen);
                CAPTURE(room);
                const FalseTree tree;
                tree.header(std::string("src/") + seen);
                tree.write(std::string("src/") + room + "/x.cpp", std::string("\n#include \"") + seen + "\"\n");
                only(tree, std::string("src/") + room + "/x.cpp", 2, "the lock");
            }
        }
        const FalseTree tree;
        tree.header("src/shop/truth.h");
        tree.header("src/measure/b.h", "#include \"shop/truth.h\"\n");
        tree.header("src/measure/a.h", "#include \"measure/b.h\"\n");
        tree.header("src/shim/p.h", "#include \"measure/a.h\"\n");
        only(tree, "src/shim/p.h", 3, "the lock");
        CHECK(tree.look().front().what.find("measure/a.h -> measure/b.h -> shop/truth.h") != std::string::npos);
    }
    TEST_CASE("a ring of headers ends the search") {
        const FalseTree tree;
        tree.header("src/diagnose/a.h", "#include \"diagnose/b.h\"\n");
        tree.header("src/diagnose/b.h", "#include \"diagnose/a.h\"\n");
        none(tree.look());
    }
    TEST_CASE("by name, in every way of writing it, from every room behind the session's") {
        for (const char* line :
             {"f(s.truth);", "f(*s.truth);", "f(s->truth->x);", "auto& t = s . truth;", "a(); s-> truth;"}) {
            CAPTURE(line);
            const FalseTree tree;
            tree.write("src/session/next.cpp", std::string("\n") + line + "\n");
            only(tree, "src/session/next.cpp", 2, "the truth by name");
        }
        for (const char* room : {"study", "lesson", "picture", "cli", "gui"}) {
            CAPTURE(room);
            const std::string file = std::string("src/") + room + "/x.cpp";
            const FalseTree tree;
            tree.write(file, "f(s.truth);\n");
            only(tree, file, 1, "the truth by name");
            tree.write(file, "f(to_text(s));\n");
            only(tree, file, 1, "saving");
            tree.header("src/session/history.h", "int saw_of();\n");
            tree.header("src/session/log.h", "int to_text();\n");
            tree.write(file, "#include \"session/history.h\"\nf(session::saw_of(h));\n");
            only(tree, file, 2, "the saw by name");
            tree.write(file, "#include \"session/log.h\"\nf(session::to_text(s));\n");
            only(tree, file, 2, "saving");
        }
        const FalseTree honest;
        honest.write("src/cli/x.cpp",
                     "int truth = 0;  // s.truth\nauto t = \"s.truth\";\nf(truth_lines, s.truthful, saw_off(h), "
                     "readings_text(s));\n");
        none(honest.look());
    }
}
