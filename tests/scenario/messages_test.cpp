// What the program says about a bad file: where, what was found, what is allowed, an example. Line and column are
// counted by the test itself.
#include <doctest/doctest.h>

#include "scenario/same.h"
#include "scenario/scenario.h"

using namespace offsquare;
using namespace offsquare::testing;

namespace {

/// A file of one section; the value under test stands where '@' is, whose place is what the message must name.
struct Case {
    std::string text;
    std::vector<std::string> said;
};

std::string place_of(const std::string& text, char mark) {
    const std::size_t at = text.find(mark);
    const auto line = std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n') + 1;
    const std::size_t start = at == 0 ? 0 : text.rfind('\n', at - 1) + 1;
    return std::to_string(line) + ":" + std::to_string(at - start + 1);
}

void check_message(const Case& c) {
    CAPTURE(c.text);
    const std::string place = place_of(c.text, '@');
    const auto parsed = scenario::parse(replaced(c.text, "@", ""), "f.toml");
    REQUIRE_FALSE(parsed.has_value());
    const std::string& message = parsed.error().message;
    CAPTURE(message);
    CHECK(parsed.error().grade == base::Grade::bad_data);
    CHECK(message.starts_with("f.toml:" + place + ": "));
    CHECK(has(message, "xample: "));
    CHECK_FALSE(has(message, "\n"));
    for (const std::string& part : c.said) CHECK_MESSAGE(has(message, part), part);
}

const std::string head = "format = 1\ntitle = \"t\"\n";

}  // namespace

TEST_CASE("single values: place, finding, range and example") {
    const std::vector<Case> cases = {
        {head + "[fence]\nlength = @49.9\n",
         {"fence.length", "49.9", "out of range", "from 50 mm to 5000 mm", "length = \"560 mm\""}},
        {head + "[fence]\nlength = @\"abc\"\n", {"fence.length", "\"abc\"", "not a length", "from 50 mm to 5000 mm"}},
        {head + "[fence]\n  length =   @true\n", {"fence.length", "true", "50 mm"}},
        {head + "[fence]\nlength = @inf\n", {"fence.length", "inf"}},
        {head + "[fence]\nlength = @nan\n", {"fence.length", "nan"}},
        {head + "[fence]\nlength = @1e300\n", {"fence.length", "1e+300"}},
        {head + "[fence]\nlength = @9223372036854775807\n", {"fence.length", "9223372036854775807"}},
        {head + "[fence]\nlength = @1979-05-27\n", {"fence.length", "date"}},
        {head + "[fence]\nlength = @[1, 2]\n", {"fence.length", "a list of 2"}},
        {head + "[blade]\nkerf = @-3.2\n", {"blade.kerf", "-3.2", "from 0.5 mm to 20 mm"}},
        {head + "[slots]\nleft = @140\n", {"slots.left", "to -1 mm"}},
        {head + "[slots]\nright = @0\n", {"slots.right", "from 1 mm"}},
        {head + "[board]\nfirst_edge = @101\n",
         {"board.first_edge", "from -100 mm in 1 m to 100 mm in 1 m", "bare number is in mrad"}},
        {head + "[board]\nkept = @\"up\"\n", {"board.kept", "\"up\"", "left or right", "kept = \"left\""}},
        {head + "[caliper]\nrepeat_readings = @2.5\n", {"caliper.repeat_readings", "whole number", "0 to 1000"}},
        {head + "[caliper]\nrepeat_readings = @1\n",
         {"caliper.repeat_readings", "caliper.repeatability", "at least 2"}},
        {head + "[caliper]\nname = @\"\"\n", {"caliper.name", "too short", "1 to 64"}},
        {head + "[caliper]\nname = @\"a\\u0000b\"\n", {"caliper.name", "control character"}},
        {head + "[caliper]\nname = @\"two\\nlines\"\n", {"caliper.name", "control character"}},
        {head + "[tolerance]\ncorner = @0\n", {"tolerance.corner", "from 0.001 mm in 1 m to 20 mm in 1 m"}},
        {head + "[faults]\nfence_skew = @\"2 deg\"\n",
         {"faults.fence_skew", "\"2 deg\"", "-20 mm in 1 m to 20 mm in 1 m"}},
        {head + "[faults]\nleft_play = @-0.1\n", {"faults.left_play", "from 0 mm to 2 mm"}},
        {"format = 1\ntitle = @5\n", {"title", "5", "quotes", "1 to 200"}},
        {"format = 1\nseed = @-1\n", {"seed", "-1", "18446744073709551615"}},
        {"format = 1\nunits = @\"cubits\"\n", {"units", "\"cubits\"", "metric or imperial"}},
        {"format = @2\n", {"format", "2", "Allowed: 1", "format = 1"}},
        {"@title = \"no format\"\n", {"format", "Allowed: 1", "format = 1"}},
    };
    for (const Case& c : cases) check_message(c);
}

