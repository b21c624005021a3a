// What is printed as an example works as printed: every command line of the README, the man page and the help of each
// verb, in a folder with the scenarios and the few files of a person's own that they name.
#include "door.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>

#include "cli/verbs.h"
#include "repeats.h"

namespace cli = offsquare::cli;
namespace fs = std::filesystem;
using door::has;
using door::last_line;
using door::run;

namespace {

/// A new folder, which goes when the test ends. It holds the scenarios, and one of them as "my-saw.toml".
class Workbench {
public:
    Workbench() : path_(fs::temp_directory_path() / ("offsquare-examples-" + std::to_string(std::random_device{}()))) {
        fs::create_directories(path_);
        fs::copy(OFFSQUARE_SOURCE_DIR "/scenarios", path_ / "scenarios");
        fs::copy_file(path_ / "scenarios/two-boards.toml", path_ / "my-saw.toml");
        ::setenv("XDG_DATA_HOME", path_.c_str(), 1);
    }
    ~Workbench() {
        ::unsetenv("XDG_DATA_HOME");
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    Workbench(const Workbench&) = delete;
    Workbench& operator=(const Workbench&) = delete;

    std::string operator/(const std::string& name) const { return (path_ / name).string(); }

private:
    fs::path path_;
};

std::string content(const std::string& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// As a shell takes them apart: double quotes hold words together.
std::vector<std::string> words_of(const std::string& line) {
    std::vector<std::string> words;
    bool quoted = false;
    bool inside = false;
    for (const char c : line) {
        if (c == '"') quoted = !quoted;
        const bool blank = c == ' ' && !quoted;
        if (!blank && !inside) words.emplace_back();
        inside = !blank;
        if (inside && c != '"') words.back() += c;
    }
    return words;
}

/// Command lines behind `before` in a file of the tree, without their comments.
std::vector<std::string> printed_in(const std::string& file, const std::string& before) {
    std::ifstream in(std::string(OFFSQUARE_SOURCE_DIR "/") + file);
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);)
        if (line.starts_with(before + "offsquare "))
            lines.push_back(line.substr(0, line.find(" #")).substr(before.size()));
    return lines;
}

bool names_a_file(const std::string& word) {
    for (const char* ending : {".toml", ".svg", ".pdf", ".jsonl", ".csv"})
        if (word.ends_with(ending)) return true;
    return false;
}

/// Runs a line as a shell in that folder would: files lie there, and "< FILE" is standard input. What it is told to
/// write must be there afterwards.
void works(const Workbench& folder, const std::string& line) {
    CAPTURE(line);
    std::vector<std::string> words = words_of(line);
    words.erase(words.begin());
    std::string input;
    if (const auto from = std::find(words.begin(), words.end(), "<"); from != words.end()) {
        REQUIRE(words.end() - from == 2);
        input = content(folder / *std::next(from));
        REQUIRE_FALSE(input.empty());
        words.erase(from, words.end());
    }
    std::vector<std::string> to_write;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (!names_a_file(words[i])) continue;
        words[i] = folder / words[i];
        if (i > 0 && (words[i - 1] == "-o" || words[i - 1] == "--save" || words[i - 1] == "--picture" ||
                      words[i - 1] == "--export" || words[i - 1] == "--like-mine"))
            to_write.push_back(words[i]);
    }
    for (const std::string& file : to_write) fs::remove(file);
    const door::Said said = run(words, input);
    CAPTURE(said.err);
    CHECK(said.code <= 1);  // 1 is a verdict of no, which is an answer
    CHECK(said.out.size() + to_write.size() > 0);
    for (const std::string& file : to_write) CHECK(content(file).size() > 100);
}

/// Whoever opens the window has a display; tests/gui knocks there.
bool opens_the_window(const std::string& line) {
    const std::vector<std::string> words = words_of(line);
    return words.size() == 1 || words[1] == "window";
}

}  // namespace

TEST_CASE("every example in the README and in the man page works as printed" * doctest::skip(repeats::sanitized)) {
    const Workbench folder;
    for (const auto& [file, before] : {std::pair{"README.md", ""}, {"assets/offsquare.1", ".Dl "}}) {
        const std::vector<std::string> lines = printed_in(file, before);
        CHECK(lines.size() >= 4);
        for (const std::string& line : lines) works(folder, line);
    }
}

TEST_CASE("every example in the help works as printed" * doctest::skip(repeats::sanitized)) {
    const Workbench folder;
    // Two days' readings of a person's own saw are older than the examples that weigh them.
    for (const auto& [day, seed] : {std::pair{"my-monday.toml", "1"}, std::pair{"my-tuesday.toml", "2"}})
        REQUIRE(run({"cut", folder / "my-saw.toml", "--check", "five-cut", "--seed", seed, "-o", folder / day}).code ==
                0);
    int ran = 0;
    for (const cli::VerbInfo& verb : cli::verbs()) {
        for (const std::string_view said : verb.examples) {
            const std::string example(said);
            if (opens_the_window(example)) continue;
            works(folder, example);
            ++ran;
        }
    }
    CHECK(ran > 20);
}

TEST_CASE("readings that were written are not asked for again") {
    const Workbench folder;
    const std::string file = folder / "readings.toml";
    const door::Said written = run({"cut", "--check", "jaws", "-o", file});
    CHECK(has(last_line(written.out), "The readings are in " + file + ": offsquare diagnose weighs them."));
    CHECK(has(content(file), "[[check]]"));
    CHECK(has(last_line(run({"cut", "--check", "jaws"}).out), "-o readings.toml, then offsquare diagnose"));
}
