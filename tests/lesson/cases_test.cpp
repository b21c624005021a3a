// The cases: all that ship are there, each known by its owner's sentence, and nothing that names one tells what is
// wrong with it.
#include <doctest/doctest.h>

#include <filesystem>
#include <set>

#include "lesson/cases.h"
#include "shop/fault.h"

using namespace offsquare;

namespace {

std::string lower(std::string text) {
    for (char& c : text)
        c = c == '-' || c == '_' ? ' ' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return text;
}

/// Words of a cause: no symptom is told by them, so that no case is named by them. (Of our own choosing.)
constexpr const char* causes[] = {"skew", "bow",  "dust", "sawdust", "play", "loose",        "splay",      "pitch",
                                  "toe",  "tilt", "wax",  "creep",   "bent", "crooked slot", "short guide"};

}  // namespace

TEST_CASE("every scenario that ships is a case with a sentence, a name and a cost of its own") {
    std::set<std::string> files, names, sentences;
    for (const auto& file : std::filesystem::directory_iterator(OFFSQUARE_SOURCE_DIR "/scenarios"))
        files.insert(file.path().stem().string());
    for (const lesson::Case& c : lesson::cases()) {
        CAPTURE(c.name);
        names.insert(c.name);
        sentences.insert(c.scenario.complaint);
        CHECK(c.scenario.budget.minutes > 0.0);
        CHECK(lesson::find_case(c.name) == &c);
        CHECK(lesson::case_of(c.scenario) == &c);
        // As the file has it.
        const auto loaded = scenario::load(std::string(OFFSQUARE_SOURCE_DIR) + "/scenarios/" + c.name + ".toml");
        REQUIRE(loaded);
        CHECK(loaded->scenario.complaint == c.scenario.complaint);
        CHECK(loaded->scenario.seed == c.scenario.seed);
        CHECK(scenario::to_text(loaded->scenario) == scenario::to_text(c.scenario));
    }
    CHECK(names == files);
    CHECK(sentences.size() == names.size());
}

TEST_CASE("the cheaper case comes first") {
    const auto all = lesson::cases();
    for (std::size_t i = 1; i < all.size(); ++i) {
        const scenario::Budget& a = all[i - 1].scenario.budget;
        const scenario::Budget& b = all[i].scenario.budget;
        CHECK((a.minutes < b.minutes || (a.minutes == b.minutes && a.board_mm <= b.board_mm)));
    }
}

TEST_CASE("neither name nor title nor sentence of a case tells the fault") {
    for (const lesson::Case& c : lesson::cases()) {
        for (const std::string& words : {c.name, c.scenario.title, c.scenario.complaint}) {
            CAPTURE(words);
            for (const shop::FaultInfo& f : shop::faults()) {
                CHECK(lower(words).find(lower(std::string(f.key))) == std::string::npos);
                CHECK(lower(words).find(lower(std::string(f.name))) == std::string::npos);
            }
            for (const char* cause : causes) CHECK(lower(words).find(cause) == std::string::npos);
        }
    }
}

TEST_CASE("no case is told by a saw that has none, nor by a name that is none") {
    scenario::Scenario other;
    CHECK(lesson::case_of(other) == nullptr);
    CHECK(lesson::find_case("") == nullptr);
    CHECK(lesson::find_case("two-boards.toml") == nullptr);
    // What was changed in it does not make it another case.
    const auto changed = scenario::with(lesson::find_case("two-boards")->scenario, {{"board.width", "200 mm"}});
    REQUIRE(changed);
    CHECK(lesson::case_of(*changed)->name == "two-boards");
}

TEST_CASE("what a case may cost, in words") {
    CHECK(lesson::cost_words({45.0, 200.0}, base::Units::metric) == "45 min, 200 mm");
    CHECK(lesson::cost_words({45.0, 200.0}, base::Units::imperial) == "45 min, 7 7/8 in");  // 200/25.4 = 7.874
    CHECK(lesson::cost_words({30.0, 0.0}, base::Units::metric) == "30 min");
    CHECK(lesson::cost_words({0.0, 100.0}, base::Units::metric) == "100 mm");
    CHECK(lesson::cost_words({}, base::Units::metric).empty());
}
