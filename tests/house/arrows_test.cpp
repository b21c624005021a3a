// The rules of the house hold, and each of them can fail: a false tree with one breach of each sort is reported breach
// by breach.
#include <doctest/doctest.h>

#include "false_tree.h"

namespace {

using false_tree::FalseTree;
using false_tree::none;
using false_tree::only;
namespace fs = std::filesystem;

const fs::path& root() {
    static const fs::path path = OFFSQUARE_SOURCE_DIR;
    return path;
}

}  // namespace

TEST_SUITE("the rules of the house hold") {
    TEST_CASE("there is a house to look at") {
        // Else every rule would hold for want of files.
        const house::Tree tree = house::read_tree(root() / "src");
        CHECK(tree.count("base/quantity.h") == 1);
        CHECK(tree.count("shop/truth.h") == 1);
        CHECK(tree.at("shop/truth.h").includes.size() >= 1);
    }
    TEST_CASE("a room looks back along the corridor, never forward") {
        none(house::check_arrows(house::read_tree(root() / "src"), house::made_by_the_build(root())));
    }
    TEST_CASE("each file includes what it names of other rooms") {
        none(house::check_reach(house::read_tree(root() / "src")));
    }
    TEST_CASE("each library stays in its room") { none(house::check_lodgers(house::read_tree(root() / "src"))); }
    TEST_CASE("no clock, no library randomness, no inexact C library calls in the corridor") {
        none(house::check_calls(house::read_tree(root() / "src")));
    }
    TEST_CASE("nothing left open, no file too long") {
        none(house::check_texts(root(), "src"));
        none(house::check_texts(root(), "tests"));
    }
    TEST_CASE("every header speaks first") { none(house::check_headers(house::read_tree(root() / "src"))); }
    TEST_CASE("the top level is tidy") { none(house::check_top(root())); }
}

