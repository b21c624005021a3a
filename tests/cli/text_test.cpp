// Text for a person: help, the sentence that matters last, columns that line up.
#include "door.h"

#include <filesystem>
#include <fstream>
#include <random>

#include "cli/text.h"
#include "cli/verbs.h"
#include "scenario/scenario.h"
#include "session/story.h"
#include "shop/truth.h"

namespace cli = offsquare::cli;
using door::has;
using door::last_line;
using door::run;

TEST_CASE("--help and --version go to stdout with exit code 0") {
    for (const std::vector<std::string>& words : {std::vector<std::string>{"--help"}, {"-h"}, {"help"}}) {
        const door::Said said = run(words);
        CHECK(said.code == 0);
        CHECK(said.err.empty());
        for (const char* verb : {"cut", "shim", "picture", "check", "job", "keys", "cautions", "replay", "window"})
            CHECK(has(said.out, std::string("\n  ") + verb));
    }
    const door::Said version = run({"--version"});
    CHECK(version.code == 0);
    CHECK(version.out == "offsquare 0.1.0\n");
}

TEST_CASE("every verb lists every option, and each example is understood") {
    for (const cli::VerbInfo& verb : cli::verbs()) {
        CAPTURE(verb.name);
        const door::Said said = run({std::string(verb.name), "--help"});
        CHECK(said.code == 0);
        CHECK(said.out == run({"help", std::string(verb.name)}).out);
        for (const cli::OptionInfo& option : verb.options) CHECK(has(said.out, std::string(option.name)));
        CHECK(verb.examples.size() > 0);
    }
    for (const char* option : {"--set", "--shim", "--seed", "--exact", "--reveal", "--json"})
        CHECK(has(run({"cut", "--help"}).out, option));
    for (const char* option :
         {"--fence-end", "--far-end", "--length", "--span", "--side", "--u-width", "--units", "--json"})
        CHECK(has(run({"shim", "--help"}).out, option));
    CHECK(has(run({"picture", "--help"}).out, "-o, --output FILE"));
}

TEST_CASE("the sentence that matters stands last") {
    const door::Said fail = run({"cut", "--exact", "--set", "faults.fence_skew=3mrad"});
    CHECK(last_line(fail.out).starts_with("Fail:"));
    CHECK(has(last_line(fail.out), "3.00 mm in 1 m"));
    CHECK(last_line(run({"cut", "--exact", "--set", "faults.fence_skew=0"}).out).starts_with("Pass:"));
    CHECK(last_line(run({"job"}).out).starts_with("Pass:"));
    const door::Said shim = run({"shim", "--fence-end", "0.485in", "--far-end", "0.461in", "--length", "17.75in",
                                 "--span", "26.5in", "--units", "inch"});
    CHECK(last_line(shim.out).starts_with("Shim 0.0090 in behind the left end of the fence"));
    // The caution stands before what leads to a real saw.
    CHECK(shim.out.find(offsquare::session::cautions().short_line) < shim.out.find("Shim 0.0090 in behind"));
    CHECK(has(shim.out, "No instrument was named"));
    CHECK(last_line(run({"check", "built-in"}).out) == "built-in is a good scenario.");
    CHECK(last_line(run({"cautions"}).out) == offsquare::session::cautions().short_line);
}

TEST_CASE("the seed is always reported") {
    CHECK(has(run({"cut", "--seed", "77"}).out, "seed 77"));
    CHECK(has(run({"job", "--seed", "77"}).out, "seed 77"));
    CHECK(has(run({"picture", "-o", "-", "--seed", "77"}).err, "seed 77"));
    CHECK(door::json({"job", "--json", "--seed", "77"})["seed"] == 77);
}

TEST_CASE("the truth is not told until it is asked for") {
    CHECK_FALSE(has(run({"cut"}).out, "fence_skew"));
    CHECK(has(run({"cut", "--reveal"}).out, "faults.fence_skew"));
    // The built-in skew itself, as the person's units would show it, from the scenario.
    const double skew = offsquare::scenario::built_in().truth->fence_skew_rad;
    CHECK(has(run({"cut", "--reveal"}).out, offsquare::base::show_angle(skew, offsquare::base::Units::metric)));
    CHECK_FALSE(has(run({"check", "built-in"}).out, offsquare::base::show_angle(skew, offsquare::base::Units::metric)));
}

