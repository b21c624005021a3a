// What is refused, with which exit code and in which words.
#include "door.h"

#include <filesystem>
#include <fstream>
#include <random>

#include "cli/suggest.h"
#include "cli/verbs.h"

namespace cli = offsquare::cli;
using door::has;
using door::run;

namespace {

/// Refused: nothing on stdout, a message that starts with the program's name on stderr.
void refused(const std::vector<std::string>& words, int code, const std::string& part, const std::string& in = "") {
    const door::Said said = run(words, in);
    CAPTURE(words);
    CAPTURE(said.err);
    CHECK(said.code == code);
    CHECK(said.out.empty());
    CHECK(said.err.starts_with("offsquare: "));
    CHECK(has(said.err, part));
}

struct Folder {
    std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("offsquare-cli-test-" + std::to_string(std::random_device{}()));
    Folder() { std::filesystem::create_directory(path); }
    ~Folder() { std::filesystem::remove_all(path); }
    std::string operator/(const std::string& name) const { return (path / name).string(); }
};

std::string text_of(const std::string& path) {
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
}

/// Each line of a session, as it is and without what came of it.
std::size_t numbers_recorded(const std::string& session) {
    std::size_t count = 0;
    std::istringstream lines(session);
    for (std::string line; std::getline(lines, line);) {
        const door::Json json = door::Json::parse(line);
        if (!json.contains("then")) continue;
        for (const auto& leaf : json["then"].flatten()) count += leaf.is_number() ? 1 : 0;
    }
    return count;
}

std::string without_outcomes(const std::string& session) {
    std::string text;
    std::istringstream lines(session);
    for (std::string line; std::getline(lines, line);) {
        door::Json json = door::Json::parse(line);
        json.erase("then");
        text += json.dump() + "\n";
    }
    return text;
}

}  // namespace

TEST_CASE("2: a typo gets the likely word and is not run") {
    refused({"ctu"}, 2, "did you mean \"cut\"?");
    refused({"pictrue", "-o", "x.svg"}, 2, "did you mean \"picture\"?");
    refused({"--hlep"}, 2, "did you mean \"--help\"?");
    refused({"cut", "--sed", "4"}, 2, "did you mean \"--se");
    refused({"cut", "--revael"}, 2, "did you mean \"--reveal\"?");
    refused({"shim", "--fence-ned", "1"}, 2, "did you mean \"--fence-end\"?");
    refused({"cut", "--set", "faults.fence_skwe=1mrad"}, 2, "faults.fence_skew");
    refused({"cut", "--colour", "alwyas"}, 2, "did you mean \"always\"?");
    refused({"help", "jbo"}, 2, "did you mean \"job\"?");
    CHECK_FALSE(has(run({"zzzzzzz"}).err, "did you mean"));
    CHECK_FALSE(std::filesystem::exists("x.svg"));
}

TEST_CASE("2: what is not understood") {
    refused({}, 2, "offsquare job");
    refused({"window"}, 2, "offsquare job");
    refused({"check"}, 2, "needs a FILE");
    refused({"cut", "a", "b"}, 2, "one SCENARIO");
    refused({"keys", "a"}, 2, "takes options only");
    refused({"cut", "--seed"}, 2, "--seed needs N");
    refused({"cut", "--seed=", "5"}, 2, "nothing after the =");
    refused({"cut", "--json=false"}, 2, "takes no value");
    refused({"cut", "--seed", "1", "--seed", "2"}, 2, "2 times");
    for (const char* seed : {"-1", "1.5", "", "seven", "18446744073709551616", " 1", "0x10"})
        refused({"cut", "--seed", seed}, 2, "--seed is a whole number");
    for (const char* reads : {"0", "101"}) refused({"cut", "--reads", reads}, 2, "from 1 to 100");
    for (const char* set : {"x", "{}", "", "=1"}) refused({"cut", "--set", set}, 2, "KEY=VALUE");
    refused({"cut", "--set", "faults.fence_skew=1,5.5mrad"}, 2, "faults.fence_skew");
    refused({"cut", "--set", "faults.fence_skew=90"}, 2, "faults.fence_skew");
    refused({"cut", "--shim", "left"}, 2, "END=THICKNESS");
    refused({"cut", "--shim", "lift=1mm"}, 2, "did you mean \"left\"?");
    refused({"cut", "--shim", "left=-1mm"}, 2, "not thinner than nothing");
    refused({"cut", "--shim", "left=1 furlong"}, 2, "--shim left");
    refused({"cut", "--shim", "left=500mm"}, 2, "not possible");
}

