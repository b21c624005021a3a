// offsquare coach: the contract of its options and keys, and what a person reads.
#include <doctest/doctest.h>

#include "repeats.h"

#include "cli/door.h"

using door::has;
using door::Json;
using door::json;
using door::keys_of;
using door::run;

namespace {

const std::string& coach_readings() {
    static const std::string text = [] {
        const door::Said said = run({"cut", "built-in", "--check", "five-cut", "--check", "square-on-cut", "-o", "-"});
        REQUIRE(said.code == 0);
        return said.out;
    }();
    return text;
}

door::Said coach(std::vector<std::string> more) {
    std::vector<std::string> words{"coach", "-"};
    words.insert(words.end(), more.begin(), more.end());
    return run(words, coach_readings());
}

}  // namespace

TEST_CASE("coach: three rungs, each with all of the ones below it" * doctest::skip(repeats::sanitized)) {
    const std::vector<std::string> suspects{"--suspect", "fence_skew", "--suspect", "fence_bow"};
    std::string before;
    for (const char* rung : {"1", "2", "3"}) {
        std::vector<std::string> words = suspects;
        words.insert(words.end(), {"--rung", rung});
        const door::Said said = coach(words);
        CHECK(said.code == 0);
        CHECK(said.err.empty());
        CHECK(said.out.starts_with(before));
        CHECK(said.out.size() > before.size());
        before = said.out;
    }
    CHECK(coach(suspects).out == before);  // without --rung all three
    CHECK(has(before, "Which of your suspects would keep the fence's own face from being straight"));
    CHECK(has(before, "\"Straightedge on the fence\", 3 minutes. Unplug the saw first."));
    CHECK_FALSE(has(before, "bits"));
}

TEST_CASE("coach --bits: what each check would tell, and the minutes to be expected") {
    const std::string text = coach({"--suspect", "fence_skew", "--suspect", "fence_bow", "--bits"}).out;
    CHECK(has(text, "expected minutes"));
    CHECK(has(text, "straightedge-on-fence"));
    const Json d = Json::parse(coach({"--suspect", "fence_skew", "--suspect", "fence_bow", "--bits", "--json"}).out);
    CHECK(d["checks"][0]["check"] == d["check"]);
    for (const Json& check : d["checks"]) {
        CHECK(keys_of(check) == std::vector<std::string>{"check", "bits", "bits_per_minute", "expected_minutes"});
        CHECK(check["bits"].get<double>() > 0.0);
    }
}

TEST_CASE("coach --json: the keys of the contract, by rung" * doctest::skip(repeats::sanitized)) {
    const Json three = Json::parse(coach({"--json"}).out);
    CHECK(keys_of(three) == std::vector<std::string>{"schema_version", "rung", "question", "suspects", "alive",
                                                     "matter", "check", "repair", "says"});
    for (const Json& s : three["suspects"])
        CHECK(keys_of(s) == std::vector<std::string>{"key", "standing", "named", "ruled_out_by"});
    CHECK(keys_of(Json::parse(coach({"--json", "--rung", "2"}).out)) ==
          std::vector<std::string>{"schema_version", "rung", "question", "suspects", "alive"});
    CHECK(keys_of(Json::parse(coach({"--json", "--rung", "1"}).out)) ==
          std::vector<std::string>{"schema_version", "rung", "question"});
}

TEST_CASE("coach: what was typed wrongly is named") {
    CHECK(coach({"--rung", "4"}).code == 2);
    CHECK(has(coach({"--suspect", "fence_skw"}).err, "did you mean \"fence_skew\"?"));
    CHECK(coach({"--suspect", "dust", "--suspect", "dust"}).code == 2);
    CHECK(coach({"--rung", "1", "--bits"}).code == 2);
    CHECK(run({"coach"}).code == 2);
    CHECK(run({"coach", "no-such-file.toml"}).code > 2);
    // A slip is refused where nobody can be asked, as by diagnose.
    CHECK(run({"coach", "-"}, coach_readings() + coach_readings().substr(coach_readings().find("[[check]]"))).code ==
          run({"diagnose", "-"}, coach_readings() + coach_readings().substr(coach_readings().find("[[check]]"))).code);
}
