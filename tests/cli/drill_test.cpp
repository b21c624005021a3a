// A case played line by line, through a pipe, and hand-ins that are marked.
#include <fstream>

#include "door.h"
#include "home.h"
#include "repeats.h"

namespace drill_test {

using door::has;
using door::Home;
using door::json;
using door::run;
using door::Said;

std::vector<door::Json> lines_of(const std::string& text) {
    std::vector<door::Json> all;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) all.push_back(door::Json::parse(line));
    return all;
}

TEST_CASE("each line gets one answer, a mistake costs nothing, and nothing is told before it is closed") {
    const Home home;
    const Said said = run({"drill", "--case", "two-boards"},
                          "suspect fence_bow=60, dust=20\ncheck straightedge-on-fence\nchek wiggle\ncheck wigle\nknow\n"
                          "undo\nset faults.dust 0\nclose proved 90\nquit\n");
    CHECK(said.code == 0);
    CHECK(has(said.out, "It may cost 120 min"));
    CHECK(has(said.out, "Straightedge on the fence: bow"));
    CHECK(has(said.out, "was \"check\" meant?"));
    CHECK(has(said.out, "was wiggle meant?"));
    CHECK(has(said.out, "3 of 120 min spent"));
    CHECK(has(said.out, "it is not proved"));
    // Names of faults stand there only as the person typed them.
    for (const char* word : {"fence off square", "fence bowed", "it was"}) CHECK(!has(said.out, word));
}

TEST_CASE("the line protocol: a document a line, the debrief last") {
    const Home home;
    const Said said =
        run({"drill", "--case", "two-boards", "--json"}, "check straightedge-on-fence\nrepair nonsense\ngive-up\n");
    CHECK(said.code == 0);
    const auto lines = lines_of(said.out);
    REQUIRE(lines.size() == 5);
    CHECK(lines[0]["ok"] == true);
    CHECK(lines[1]["minutes"] == 3.0);
    CHECK(lines[1]["minutes_left"] == 117.0);
    CHECK(lines[2]["ok"] == false);
    CHECK(has(lines[2]["error"], "there is no fault"));
    CHECK(lines[3]["closed"] == "given-up");
    CHECK(lines[4]["debrief"]["ending"] == "given-up");
    CHECK(lines[4]["debrief"]["found"].size() == 2);
    // It is kept among the practice; nobody was sure of anything.
    const door::Json progress = json({"drill", "--progress", "--json"});
    CHECK(progress["closed"] == 1);
    CHECK(progress["families"][0]["family"] == "fence");
    CHECK(progress["families"][0]["closed"] == 1);
    CHECK(progress["bins"].empty());
    CHECK(run({"drill", "--forget"}).code == 0);
    CHECK(has(run({"drill", "--progress"}).out, "No case was closed yet"));
}

TEST_CASE("a hand-in: taken up again, marked, and one that cannot be read spoils no other" *
          doctest::skip(repeats::sanitized)) {
    const Home home;
    const std::string file = (home.folder.path / "a.jsonl").string(), bad = (home.folder.path / "bad.jsonl").string();
    REQUIRE(run({"drill", "--case", "two-boards", "-o", file}, "check straightedge-on-fence\n").code == 0);
    CHECK(has(run({"mark", file}).out, "still open"));
    REQUIRE(run({"drill", "--from", file, "-o", file}, "suspect fence_bow 90\ngive-up\n").code == 0);
    std::ofstream(bad) << "{}\n";
    const Said both = run({"mark", file, bad, "--json"});
    CHECK(both.code == 0);
    CHECK(has(both.err, "bad.jsonl:1:"));
    const door::Json marks = door::Json::parse(both.out);
    REQUIRE(marks["hand_ins"].size() == 2);
    CHECK(marks["hand_ins"][0]["ending"] == "given-up");
    CHECK(marks["hand_ins"][0]["moments"].size() == 2);
    CHECK(has(marks["hand_ins"][1]["error"], "names its format"));
    CHECK(run({"mark", bad}).code == 65);
    CHECK(run({"mark", (home.folder.path / "none").string()}).code == 66);
    CHECK(run({"mark"}).code == 2);
    // Marked twice it is the same.
    CHECK(run({"mark", file}).out == run({"mark", file}).out);
    CHECK(has(run({"mark", file}).out, "Given up after 3 minutes of 120."));
    CHECK(run({"drill", "--from", file}, "know\n").code == 0);
}

TEST_CASE("hints go up rung by rung, each with all of the one below, and are counted" *
          doctest::skip(repeats::sanitized)) {
    const Home home;
    const auto lines = lines_of(run({"drill", "--case", "two-boards", "--json"},
                                    "suspect fence_bow 50 fence_skew 50\nhint\nhint\nhint\nhint 1\n")
                                    .out);
    REQUIRE(lines.size() == 6);
    for (std::size_t rung = 2; rung <= 4; ++rung) CHECK(lines[rung]["ok"] == true);
    CHECK(lines[5]["ok"] == false);  // none goes back
    for (std::size_t rung = 3; rung <= 4; ++rung) {
        CHECK(lines[rung]["says"].size() > lines[rung - 1]["says"].size());
        for (std::size_t i = 0; i < lines[rung - 1]["says"].size(); ++i)
            CHECK(lines[rung]["says"][i] == lines[rung - 1]["says"][i]);
    }
}

TEST_CASE("a case of a tier: the same for the same seed, taken up again from its hand-in" *
          doctest::skip(repeats::sanitized)) {
    const Home home;
    const std::string file = (home.folder.path / "tier.jsonl").string();
    const Said said = run({"drill", "--tier", "1", "--seed", "4", "-o", file}, "checks\n");
    CHECK(said.code == 0);
    CHECK(has(said.out, "It may cost"));
    CHECK(run({"drill", "--from", file}, "checks\n").out == said.out);
    CHECK(run({"drill", "--tier", "5"}).code == 2);
    CHECK(run({"drill", "--tier", "1", "--case", "two-boards"}).code == 2);
}

TEST_CASE("an unknown case is asked about, and the seed is another run of chance") {
    const Home home;
    CHECK(has(run({"drill", "--case", "two-bords"}).err, "was two-boards meant?"));
    CHECK(run({"drill", "--case", "two-bords"}).code == 66);
    const auto read = [](const char* seed) {
        return run({"drill", "--case", "two-boards", "--seed", seed}, "check five-cut\n").out;
    };
    CHECK(read("3") == read("3"));
    CHECK(read("3") != read("4"));
}

}  // namespace drill_test