TEST_CASE("2: readings that cannot be") {
    refused({"shim"}, 2, "needs --fence-end");
    refused({"shim", "--fence-end", "12", "--far-end", "12", "--length", "300"}, 2, "needs --span");
    refused({"shim", "--fence-end", "0", "--far-end", "12", "--length", "300", "--span", "500"}, 2,
            "greater than zero");
    refused({"shim", "--fence-end", "12", "--far-end", "twelve", "--length", "300", "--span", "500"}, 2, "--far-end");
    refused({"shim", "--fence-end", "12in", "--far-end", "12mm", "--length", "300", "--span", "500"}, 65, "--insist");
    refused({"shim", "--fence-end", "12in", "--far-end", "12mm", "--length", "300", "--span", "500", "--insist"}, 2,
            "tapers");
    refused({"shim", "--fence-end", "12", "--far-end", "12", "--length", "300", "--span", "500", "--side", "up"}, 2,
            "right, left");
    refused({"shim", "--fence-end", "12", "--far-end", "12", "--length", "300", "--span", "500", "--u-width", "0"}, 2,
            "greater than zero");
    refused({"shim", "--fence-end", "12", "--far-end", "12", "--length", "300", "--span", "500", "--units", "in"}, 2,
            "mm, inch");
}

TEST_CASE("2: pictures that cannot be") {
    refused({"picture"}, 2, "needs -o FILE");
    refused({"picture", "-o", "x.gif"}, 2, ".svg, .png or .pdf");
    refused({"picture", "-o", ".svg"}, 2, ".svg, .png or .pdf");
    refused({"picture", "-o", "-", "--size", "1280"}, 2, "WIDTHxHEIGHT");
    refused({"picture", "-o", "-", "--size", "12x90"}, 2, "WIDTHxHEIGHT");
    refused({"picture", "-o", "-", "--exaggeration", "0"}, 2, "1 to 10000");
    refused({"picture", "-o", "-", "--stage", "redd"}, 2, "did you mean \"read\"?");
}

TEST_CASE("65: bad data names file, line and column") {
    refused({"cut", "-"}, 65, "standard input:1:", "[broken");
    refused({"check", "-"}, 65, "standard input:", std::string("a\0b", 3));
    refused({"check", "-"}, 65, "standard input", std::string(3U << 20U, '#'));
    refused({"replay", "-"}, 65, "standard input", "not a log\n");
    refused({"replay", "-"}, 65, "standard input", "");
}

TEST_CASE("66: no input") {
    refused({"cut", "/nonexistent/saw.toml"}, 66, "saw.toml");
    refused({"check", "/"}, 66, "folder");
    refused({"replay", "/nonexistent/log"}, 66, "/nonexistent/log: cannot be opened: No such file");
    refused({"replay", "/"}, 66, "found a folder. Allowed: a saved session");
    refused({"replay", "/dev/null"}, 66, "not a regular file");
    refused({"cut", "--", "--json"}, 66, "--json");  // after -- it is a file's name
    refused({"cut", "[a,b]"}, 66, "[a,b]");          // one name, not a list of two
    refused({"cut", ""}, 66, "");
}

TEST_CASE("73: cannot create") {
    refused({"picture", "-o", "/nonexistent/x.svg"}, 73, "/nonexistent/x.svg");
    refused({"job", "--save", "/nonexistent/log"}, 73, "/nonexistent/log");
    refused({"job", "--save", "/"}, 73, "not a regular file");
}

TEST_CASE("74: the output breaks off") {
    std::ostringstream out, err;
    out.setstate(std::ios::badbit);
    std::istringstream in;
    const char* argv[] = {"offsquare", "keys"};
    errno = 0;
    CHECK(cli::run(2, argv, out, err, in) == 74);
    CHECK(has(err.str(), "cannot write the output"));
}

TEST_CASE("70: our own fault is owned up to, never thrown") {
    struct Throwing : std::streambuf {
        int_type underflow() override { throw std::runtime_error("a bolt fell out"); }
    } buffer;
    std::istream in(&buffer);
    in.exceptions(std::ios::badbit);  // makes the stream pass the exception on
    std::ostringstream out, err;
    const char* argv[] = {"offsquare", "cut", "-"};
    CHECK(cli::run(3, argv, out, err, in) == 70);
    CHECK(has(err.str(), "a fault of offsquare"));
}