TEST_SUITE("each rule can fail") {
    TEST_CASE("a sound tree has no breach") {
        const FalseTree tree;
        tree.header("src/base/a.h", "#include <vector>\ndouble exp(double x);\n");
        tree.header("src/shop/truth.h", "#include \"base/a.h\"\n");
        tree.header("src/contact/c.h", "#include <box2d/box2d.h>\n#include \"shop/truth.h\"\n");
        tree.header("src/measure/m.h", "#include \"base/a.h\"\n");
        tree.write("src/diagnose/d.cpp",
                   "#include \"measure/m.h\"\n// #include \"shop/truth.h\"\n/*\n#include \"cut/k.h\"\n*/\n");
        tree.write("src/cut/k.cpp",
                   "#include \"base/a.h\"\ndouble s(double x) { return offsquare::base::exp(x) + v.log(x) + sin_of(x); "
                   "}  // not "
                   "std::sin(x)\nauto t = \"std::cos(1)\";\n");
        tree.write("src/main.cpp", "#include <iostream>\n#include \"cli/c.h\"\n#include \"gui/g.h\"\n");
        tree.header("src/cli/c.h");
        tree.header("src/gui/g.h", "#include <SFML/Window.hpp>\n#include <imgui.h>\n");
        none(tree.look());
    }
    TEST_CASE("forward arrow, for every pair of neighbours") {
        for (std::size_t i = 0; i + 1 < house::rooms().size(); ++i) {
            const std::string& here = house::rooms()[i];
            const std::string& next = house::rooms()[i + 1];
            CAPTURE(here);
            const FalseTree tree;
            tree.header("src/" + next + "/later.h");
            tree.write("src/" + here + "/here.cpp", "// first\n  #  include  \"" + next + "/later.h\"\n");
            only(tree, "src/" + here + "/here.cpp", 2, "look back, never forward");
        }
    }
    TEST_CASE("gui includes cli") {
        const FalseTree tree;
        tree.header("src/cli/c.h");
        tree.write("src/gui/g.cpp", "#include \"cli/c.h\"\n");
        only(tree, "src/gui/g.cpp", 1, "doors apart");
    }
    TEST_CASE("each library in a foreign room") {
        for (const house::Lodger& l : house::lodgers()) {
            for (const std::string& head : l.headers) {
                CAPTURE(head);
                const FalseTree tree;
                tree.write("src/shop/x.cpp", "#include <" + head + "x.h>\n");
                only(tree, "src/shop/x.cpp", 1, "libraries in their rooms");
            }
        }
    }
    TEST_CASE("streams behind the door") {
        const FalseTree tree;
        tree.write("src/session/x.cpp", "#include <iostream>\n");
        only(tree, "src/session/x.cpp", 1, "streams at the door");
    }
    TEST_CASE("own files by angle brackets, short names, names with dots, unknown rooms") {
        {
            const FalseTree tree;
            tree.header("src/base/a.h");
            tree.write("src/base/a.cpp", "#include <base/a.h>\n");
            only(tree, "src/base/a.cpp", 1, "own files in quotes");
        }
        for (const char* name : {"a.h", "../shop/truth.h", "base/gone.h"}) {
            CAPTURE(name);
            const FalseTree tree;
            tree.header("src/base/a.h");
            tree.header("src/shop/truth.h");
            tree.write("src/base/a.cpp", std::string("#include \"") + name + "\"\n");
            only(tree, "src/base/a.cpp", 1, "full names");
        }
        {
            const FalseTree tree;
            tree.write("src/cellar/x.cpp", "int x = 0;\n");
            only(tree, "src/cellar/x.cpp", 1, "known rooms");
        }
    }
    TEST_CASE("what the build makes may be included, by name, and looks back too") {
        const FalseTree tree;
        tree.write("CMakeLists.txt",
                   "configure_file(a ${PROJECT_BINARY_DIR}/made/scenario/x.h)\nset(b \"c/made/y.h\")\n");
        tree.write("src/scenario/x.cpp", "#include \"made.h\"\n");
        none(tree.look({"made.h"}));
        only(tree, "src/scenario/x.cpp", 1, "full names");
        CHECK(house::made_by_the_build(tree.root()) == std::set<std::string>{"scenario/x.h", "y.h"});
        tree.write("src/scenario/x.cpp", "#include \"session/made.h\"\n");
        CHECK(tree.look({"session/made.h"}).front().rule == "look back, never forward");
    }
    TEST_CASE("a name of another room without its header") {
        const FalseTree tree;
        tree.header("src/base/a.h", "namespace offsquare::base { int one(); }\n");
        tree.header("src/base/b.h", "#include \"base/a.h\"\n");
        tree.header("src/shop/by_another.h", "#include \"base/b.h\"\ninline int two() { return 2 * base::one(); }\n");
        tree.write("src/shop/first.cpp", "#include \"base/a.h\"\nint first() { return base::one(); }\n");
        // says its name in words only
        tree.header("src/shop/says.h", "/* base::one() */ inline const char* words() { return \"base::one()\"; }\n");
        none(tree.look());
        // lives on what first.cpp included, where both are compiled as one
        tree.header("src/shop/later.h", "\nint later(int x = base::one());\n");
        only(tree, "src/shop/later.h", 4, "includes what it names");
        // declared by hand
        tree.header("src/shop/later.h",
                    "namespace offsquare::base {\nint one();\n}\nint later(int x = base::one());\n");
        none(tree.look());
        // another header of that room is not enough
        tree.header("src/base/c.h");
        tree.header("src/shop/later.h", "#include \"base/c.h\"\nint later(int x = base::one());\n");
        only(tree, "src/shop/later.h", 4, "includes what it names");
    }
    TEST_CASE("inexact calls in the corridor") {
        for (const std::string& name : house::inexact_functions()) {
            for (const char* before : {"std::", "::", "", "return "}) {
                CAPTURE(name);
                CAPTURE(before);
                const FalseTree tree;
                tree.write("src/cut/x.cpp",
                           "double f(double x) {\n    if (x > 0) { " + std::string(before) + name + " (x); }\n}\n");
                only(tree, "src/cut/x.cpp", 2, "same bits everywhere");
            }
        }
        const FalseTree tree;  // the doors and the pictures may: nothing is stored there
        tree.write("src/picture/x.cpp", "double y = std::sin(0.5);\n");
        none(tree.look());
    }
    TEST_CASE("clocks and library randomness") {
        for (const char* line :
             {"auto t = std::chrono::system_clock::now();", "auto t = std::chrono::steady_clock::now();",
              "std::normal_distribution<double> d;", "std::random_device r;", "int i = std::rand();", "int i = rand();",
              "std::mt19937 r(1);", "auto t = time(nullptr);"}) {
            CAPTURE(line);
            const FalseTree tree;
            tree.write("src/measure/x.cpp", std::string("void f();\n\n") + line + "\n");
            only(tree, "src/measure/x.cpp", 3, "pure corridor");
        }
    }
    TEST_CASE("words of open work, in source and in tests, in any kind of file") {
        for (const std::string& word : house::open_work_words()) {
            CAPTURE(word);
            const FalseTree tree;
            tree.write("src/base/x.cpp", "int " + word + "_LIST = 0;\n// " + word + ": later\n");
            only(tree, "src/base/x.cpp", 2, "nothing left open");
            const FalseTree other;
            other.write("tests/base/x.sh", "echo # " + word + "\n");
            only(other, "tests/base/x.sh", 1, "nothing left open");
        }
    }
    TEST_CASE("a file of 500 lines is short, one of 501 is long") {
        std::string text;
        for (int i = 0; i < 500; ++i) text += "//\n";
        const FalseTree tree;
        tree.write("src/base/x.cpp", text);
        none(tree.look());
        tree.write("src/base/x.cpp", text + "//\n");
        only(tree, "src/base/x.cpp", 501, "short files");
    }
    TEST_CASE("dumb headers") {
        const FalseTree tree;
        tree.write("src/base/x.h", "#pragma once\n\nint x();\n");
        only(tree, "src/base/x.h", 3, "headers speak first");
        tree.write("src/base/x.h", "// Speaks.\nint x();\n");
        only(tree, "src/base/x.h", 1, "read once");
    }
    TEST_CASE("a stranger at the top level") {
        const FalseTree tree;
        tree.write("notes.txt", "\n");
        only(tree, "notes.txt", 1, "a tidy top level");
    }
}
