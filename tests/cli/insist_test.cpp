// Slips of typing at the command line: asked about where somebody sits there, refused in a pipe, done when it is meant.
#include <doctest/doctest.h>

#include <sstream>

#include "repeats.h"
#include "cli/arguments.h"
#include "cli/door.h"
#include "cli/insist.h"
#include "cli/verbs.h"

namespace insist_test {  // the tests of a room are compiled as one heap, where names would meet

namespace cli = offsquare::cli;
using door::has;
using door::run;

namespace {

using Words = std::vector<std::string>;

Words shim(const std::string& fence_end, const std::string& far_end, const std::string& length,
           const std::string& span = "500mm") {
    return {"shim", "--fence-end", fence_end, "--far-end", far_end, "--length", length, "--span", span};
}

/// As if a person sat at a terminal and typed this.
struct Talk {
    std::string asked;
    offsquare::base::Result<cli::Answer> answer;
};
Talk talk(const Words& words, const std::string& typed) {
    const cli::VerbInfo& verb = *cli::find_verb(words.front());
    const auto arguments = cli::arguments_of(verb, Words(words.begin() + 1, words.end()));
    REQUIRE(arguments);
    std::istringstream in(typed);
    std::ostringstream ask;
    auto answer = verb.answer(*arguments, cli::Door{in, {}, &ask});
    return {ask.str(), std::move(answer)};
}

/// Refused in a pipe with these words and what to write; asked about at a terminal; done when it is insisted on.
void is_a_slip(const Words& words, const std::string& part) {
    const door::Said piped = run(words);
    CAPTURE(piped.err);
    CHECK(piped.code == 65);
    CHECK(piped.out.empty());
    CHECK(has(piped.err, part));
    CHECK(has(piped.err, "add --insist"));
    const Talk no = talk(words, "\n");
    CHECK(has(no.asked, "Is that meant? [y/N]"));
    REQUIRE_FALSE(no.answer);
    CHECK(static_cast<int>(no.answer.error().grade) == 65);
    CHECK(talk(words, "y\n").answer);
    Words meant = words;
    meant.push_back("--insist");
    CHECK(run(meant).code == 0);
    CHECK(talk(meant, "").asked.empty());
}

}  // namespace

TEST_CASE("shim: sound readings are not asked about") {
    for (const Words& words :
         {shim("12.62", "12.00", "300", "500"), shim("0.485in", "0.461in", "17.75in", "26.5in"),
          shim("12.34", "12.10", "305", "20in"), shim("12.34", "12.10", "1ft", "500"), shim("3.1", "0.9", "450"),
          shim("38", "37.2", "900", "1200"), shim("1/2in", "31/64in", "12in", "20in")}) {
        CAPTURE(words);
        CHECK(run(words).code == 0);
        CHECK(talk(words, "").asked.empty());
    }
}

TEST_CASE("shim: each slip is a question, and names what would fit") {
    is_a_slip(shim("12.62", "1.200", "300"), "12.000 mm (a decimal place)");
    // The one that no strip is like; it can be no strip even for who insists.
    CHECK(run(shim("126.2", "12.00", "300")).err.find("--fence-end: 126.200 mm, and --far-end 12.000 mm") !=
          std::string::npos);
    is_a_slip(shim("12.62", "12.00", "30.0"), "300.000 mm (a decimal place)");
    is_a_slip(shim("12.62", "12.00", "3000"), "300.000 mm (a decimal place)");
    is_a_slip(shim("12.62", "12.00", "300", "5000"), "500.000 mm (a decimal place)");
    is_a_slip(shim("12.62", "12.00", "300", "50"), "500.000 mm (a decimal place)");
    // Bare widths beside a length in inches, which would make the shim 26 times too thin.
    is_a_slip(shim("0.485", "0.461", "17.75in", "26.5in"), "--fence-end has no unit");
    is_a_slip(shim("0.485", "0.461", "17.75in", "26.5in"), "--units inch");
    is_a_slip(shim("0.485in", "0.461in", "17.75", "26.5in"), "--length has no unit");
    is_a_slip(shim("0.485", "0.461", "450"), "12.319 mm (inches)");
    // 24 mm of taper over 300: 20 mrad, as far as a fence is modelled.
    is_a_slip(shim("40", "14", "300"), "so far off square");
    CHECK(run(shim("126.2", "12.00", "300")).code == 65);  // and too steep for the formula, if it is meant
    CHECK(run(shim("-12.62", "12.00", "300")).code == 2);  // no width at all
}

TEST_CASE("shim: what a bare number counts in is not asked about once it is said") {
    Words words = shim("0.485", "0.461", "17.75in", "26.5in");
    words.insert(words.end(), {"--units", "inch"});
    CHECK(run(words).code == 0);
}

TEST_CASE("shim: without an instrument it is a common caliper, and the answer says so; and which end is which") {
    const door::Said said = run(shim("12.62", "12.00", "300"));
    std::string flat = said.out;
    std::replace(flat.begin(), flat.end(), '\n', ' ');
    CHECK(has(flat,
              "common caliper (0.010 mm steps, limits of error 0.020 mm; DIN 862, from memory; a quarter of them does "
              "not cancel "
              "between two ends)"));
    CHECK(has(flat, "the fence end is the one that lay at the fence during the fifth cut"));
    Words as_json = shim("12.62", "12.00", "300");
    as_json.push_back("--json");
    const door::Json json = door::json(as_json);
    // A quarter of the limits of 0.02 mm as a rectangle, 0.005/sqrt(3); a step of 0.01, 0.01/sqrt(12); a scatter of
    // 0.01: in squares 8.33e-6 + 8.33e-6 + 1e-4, its root 0.010801 mm (JCGM 100, 4.3.7 and F.2.2.1).
    CHECK(std::abs(json["u_widths_mm"][0].get<double>() - 0.0108012) < 1e-6);
    CHECK(has(json["u_widths_from"].get<std::string>(), "DIN 862"));
    // Typed to a tenth, the tenth counts: 8.33e-6 + 0.01/12 + 1e-4 = 9.4167e-4, 0.030687 mm. The scatter averages out
    // nothing of a step that is coarser.
    Words coarse = shim("12.6", "12.0", "300");
    coarse.push_back("--json");
    CHECK(std::abs(door::json(coarse)["u_widths_mm"][0].get<double>() - 0.0306866) < 1e-6);
}

namespace {

std::string readings() { return run({"cut", "built-in", "--check", "five-cut", "-o", "-"}).out; }

/// With the value of one reading changed.
std::string with(std::string text, const std::string& reading, const std::string& value) {
    const std::size_t at = text.find("\n" + reading + " = [\"");
    REQUIRE(at != std::string::npos);
    const std::size_t from = at + reading.size() + 6;
    text.replace(from, text.find('"', from) - from, value);
    return text;
}

void diagnose_refuses(const std::string& text, const std::string& part) {
    const door::Said said = run({"diagnose", "-"}, text);
    CAPTURE(said.err);
    CHECK(said.code == 65);
    CHECK(has(said.err, part));
    CHECK(has(said.err, "add --insist"));
    CHECK(run({"diagnose", "-", "--insist"}, text).code == 0);
}

}  // namespace

TEST_CASE("diagnose: the same slips in a file" * doctest::skip(repeats::sanitized)) {
    const std::string sound = readings();
    CHECK(run({"diagnose", "-"}, sound).code == 0);
    diagnose_refuses(with(sound, "far_end", "1.2 mm"), "12.000 mm (a decimal place)");
    diagnose_refuses(with(sound, "length", "3.2 m"), "320.000 mm (a decimal place)");
    diagnose_refuses(with(sound, "length", "400 mm"), "the board on the drawing is");
    diagnose_refuses(with(sound, "fence_end", "-12.6 mm"), "is not a size");
    diagnose_refuses(with(with(sound, "fence_end", "0.49 mm"), "far_end", "0.48 mm"), "12.446 mm (inches)");
    const std::string two = run({"cut", "built-in", "--check", "long-and-short", "-o", "-"}).out;
    diagnose_refuses(two + two.substr(two.find("\n[[check]]")), "is it there twice?");
}

TEST_CASE("diagnose: a file that names no instrument is told which one stands in") {
    const std::string text =
        "format = 1\nunits = \"metric\"\n[[check]]\nname = \"five-cut\"\nfence_end = 12.6\n"
        "far_end = 12.0\nlength = 300\n";
    std::string said = run({"diagnose", "-"}, text).out;
    std::replace(said.begin(), said.end(), '\n', ' ');
    CHECK(has(said, "they count as read with a common caliper"));
    CHECK_FALSE(has(run({"diagnose", "-"}, readings()).out, "common caliper"));
}

}  // namespace insist_test