TEST_CASE("74: standard input breaks off") {
    struct Broken : std::streambuf {
        int_type underflow() override { throw std::runtime_error("cable"); }
    } buffer;
    std::istream in(&buffer);  // without exceptions the stream turns it into badbit
    std::ostringstream out, err;
    const char* argv[] = {"offsquare", "cut", "-"};
    CHECK(cli::run(3, argv, out, err, in) == 74);
    CHECK(has(err.str(), "broke off"));
}

TEST_CASE("0 and 1 as the verdict") {
    CHECK(run({"cut", "--exact", "--set", "faults.fence_skew=0"}).code == 0);
    CHECK(run({"cut", "--exact", "--set", "faults.fence_skew=3mrad"}).code == 1);
    // Undecided is no "no": the tolerance put where the readings are.
    const auto undecided =
        door::json({"cut", "--json", "--set", "faults.fence_skew=0.25mrad", "--set", "tolerance.corner=0.25mrad"});
    CHECK(undecided["verdict"]["state"] == "undecided");
    CHECK(undecided["verdict"]["tests_to_decide"].is_number_integer());
    CHECK(run({"cut", "--set", "faults.fence_skew=0.25mrad", "--set", "tolerance.corner=0.25mrad"}).code == 0);
    CHECK(run({"job"}).code == 0);
    CHECK(run({"cut"}).code == 1);
}

TEST_CASE("an error message cannot steer a terminal") {
    for (const char* word : {"cut\x1b[2J", "\x1b]0;title\x07",
                             "a\xc2\x9b"
                             "31m"}) {
        const std::string err = run({word}).err;
        CHECK_FALSE(has(err, "\x1b"));
        CHECK_FALSE(has(err, "\x07"));
        CHECK_FALSE(has(err, "\xc2\x9b"));
    }
    CHECK(run({std::string(5000, 'x')}).err.size() < 300);
}

TEST_CASE("a warning about a file goes to stderr, the data stays clean") {
    std::string text(run({"check", "built-in"}).code == 0 ? "format = 1\ntitle = \"A saw\"\nblad = 3\n" : "");
    const door::Said said = run({"cut", "-", "--json"}, text);
    CHECK(said.code <= 1);
    CHECK(has(said.err, "blad"));
    CHECK(door::Json::parse(said.out)["schema_version"] == 1);
}

TEST_CASE("a job saved replays to the same numbers; a changed number is found") {
    const Folder folder;
    const std::string file = folder / "job.jsonl";
    REQUIRE(run({"job", "--seed", "5", "--save", file}).code <= 1);
    const door::Said said = run({"replay", file});
    CHECK(said.code == 0);
    std::string text = text_of(file);
    // How many numbers it compared, against a count of those that the file records.
    const std::size_t numbers = numbers_recorded(text);
    REQUIRE(numbers > 20);
    CHECK(has(door::last_line(said.out), "agrees in every number"));
    CHECK(has(door::last_line(said.out), std::to_string(numbers) + " numbers compared"));
    CHECK(door::Json::parse(run({"replay", "--json", file}).out)["compared"] == numbers);
    // Without them there is nothing that could agree.
    const door::Said bare = run({"replay", "-"}, without_outcomes(text));
    CHECK(bare.code == 0);
    CHECK_FALSE(has(bare.out, "agrees"));
    CHECK(has(door::last_line(bare.out), "no number to compare with"));
    CHECK(run({"replay", "-"}, text).code == 0);
    // Another seed in the first line: the recorded readings are then not what comes out.
    const std::size_t at = text.find("\"seed\":5");
    REQUIRE(at != std::string::npos);
    text.replace(at, 8, "\"seed\":6");
    refused({"replay", "-"}, 65, "standard input", text);
}

TEST_CASE("typing distance: worked by hand") {
    CHECK(cli::typing_distance("", "") == 0);
    CHECK(cli::typing_distance("cut", "cut") == 0);
    CHECK(cli::typing_distance("cut", "") == 3);
    CHECK(cli::typing_distance("ct", "cut") == 1);    // put in
    CHECK(cli::typing_distance("cuut", "cut") == 1);  // take out
    CHECK(cli::typing_distance("cat", "cut") == 1);   // exchange
    CHECK(cli::typing_distance("ctu", "cut") == 1);   // swap
    CHECK(cli::typing_distance("kitten", "sitting") ==
          3);  // Wagner and Fischer's problem on the usual textbook pair (memory)
    CHECK(cli::likely_word("jbo", {"cut", "job"}) == "job");
    CHECK(cli::likely_word("planer", {"cut", "job"}).empty());
}