TEST_CASE("the job on the built-in saw: test, shim, proof") {
    const std::string text = run({"job"}).out;
    const std::size_t first = text.find("Test 1"), shim = text.find("\nShim\n"),
                      second = text.find("Test 2, to prove it");
    REQUIRE(first != std::string::npos);
    REQUIRE(shim != std::string::npos);
    REQUIRE(second != std::string::npos);
    CHECK(first < shim);
    CHECK(shim < second);
    const auto json = door::json({"job", "--json"});
    CHECK(json["tests"].size() >= 2);
    CHECK(json["tests"][0]["verdict"]["state"] == "fail");
    CHECK(json["verdict"]["state"] == "pass");
}

TEST_CASE("where one end cannot do it, the job uses both") {
    // The drawer holds 0.3 and 0.4 mm only and the fence wants about 0.1 mm: 0.4 here against 0.3 there.
    const std::string path = std::string(OFFSQUARE_SOURCE_DIR) + "/scenarios/square-by-noon.toml";
    const std::string text = run({"job", path, "--exact"}).out;
    // The text is wrapped for a terminal: a sentence may be broken anywhere.
    std::string flat = text;
    std::replace(flat.begin(), flat.end(), '\n', ' ');
    CHECK(has(flat, "With both ends it can be done"));
    CHECK(has(text, "behind the left end"));
    CHECK(has(text, "behind the right end"));
    CHECK(last_line(text).starts_with("Pass:"));
}

TEST_CASE("every scenario that ships can be brought to a pass by its own drawer, or says why not") {
    for (const auto& entry :
         std::filesystem::directory_iterator(std::filesystem::path(OFFSQUARE_SOURCE_DIR) / "scenarios")) {
        CAPTURE(entry.path().string());
        const door::Said said = run({"job", entry.path().string()});
        CHECK(said.code <= 1);
        const std::string last = last_line(said.out);
        // A fence that turns whenever it is clamped cannot be shimmed true: that is its lesson. A sled that binds
        // half-way is freed first.
        const bool binds = entry.path().filename() == "sticks-half-way.toml";
        const bool never = entry.path().filename() == "never-proves.toml";
        if (binds) CHECK(has(said.out, "The runners do not fit in their slots"));
        CHECK(has(said.out, "what jams the sled") == binds);
        CHECK((last.starts_with("Pass:") || last.starts_with("Not yet decidable:")) != never);
    }
}

TEST_CASE("standard input, the built-in name and a comma all lead to the same saw") {
    const std::string built_in(offsquare::scenario::built_in_text());
    CHECK(run({"cut", "-", "--json"}, built_in).out == run({"cut", "--json"}).out);
    CHECK(run({"cut", "built-in", "--json"}).out == run({"cut", "--json"}).out);
    CHECK(run({"cut", "--json", "--set", "faults.fence_skew=0,5mrad"}).out ==
          run({"cut", "--json", "--set=faults.fence_skew=0.5mrad"}).out);
    CHECK(run({"cut", "--json", "--shim", "left=0,1mm"}).out == run({"cut", "--json", "--shim=left=100um"}).out);
    CHECK(run({"--", "cut"}).code == 2);
    CHECK(run({"cut", "--json", "--", "built-in"}).out == run({"cut", "--json"}).out);
}

TEST_CASE("colour only when asked for, away from a terminal") {
    CHECK_FALSE(has(run({"cut"}).out, "\x1b"));
    CHECK_FALSE(has(run({"cut", "--colour", "never"}).out, "\x1b"));
    const std::string coloured = run({"cut", "--colour", "always"}).out;
    CHECK(has(coloured, "\x1b[1;31m"));
    CHECK_FALSE(has(run({"cut", "--colour", "always", "--json"}).out, "\x1b"));
}

TEST_CASE("keys: every key of the scenario room but the further rows of the drawer") {
    const std::string text = run({"keys"}).out;
    for (const auto& key : offsquare::scenario::keys()) {
        if (key.key.starts_with("drawer.") && !key.key.starts_with("drawer.0.")) continue;
        CHECK(has(text, key.key));
    }
    CHECK(has(text, "faults.fence_skew"));
    CHECK(has(text, "-20 to 20"));  // 0.02 rad in the unit of the column
}

