// A sled that jams, by text: the job leads on to a proof, and how the sled goes is read, written and weighed as words.
#include "base/scratch.h"
#include "cli/door.h"
#include "repeats.h"

using door::has;
using door::run;

namespace {

const std::string splayed = std::string(OFFSQUARE_SOURCE_DIR) + "/scenarios/sticks-half-way.toml";

}  // namespace

TEST_CASE("job: where the sled jams, checks and repairs free it, and the proof is cut" *
          doctest::skip(repeats::sanitized)) {
    const door::Said said = run({"job", splayed});
    CHECK(said.code == 0);
    CHECK(has(said.out, "Notebook: what jams the sled"));
    // Its slots close and its runners are spaced too wide: either, put right, sets it free.
    CHECK((has(said.out, "Put right: slots not parallel.") || has(said.out, "Put right: runners spaced wrong.")));
    CHECK(has(door::last_line(said.out), "allowed"));
    CHECK_FALSE(has(door::last_line(said.out), "Fail"));
}

TEST_CASE("a check that the sled jams at is written as a jam, and weighed as one") {
    const door::Said made = run({"cut", splayed, "--check", "five-cut"});
    CHECK(made.code == 0);
    CHECK(has(made.out, "Push the sled through"));
    CHECK(has(made.out, "The sled sticks "));
    const door::Said file = run({"cut", splayed, "--check", "five-cut", "-o", "-"});
    REQUIRE(file.code == 0);
    CHECK(has(file.out, "name = \"push-through\""));
    const door::Json weighed = door::json({"diagnose", "-", "--json"}, file.out);
    CHECK(weighed["sled"] == "sticks");
    // The next check does not need the sled to go.
    const std::string next = weighed["next"]["check"];
    CHECK((next == "slot-widths" || next == "runner-spacing" || next == "runner-fit" || next == "slot-ride" ||
           next == "straightedge-on-runner"));
    // What needs it to go cannot be made after that.
    const door::Said more = run({"cut", splayed, "--check", "five-cut", "--check", "kerf-width"});
    CHECK(more.code == 2);
    CHECK(has(more.err, "needs it to go"));
}

TEST_CASE("typed by hand into a file: goes, does not go in, or so many millimetres") {
    const auto weighed = [](const std::string& went) {
        return door::json({"diagnose", "-", "--json"},
                          "format = 1\n[[check]]\nname = \"push-through\"\nwent = " + went + "\n");
    };
    CHECK(weighed("\"goes\"")["sled"] == "goes");
    CHECK(weighed("\"does not go in\"")["sled"] == "does-not-go-in");
    CHECK(weighed("\"300 mm\"")["sled"] == "sticks");
    CHECK(weighed("[\"12 in\", \"0.1 in\"]")["sled"] == "sticks");
    const door::Said wrong =
        run({"diagnose", "-"}, "format = 1\n[[check]]\nname = \"push-through\"\nwent = \"sort of\"\n");
    CHECK(wrong.code == 65);
    CHECK(has(wrong.err, "does not go in"));
    // Written again, the words come back.
    const door::Said sound = run({"cut", "built-in", "--check", "push-through", "-o", "-"});
    CHECK(has(sound.out, "went = \"goes\""));
}