TEST_CASE("an imperial file is told its ranges in inches") {
    check_message({"format = 1\nunits = \"imperial\"\n[fence]\nlength = @1\n",
                   {"fence.length", "from 1.969 in to 196.9 in", "bare number is in inches"}});
}

TEST_CASE("profiles: pairs by increasing place") {
    const std::vector<Case> cases = {
        {head + "[faults]\nfence_profile = @3\n",
         {"faults.fence_profile", "not a list of pairs", "[[-200, 0], [0, 0.1], [200, 0]]"}},
        {head + "[faults]\nfence_profile = @[[0, 0], [0, 1]]\n",
         {"faults.fence_profile", "point 2", "increasing place"}},
        {head + "[faults]\nfence_profile = @[[0, 0], [-1, 1]]\n", {"faults.fence_profile", "point 2"}},
        {head + "[faults]\nfence_profile = @[[0, 0, 0]]\n", {"faults.fence_profile", "a list of 3", "pair"}},
        {head + "[faults]\nfence_profile = @[1, 2]\n", {"faults.fence_profile", "pair"}},
        {head + "[faults]\nfence_profile = @[[0, 5.1]]\n", {"faults.fence_profile", "5.1", "from -5 mm to 5 mm"}},
        {head + "[faults]\nfence_profile = @[[5001, 0]]\n",
         {"faults.fence_profile", "5001", "from -5000 mm to 5000 mm"}},
    };
    for (const Case& c : cases) check_message(c);
}

TEST_CASE("sections and rows of the wrong shape") {
    const std::vector<Case> cases = {
        {head + "fence = @3\n", {"fence", "3", "a section", "[fence]"}},
        {head + "fence = @[1, 2]\n", {"fence", "a list of 2", "[fence]"}},
        {head + "drawer = @\"brass\"\n", {"drawer", "\"brass\"", "[[drawer]]"}},
        {head + "drawer = @[1, 2]\n", {"drawer", "a list of 2", "[[drawer]]"}},
        {"format = 1\n@[title]\nx = 1\n", {"title", "a section", "quotes"}},
    };
    for (const Case& c : cases) check_message(c);
    for (const std::string word : {"name", "thickness"}) {
        const std::string other = word == "name" ? "thickness = 0.1\n" : "name = \"brass\"\n";
        check_message({head + "[[drawer]]\nname = \"a\"\nthickness = 1\n@[[drawer]]\n" + other,
                       {"drawer.1." + word, "found none"}});
    }
}

TEST_CASE("rules between two values name both keys, their values and an example") {
    const std::vector<Case> cases = {
        {head + "[fence]\nshim_left = @100\nshim_right = 100\n",
         {"fence.shim_left (100 mm)", "less than", "fence.shim_right (100 mm)"}},
        {head + "[fence]\nshim_left = @-281\n", {"fence.shim_left (-281 mm)", "fence.length (560 mm)"}},
        {head + "[fence]\nshim_right = @280.5\n", {"fence.shim_right (280.5 mm)", "fence.length (560 mm)"}},
        {head + "[fence]\nlength = @621\n", {"fence.length (621 mm)", "sled.width (620 mm)"}},
        {head + "[fence]\nthickness = @61\n", {"fence.thickness (61 mm)", "sled.fence_from_rear (60 mm)"}},
        {head + "[blade]\nheight = @125\n", {"blade.height (125 mm)", "half", "blade.diameter (250 mm)"}},
        {head + "[slots]\nleft = @-341\n", {"slots.left (-341 mm)", "table.width (700 mm)"}},
        {head + "[slots]\nright = @341\n", {"slots.right (341 mm)", "table.width (700 mm)"}},
        {head + "[slots]\nleft = @-12\n", {"slots.left (-12 mm)", "slots.width (19 mm)"}},
        {head + "[slots]\nright = @12\n", {"slots.right (12 mm)", "slots.width (19 mm)"}},
        {head + "[sled]\nrunner_length = @421\n", {"sled.runner_length (421 mm)", "sled.depth (420 mm)"}},
        {head + "[sled]\nfence_from_rear = @420\n", {"sled.fence_from_rear (420 mm)", "sled.depth (420 mm)"}},
        {head + "[board]\nwidth = @621\n", {"board.width (621 mm)", "sled.width (620 mm)"}},
        {head + "[board]\nlength = @621\n", {"board.length (621 mm)", "turned", "sled.width (620 mm)"}},
        // two trims of 8, three kerfs of 3.2 and a strip of 12 make 37.6 mm
        {head + "[board]\nwidth = @37.5\n", {"board.width (37.5 mm)", "board.strip (12 mm)"}},
        // two trims of 8 and two kerfs of 3.2 make 22.4 mm
        {head + "[board]\nlength = @22.3\n", {"board.length (22.3 mm)", "board.trim (8 mm)"}},
        {head + "[[drawer]]\nname = \"a\"\nthickness = 1\ncount = 20\n[[drawer]]\nname = \"b\"\nthickness = 1\ncount = "
                "@1\n",
         {"drawer.1.count (1)", "more than 20 pieces"}},
    };
    for (const Case& c : cases) check_message(c);
}

