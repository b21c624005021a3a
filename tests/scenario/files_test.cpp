// The files that come with the program: they load, they say what they mean, and another library reads the same values
// from them.
#include <doctest/doctest.h>
#include <toml.hpp>  // toml11, which is not the library that the program uses

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "scenario/raw.h"
#include "scenario/same.h"
#include "scenario/scenario.h"
#include "shop/truth.h"

using namespace offsquare;
using namespace offsquare::testing;

namespace {

std::vector<std::string> scenario_files() {
    std::vector<std::string> files;
    for (const auto& f : std::filesystem::directory_iterator(OFFSQUARE_SOURCE_DIR "/scenarios"))
        files.push_back(f.path().string());
    std::sort(files.begin(), files.end());
    return files;
}

std::string content(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

/// What toml11 found, in the shape of the room's own raw values.
struct Other {
    std::string key;
    std::string text;  ///< numbers as doubles in the shortest form, text as it is
};

std::string shortest(double v) {
    std::ostringstream out;
    out.precision(17);
    out << v;
    return out.str();
}

void take(const toml::value& v, const std::string& key, std::vector<Other>& out) {
    if (v.is_table()) {
        for (const auto& [k, inner] : v.as_table()) take(inner, key.empty() ? k : key + "." + k, out);
    } else if (v.is_array()) {
        std::size_t i = 0;
        for (const auto& inner : v.as_array()) take(inner, key + "." + std::to_string(i++), out);
    } else if (v.is_string()) {
        out.push_back({key, v.as_string().str});
    } else {
        out.push_back({key, shortest(v.is_integer() ? static_cast<double>(v.as_integer()) : v.as_floating())});
    }
}

void take(const scenario::Raw& raw, const std::string& key, std::vector<Other>& out) {
    using Type = scenario::Raw::Type;
    for (std::size_t i = 0; i < raw.list.size(); ++i) take(raw.list[i], key + "." + std::to_string(i), out);
    if (raw.type == Type::text) out.push_back({key, raw.text});
    if (raw.type == Type::number) out.push_back({key, shortest(std::stod(raw.text))});
}

bool by_key(const Other& a, const Other& b) { return a.key < b.key; }

/// Both readers on one text: the same keys with the same values.
void check_both_agree(const std::string& text) {
    const auto items = scenario::take_apart(text);
    REQUIRE_MESSAGE(items.has_value(), (items ? "" : items.error().message));
    std::vector<Other> ours;
    for (const scenario::Item& i : *items) take(i.raw, i.key, ours);
    std::istringstream in(text);
    std::vector<Other> theirs;
    take(toml::parse(in, "text"), "", theirs);
    std::sort(ours.begin(), ours.end(), by_key);
    std::sort(theirs.begin(), theirs.end(), by_key);
    REQUIRE(ours.size() == theirs.size());
    for (std::size_t i = 0; i < ours.size(); ++i) {
        CHECK(ours[i].key == theirs[i].key);
        CHECK(ours[i].text == theirs[i].text);
    }
}

}  // namespace

TEST_CASE("there are the scenarios that the README promises, metric and imperial") {
    const auto files = scenario_files();
    CHECK(files.size() >= 4);
    int imperial = 0;
    for (const std::string& f : files) {
        const auto loaded = scenario::load(f);
        REQUIRE_MESSAGE(loaded.has_value(), (loaded ? "" : loaded.error().message));
        imperial += loaded->scenario.units == base::Units::imperial ? 1 : 0;
    }
    CHECK(imperial >= 1);
    CHECK(imperial < static_cast<int>(files.size()));
}

TEST_CASE(
    "every scenario file loads without a warning, has a title, a story and a drawer, and survives being written") {
    for (const std::string& f : scenario_files()) {
        CAPTURE(f);
        const auto loaded = scenario::load(f);
        REQUIRE(loaded.has_value());
        CHECK(loaded->warnings.empty());
        CHECK_FALSE(loaded->scenario.title.empty());
        CHECK(loaded->scenario.story.size() > 40);
        CHECK_FALSE(loaded->scenario.drawing.drawer.empty());
        const auto again = scenario::parse(scenario::to_text(loaded->scenario), "again");
        REQUIRE_MESSAGE(again.has_value(), (again ? "" : again.error().message));
        CHECK(again->warnings.empty());
        CHECK(same(again->scenario, loaded->scenario));
    }
}

TEST_CASE("titles differ, so that a list of scenarios can be told apart") {
    std::vector<std::string> titles;
    for (const std::string& f : scenario_files()) titles.push_back(scenario::load(f)->scenario.title);
    std::sort(titles.begin(), titles.end());
    CHECK(std::adjacent_find(titles.begin(), titles.end()) == titles.end());
}

TEST_CASE("the built-in scenario is the teaching saw, byte by byte") {
    const std::string path = OFFSQUARE_SOURCE_DIR "/scenarios/teaching-saw.toml";
    CHECK(std::string(scenario::built_in_text()) == content(path));
    CHECK(same(scenario::built_in(), scenario::load(path)->scenario));
}

TEST_CASE("values of the inch shop, turned into millimetres by hand") {
    const auto loaded = scenario::load(OFFSQUARE_SOURCE_DIR "/scenarios/inch-shop-sled.toml");
    REQUIRE(loaded.has_value());
    const auto& d = loaded->scenario.drawing;
    CHECK(d.table.width_mm == doctest::Approx(28 * 25.4).epsilon(1e-15));
    CHECK(d.blade.height_mm == doctest::Approx(60.325).epsilon(1e-15));  // 2 3/8 in = 2.375 in
    CHECK(d.slots.left_x_mm == doctest::Approx(-139.7).epsilon(1e-15));  // -(5 1/2) in, not -5 + 1/2
    CHECK(d.fence.span_mm() == doctest::Approx(571.5).epsilon(1e-15));   // 22 1/2 in
    CHECK(d.drawer.at(0).thickness_mm == doctest::Approx(0.0508).epsilon(1e-15));
    CHECK(d.caliper.repeat_mm == doctest::Approx(0.01016).epsilon(1e-15));  // 0.0004 in
    // 0.005 in over 12 in: the angle is its ratio less a third of its cube, 2.4e-11 of 4.2e-4.
    CHECK(loaded->scenario.truth->fence_skew_rad == doctest::Approx(-0.005 / 12.0).epsilon(1e-7));
}

TEST_CASE("a second library reads the same values from every scenario file") {
    for (const std::string& f : scenario_files()) {
        CAPTURE(f);
        check_both_agree(content(f));
    }
}

TEST_CASE("a second library reads the same values from what the program writes") {
    scenario::Scenario s = scenario::built_in();
    s.title = "quotes \" and \\ and \xe2\x80\xb3";
    s.story = "two\nlines\tand a tab";
    s.drawing.board.trim_mm = 1e-7;
    s.truth->fence_profile = base::Profile({{-100.5, 0.0}, {0.1, 0.3}, {1.0 / 3.0, -0.07}});
    check_both_agree(scenario::to_text(s));
}

TEST_CASE("corners of the format that both libraries know") {
    check_both_agree("a = +1_000\nb = 0x1F\nc = 0o17\nd = 0b101\ne = 1e3\nf = -0.5E-2\n");
    check_both_agree("a.b.c = 1\n'lit # no comment' = 2 # comment\n[x.y]\nz = '''\nlong\n'' text'''\n");
    check_both_agree(
        "s = \"\"\"\nfirst \\\n   second\"\"\"\nt = \"\"\"two quotes at the end\"\"\"\"\"\nu = \"\\u00e9 \\\"\"\r\nv = "
        "[1, [2, 3.5], \"x\"]\n");
}
