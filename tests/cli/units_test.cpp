// Every verb's text in the units that were chosen and in no other.
#include <doctest/doctest.h>

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "repeats.h"
#include "base/scratch.h"
#include "door.h"
#include "measure/check.h"
#include "scenario/scenario.h"
#include "units_shown.h"

using namespace offsquare;
using base::Units;

namespace {

std::string file_of(const std::string& name) { return OFFSQUARE_SOURCE_DIR "/scenarios/" + name + ".toml"; }

/// The option's own word in a sentence about it, and what the scenario says of itself, however the lines were broken.
std::string without_own_words(std::string text, const scenario::Scenario& scenario) {
    std::replace(text.begin(), text.end(), '\n', ' ');
    for (std::string own : {scenario.title, scenario.story}) {
        std::replace(own.begin(), own.end(), '\n', ' ');
        while (!own.empty() && own.back() == ' ') own.pop_back();
        const std::size_t at = own.empty() ? std::string::npos : text.find(own);
        if (at != std::string::npos) text.erase(at, own.size());
    }
    return text;
}

/// Runs it, holds the text to the units, and gives it back.
std::string said(std::vector<std::string> words, Units units, const scenario::Scenario& scenario,
                 const std::string& in = "") {
    if (units.angles == Units::Angles::mrad) words.insert(words.end(), {"--angles", "mrad"});
    const door::Said answer = door::run(words, in);
    const std::string command = fmt::format("{}", fmt::join(words, " "));
    CAPTURE(command);
    CHECK_MESSAGE(answer.code <= 1, answer.err);
    const std::string text = without_own_words(answer.out + answer.err, scenario);
    CHECK(text.size() > 30);
    const auto other = units_shown::not_chosen(text, units);
    CHECK_MESSAGE(!other, other.value_or(""));
    if (units.angles == Units::Angles::mrad && words.front() != "faults") {  // published figures stay as published
        const auto alone = units_shown::without_mrad(text);
        CHECK_MESSAGE(!alone, alone.value_or(""));
    }
    return answer.out;
}

}  // namespace

TEST_CASE("every verb speaks in the scenario's units, and of milliradians only with --angles mrad" *
          doctest::skip(repeats::sanitized)) {
    const scratch::Folder folder;
    for (const std::string name : {"teaching-saw", "inch-shop-sled"}) {
        const std::string file = file_of(name);
        const auto loaded = scenario::load(file);
        REQUIRE(loaded);
        const scenario::Scenario& scenario = loaded->scenario;
        for (const auto angles : {Units::Angles::slope, Units::Angles::mrad}) {
            const Units units{scenario.units.system, angles};
            CAPTURE(name);
            CAPTURE(static_cast<int>(angles));
            const auto run = [&](const std::vector<std::string>& words, const std::string& in = "") {
                return said(words, units, scenario, in);
            };
            const std::string session = folder / fmt::format("{}.jsonl", name);
            const std::string job = run({"job", file, "--save", session});
            CHECK(door::has(job, "mrad") == (angles == Units::Angles::mrad));
            run({"replay", session});
            run({"cut", file, "--reveal"});
            run({"cut", file, "--at", "3in"});
            std::vector<std::string> all_checks{"cut", file};
            for (const measure::CheckInfo& check : measure::checks())
                all_checks.insert(all_checks.end(), {"--check", std::string(check.name)});
            run(all_checks);
            run({"push", file, "--at", "4in", "--both"});
            run({"push", file, "--at", "30in", "--mu", "0.6"});
            run({"checks", file});
            run({"faults", file});
            run({"faults", file, "--table"});
            run({"check", file});
            run({"picture", file, "-o", "-"});
            const std::string readings = door::run({"cut", file, "--check", "five-cut", "--check",
                                                    "straightedge-on-fence", "--check", "wiggle", "-o", "-"})
                                             .out;
            run({"diagnose", "-"}, readings);
            run({"coach", "-", "--bits"}, readings);
        }
    }
}

TEST_CASE("shim and keys speak in the units that are asked for") {
    const scenario::Scenario scenario = scenario::built_in();
    for (const auto angles : {Units::Angles::slope, Units::Angles::mrad}) {
        for (const char* side : {"left", "right"}) {
            said({"shim", "--fence-end", "0.485in", "--far-end", "0.461in", "--length", "17.75in", "--span", "26.5in",
                  "--side", side},
                 {Units::imperial, angles}, scenario);
            said({"shim", "--fence-end", "12.3", "--far-end", "12.1", "--length", "300", "--span", "500", "--side",
                  side},
                 {Units::metric, angles}, scenario);
        }
        said({"keys"}, {Units::metric, angles}, scenario);
    }
}

TEST_CASE("the working multiplies with signs: a negative factor gives a negative length, on either side") {
    // 0.5 mm less at the fence end: -0.5 / 4 / 300 = -0.00041667, over 500 mm -0.20833 mm. Strip on the left: the
    // fence's skew is the other way round, but what is multiplied is not.
    for (const char* side : {"right", "left"}) {
        const std::string text = door::run({"shim", "--fence-end", "12.0mm", "--far-end", "12.5mm", "--length", "300mm",
                                            "--span", "500mm", "--side", side})
                                     .out;
        CAPTURE(text);
        CHECK(door::has(text, "−0.42 mm in 1 m"));
        CHECK(door::has(text, "−0.208 mm"));
        CHECK(door::has(text, fmt::format("Shim 0.208 mm behind the {} end", side)));
    }
}

TEST_CASE("--angles takes two words, and each verb that tells an angle takes it") {
    CHECK(door::run({"cut", "--angles", "degrees"}).code == 2);
    CHECK(door::has(door::run({"cut", "--angles", "mard"}).err, "mrad"));
    CHECK(door::run({"cut", "--angles", "slope"}).out == door::run({"cut"}).out);
    for (const char* verb : {"job", "cut", "shim", "push", "faults", "checks", "diagnose", "coach", "picture", "check",
                             "keys", "replay", "window"})
        CHECK_MESSAGE(door::has(door::run({verb, "--help"}).out, "--angles HOW"), verb);
    // What a machine reads does not change with it.
    CHECK(door::run({"cut", "--json", "--angles", "mrad"}).out == door::run({"cut", "--json"}).out);
}

TEST_CASE("what is wrong in a file that speaks inches is told in inches") {
    const std::string head = "format = 1\ntitle = \"t\"\nunits = \"imperial\"\n";
    for (const auto& [text, part] : {std::pair{"[fence]\nlength = 1\n", "from 1.969 in to 196.9 in"},
                                     {"[fence]\nlength = 1\n", "length = \"22.05 in\""},  // 560 / 25.4
                                     {"[board]\nwidth = 30\n", "\"24.41 in\""},           // 620 / 25.4
                                     {"[faults]\nfence_skew = 30\n", "-240 thou in 12 in to 240 thou in 12 in"},
                                     {"[faults]\nfence_profile = \"wave\"\n", "wave 0.002 in / 7.09 in"}}) {
        const std::string err = door::run({"check", "-"}, head + text).err;
        CHECK_MESSAGE(door::has(err, part), err);
        CHECK_MESSAGE(units_shown::alone(err, "mm") == std::string::npos, err);
    }
}