TEST_CASE("pictures: each kind, each stage") {
    const std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("offsquare-picture-test-" + std::to_string(std::random_device{}()));
    std::filesystem::create_directory(folder);
    const std::vector<std::pair<std::string, std::string>> kinds = {{"svg", "<"}, {"png", "\x89PNG"}, {"pdf", "%PDF"}};
    for (const auto& [kind, magic] : kinds) {
        const std::string path = (folder / ("table." + kind)).string();
        const door::Said said = run({"picture", "built-in", "-o", path, "--size", "800x500"});
        CHECK(said.code == 0);
        CHECK(said.out.empty());
        std::ifstream file(path, std::ios::binary);
        std::string start(magic.size(), '\0');
        file.read(start.data(), static_cast<std::streamsize>(start.size()));
        CHECK(start == magic);
    }
    std::filesystem::remove_all(folder);
    std::string before;
    for (const char* stage : {"set-up", "cut", "read", "prove"}) {
        const door::Said said = run({"picture", "-o", "-", "--stage", stage});
        CHECK(said.code == 0);
        CHECK(has(said.out, "<svg"));
        CHECK(said.out != before);
        before = said.out;
    }
    CHECK(has(run({"picture", "-o", "-", "--exaggeration", "20"}).out, "×20"));
    // One factor for a whole job: as its first test chose it; anew only on request.
    const auto factor = [](std::vector<std::string> words) {
        const std::string out =
            run([&] {
                std::vector<std::string> all{"picture", "-o", "-", "--exact", "--set", "faults.fence_skew=0.62mrad"};
                all.insert(all.end(), words.begin(), words.end());
                return all;
            }())
                .out;
        const std::size_t at = out.find("angles drawn ×");
        return at == out.npos ? std::string() : out.substr(at, out.find_first_of(",.", at) - at);
    };
    CHECK(factor({"--stage", "read"}) == "angles drawn ×50");
    CHECK(factor({"--stage", "prove"}) == "angles drawn ×50");
    CHECK(factor({"--stage", "prove", "--exaggeration", "fit"}) != "angles drawn ×50");
    CHECK(factor({"--stage", "set-up"}).empty());
    CHECK(has(run({"picture", "-o", "-", "--stage", "set-up"}).out, "error hidden until measured"));
    CHECK(run({"picture", "-o", "-", "--dark"}).out != run({"picture", "-o", "-"}).out);
}

TEST_CASE("columns and paragraphs") {
    // Widths by hand: "Δ" is one column and two bytes.
    CHECK(cli::width_of("Δx") == 2);
    CHECK(cli::columns({{"Δ", "1.5"}, {"long", "12.25"}}, 2, {1}) == "  Δ       1.5\n  long  12.25\n");
    CHECK(cli::columns({{"a", ""}, {"bb", "c"}}, 0) == "a\nbb  c\n");
    CHECK(cli::wrapped("one two three", 7, 0) == "one two\nthree");
    CHECK(cli::wrapped("one two three", 6, 0) == "one\ntwo\nthree");  // with its blank the pair takes seven
    CHECK(cli::wrapped("one two three", 9, 2) == "  one two\n  three");
    CHECK(cli::wrapped("verylongword x", 4) == "verylongword\nx");
    CHECK(cli::printable("a\x1b[1m\tb\xc2\x85") == "a?[1m?b?");
    CHECK(cli::printable("µ ″") == "µ ″");
}

TEST_CASE("what is asked of the window") {
    const auto wish = [](const std::vector<std::string>& words) {
        std::vector<const char*> argv(words.size() + 1, "offsquare");
        for (std::size_t i = 0; i < words.size(); ++i) argv[i + 1] = words[i].c_str();
        return cli::window_wish(static_cast<int>(argv.size()), argv.data());
    };
    REQUIRE(wish({}).has_value());
    CHECK(wish({})->file.empty());
    REQUIRE(wish({"window", "a.toml", "--screenshot", "b.png"}).has_value());
    CHECK(wish({"window", "a.toml", "--screenshot", "b.png"})->file == "a.toml");
    CHECK(wish({"window", "a.toml", "--screenshot", "b.png"})->screenshot == "b.png");
    CHECK(wish({"window"})->file.empty());
    CHECK(wish({"window", "built-in"})->file == "built-in");
    CHECK_FALSE(wish({"window", "--help"}).has_value());
    CHECK_FALSE(wish({"window", "--shot", "b.png"}).has_value());
    CHECK_FALSE(wish({"cut"}).has_value());
}
