// offsquare cases, and a case opened by its name.
#include <cstdlib>

#include "base/scratch.h"
#include "door.h"
#include "lesson/cases.h"

using namespace offsquare;
using door::has;
using door::Json;
using door::run;

namespace {

/// A person's data folder for as long as a test lasts.
struct Person {
    scratch::Folder folder;
    Person() { ::setenv("XDG_DATA_HOME", folder.path.c_str(), 1); }
    ~Person() { ::unsetenv("XDG_DATA_HOME"); }
    Person(const Person&) = delete;
    Person& operator=(const Person&) = delete;
};

}  // namespace

TEST_CASE("the list has every case by its owner's sentence, as text and as JSON, and what became of it") {
    Person person;
    const std::string all = std::to_string(lesson::cases().size());
    const std::string fresh = run({"cases"}).out;
    for (const lesson::Case& c : lesson::cases()) {
        CHECK(has(fresh, c.name));
        CHECK(has(fresh, lesson::in_quotes(c.scenario.complaint)));
    }
    CHECK(has(fresh, "60 min, 200 mm"));
    CHECK(has(fresh, "60 min, 7 7/8 in"));  // of the saw in inches
    CHECK(has(fresh, "\n0 of " + all + " proved in the window.\n"));
    std::filesystem::create_directories(person.folder / "offsquare");
    scratch::write(person.folder / "offsquare/cases",
                   "no-two-agree = proved, 41.5 min, 160 mm\nburns-but-square = proved, 75 min, 160 mm\n"
                   "two-boards = not proved, 60 min, 120 mm\n");
    CHECK(has(run({"cases"}).out, "proved in 42 min\n"));
    CHECK(has(run({"cases"}).out, "not proved\n"));
    CHECK(has(run({"cases"}).out, "\n2 of " + all + " proved in the window.\n"));
    const Json json = door::json({"cases", "--json"});
    CHECK(door::keys_of(json) == std::vector<std::string>{"schema_version", "cases"});
    REQUIRE(json["cases"].size() == lesson::cases().size());
    std::size_t told = 0;
    for (std::size_t i = 0; i < lesson::cases().size(); ++i) {
        const lesson::Case& c = lesson::cases()[i];
        const Json& one = json["cases"][i];
        CHECK(one["name"] == c.name);
        CHECK(one["complaint"] == c.scenario.complaint);
        CHECK(one["may_cost"]["minutes"] == c.scenario.budget.minutes);
        CHECK(one["may_cost"]["board_mm"] == c.scenario.budget.board_mm);
        if (one["became"] == "new") CHECK_FALSE(one.contains("spent"));
        else ++told;
        if (c.name == "no-two-agree") CHECK(one["within_cost"] == true);
        if (c.name == "burns-but-square") CHECK(one["within_cost"] == false);
        if (c.name == "two-boards") CHECK(one["became"] == "not-proved");
        if (c.name == "two-boards") CHECK(one["spent"]["board_mm"] == 120.0);
    }
    CHECK(told == 3);
}

TEST_CASE("a case is opened by its name where a scenario is named, as from its file") {
    const std::string file = OFFSQUARE_SOURCE_DIR "/scenarios/two-boards.toml";
    CHECK(run({"cut", "two-boards", "--json"}).out == run({"cut", file, "--json"}).out);
    CHECK(run({"push", "needs-oil", "--json"}).out ==
          run({"push", OFFSQUARE_SOURCE_DIR "/scenarios/needs-oil.toml", "--json"}).out);
    CHECK(run({"cut", "two-boards", "--set", "board.width=200mm", "--json"}).out ==
          run({"cut", file, "--set", "board.width=200mm", "--json"}).out);
    CHECK(run({"cut", "no-such-case"}).code == 66);
    const std::string said = run({"check", "two-boards"}).out;
    CHECK(has(said, "“A short board is square, a long one is not.”"));
    CHECK(has(said, "two-boards is a good scenario."));
}

TEST_CASE("how many errors are hidden is told by no check of a file: it would be half the answer") {
    for (const lesson::Case& c : lesson::cases()) {
        const std::string said = run({"check", c.name}).out;
        CHECK(has(said, "The hidden errors are not told here"));
        CHECK_FALSE(has(said, "error is set"));
        CHECK_FALSE(has(said, "errors are set"));
        CHECK_FALSE(has(said, "perfect"));
    }
}