TEST_CASE("just inside each rule is allowed") {
    const std::vector<std::string> good = {
        "[fence]\nshim_left = 99.9\nshim_right = 100\n",
        "[fence]\nshim_left = -280\nshim_right = 280\n",
        "[blade]\nheight = 124.9\n",
        "[slots]\nleft = -340\nright = 340\n",
        "[sled]\nrunner_length = 420\n",
        "[board]\nwidth = 37.7\n",
        "[board]\nlength = 22.5\n",
        "[board]\nwidth = 620\nlength = 620\n",
        "[fence]\nlength = 620\nthickness = 60\n",
        "[blade]\nheight = 0\n",
        "[[drawer]]\nname = \"a\"\nthickness = 1\ncount = 20\n",
        "drawer = []\n",
    };
    for (const std::string& text : good) {
        CAPTURE(text);
        const auto parsed = scenario::parse(head + text, "f.toml");
        CHECK_MESSAGE(parsed.has_value(), (parsed ? "" : parsed.error().message));
    }
}

TEST_CASE("keys that are not known are left out with a word, once each, and the nearest name") {
    const std::string text = head +
                             "colour = 1\n[fence]\nshim_lft = -200\nlenght = 500\n[fense]\na = 1\nb = "
                             "2\n[faults]\nfence_skwe = 1\n\"fence.length\" = 3\n";
    const auto parsed = scenario::parse(text, "f.toml");
    REQUIRE(parsed.has_value());
    const auto& w = parsed->warnings;
    REQUIRE(w.size() == 6);
    CHECK(has(w[0], "f.toml:3:1: colour is not known"));
    CHECK(has(w[1], "f.toml:5:1: fence.shim_lft is not known"));
    CHECK(has(w[1], "did you mean fence.shim_left?"));
    CHECK(has(w[2], "did you mean fence.length?"));
    CHECK(has(w[3], "f.toml:7:"));
    CHECK(has(w[3], "did you mean [fence]?"));
    CHECK(has(w[4], "did you mean faults.fence_skew?"));
    CHECK(has(w[5], "f.toml:12:1"));
    CHECK(parsed->scenario.drawing.fence.length_mm == 560.0);
}

TEST_CASE("a file of something else gets a few warnings, not thousands") {
    std::string text = "format = 1\n";
    for (int i = 0; i < 500; ++i) text += "key" + std::to_string(i) + " = 1\n";
    const auto parsed = scenario::parse(text, "f.toml");
    REQUIRE(parsed.has_value());
    REQUIRE(parsed->warnings.size() == 21);
    CHECK(has(parsed->warnings.back(), "480 more"));
}

TEST_CASE("what the format itself refuses is placed and explained, too") {
    const std::vector<Case> cases = {
        {head + "[fence\nlength = 1\n@", {}},
        {head + "title = @\"twice\"\n", {}},
        {head + "x = @\n", {}},
        {head + "[fence]\nlength = @1 2\n", {}},
    };
    for (const Case& c : cases) {
        const auto parsed = scenario::parse(replaced(c.text, "@", ""), "f.toml");
        REQUIRE_FALSE(parsed.has_value());
        CHECK(parsed.error().grade == base::Grade::bad_data);
        CHECK(has(parsed.error().message, "cannot be read"));
        CHECK(has(parsed.error().message, "f.toml:"));
        CHECK(has(parsed.error().message, "Allowed: one `key = value` on a line"));
        CHECK(has(parsed.error().message, "Example: shim_left = -250"));
    }
}
