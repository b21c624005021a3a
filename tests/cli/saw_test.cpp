// offsquare saw: the log as text. Its numbers are those of shim and diagnose, to the last digit; nothing is lost.
#include <fmt/format.h>

#include <cstdlib>
#include <random>

#include "base/scratch.h"
#include "cli/arguments.h"
#include "cli/verb.h"
#include "cli/verbs.h"
#include "door.h"
#include "home.h"
#include "repeats.h"

namespace saw_test {

using door::Home;

namespace cli = offsquare::cli;
using door::has;
using door::json;
using door::run;

namespace {

using Words = std::vector<std::string>;
Words saw(Words more) {
    Words words{"saw", "blue sled"};
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

Words strip(const std::string& fence_end, const std::string& far_end, const std::string& length = "305mm",
            const std::string& span = "500mm") {
    return {"--read", "fence-end=" + fence_end, "--read", "far-end=" + far_end,
            "--read", "length=" + length,       "--read", "span=" + span};
}

Words operator+(Words a, const Words& b) {
    a.insert(a.end(), b.begin(), b.end());
    return a;
}

}  // namespace

TEST_CASE("my saw against shim and diagnose: the same numbers to the last digit, on random strips" *
          doctest::skip(repeats::sanitized)) {
    std::mt19937_64 random(12);
    const auto between = [&](double lo, double hi) { return std::uniform_real_distribution<double>(lo, hi)(random); };
    for (int i = 0; i < repeats::of(11, 2); ++i) {
        const Home home;
        const bool inches = i % 3 == 1;
        const std::string side = i % 4 == 2 ? "left" : "right";
        const double far = between(4.0, 30.0);
        const double length = between(200.0, 600.0);
        const double fence = far + 4.0 * length * between(-1.5e-3, 1.5e-3);
        const auto width = [&](double mm) {
            return inches ? fmt::format("{:.4f}in", mm / 25.4) : fmt::format("{:.2f}mm", mm);
        };
        const auto size = [&](double mm) {
            return inches ? fmt::format("{:.2f}in", mm / 25.4) : fmt::format("{:.0f}mm", mm);
        };
        const Words typed{width(fence), width(far), size(length), size(length * between(1.1, 1.9))};
        CAPTURE(typed);
        REQUIRE(run(saw({"--new"})).code == 0);
        const door::Json mine =
            json(saw(strip(typed[0], typed[1], typed[2], typed[3]) + Words{"--side", side, "--insist", "--json"}));
        const door::Json shim = json({"shim", "--fence-end", typed[0], "--far-end", typed[1], "--length", typed[2],
                                      "--span", typed[3], "--side", side, "--insist", "--json"});
        for (const char* key :
             {"fence_skew_rad", "shim_mm", "at", "u_shim_mm", "coverage95_mm", "u_skew_rad", "why", "u_widths_mm"}) {
            CAPTURE(key);
            CHECK(mine["newest"][key].dump() == shim[key].dump());
        }
        if (i % 5 != 0) continue;  // a weighing takes a third of a second
        run(saw({"--read", "straightedge-on-fence.bow=0.1mm", "--shim", "left=0.15mm", "--insist"}));
        const std::string file = home.folder / "readings.toml";
        REQUIRE(run(saw({"--export", file})).code == 0);
        const door::Json diagnosis = json({"diagnose", file, "--insist", "--json"});
        const door::Json both = json(saw({"--json"}));
        for (const std::string& key : door::keys_of(both["diagnosis"])) {
            CAPTURE(key);
            CHECK(both["diagnosis"][key].dump() == diagnosis[key].dump());
        }
        CHECK(both["diagnosis"].size() == 5);
    }
}

TEST_CASE("a log: written, corrected with the old entry kept, withdrawn, exported, deleted" *
          doctest::skip(repeats::sanitized)) {
    const Home home;
    CHECK(has(run({"saw"}).out, "No sled"));
    const door::Said none = run(saw({}));
    CHECK(none.code == 66);
    CHECK(has(none.err, "--new"));
    REQUIRE(
        run(saw({"--new", "--saw", "cabinet saw", "--drawer", "brass 0.1mm x4", "--drawer", "paper 0.05mm x2"})).code ==
        0);
    CHECK(run(saw({"--new"})).code == 2);
    const door::Said first = run(saw(strip("12.62", "12.02") + Words{"--date", "2026-03-03"}));
    CHECK(first.code == 0);
    CHECK(has(first.out, "Put 0.246 mm behind the left end"));
    CHECK(has(first.out, "brass 0.100 + brass 0.100 + paper 0.050 = 0.250"));
    CHECK(run(saw({"--shim", "left=0.1", "--shim", "left=0.1", "--shim", "left=0.05", "--date", "2026-03-03"})).code ==
          0);
    const door::Said second = run(saw(strip("12.11", "12.10") + Words{"--date", "2026-03-04"}));
    CHECK(has(second.out, "Square enough"));
    CHECK(has(second.out, "behind the left end 0.250 mm, since 3 March"));
    CHECK(run(saw({"--repair", "slots waxed", "--date", "2026-10-20"})).code == 0);
    CHECK(run(saw({"--note", "wrong note", "--date", "2026-10-21"})).code == 0);
    CHECK(run(saw({"--note", "right note", "--correct", "6"})).code == 0);
    CHECK(run(saw({"--withdraw", "7"})).code == 0);
    CHECK(run(saw({"--withdraw", "7"})).code == 2);
    const std::string log = run(saw({"--log"})).out;
    CHECK(has(log, "wrong note [no longer counts: see entry 7]"));
    CHECK(has(log, "slots waxed"));
    const door::Json all = json(saw({"--json"}));
    CHECK(all["entries"].size() == 8);
    CHECK(all["entries"][5]["counts"] == false);
    CHECK(all["entries"][6]["date"] == "2026-10-21");  // as the one that it corrects
    CHECK(all["curve"].size() == 4);
    CHECK(all["verdict"]["state"] == "pass");
    const std::string csv = home.folder / "log.csv";
    REQUIRE(run(saw({"--export", csv})).code == 0);
    CHECK(has(scratch::text_of(csv), "\r\n2,2026-03-03,"));
    const std::string pdf = home.folder / "log.pdf";
    REQUIRE(run(saw({"--export", pdf})).code == 0);
    CHECK(scratch::text_of(pdf).starts_with("%PDF"));
    CHECK(run(saw({"--export", home.folder / "log.doc"})).code == 2);
    const std::string like = home.folder / "like.toml";
    REQUIRE(run(saw({"--like-mine", like, "--seed", "3"})).code == 0);
    CHECK(run({"check", like}).code == 0);
    CHECK(run(saw({"--delete"})).code == 2);
    CHECK(run(saw({"--delete", "--insist"})).code == 0);
    CHECK(has(run({"saw"}).out, "No sled"));
}

TEST_CASE("a slip is refused where nobody can be asked, and not written" * doctest::skip(repeats::sanitized)) {
    const Home home;
    REQUIRE(run(saw({"--new"})).code == 0);
    REQUIRE(run(saw(strip("12.62", "12.02"))).code == 0);
    const door::Said slip = run(saw(strip("1.262", "12.02")));
    CHECK(slip.code == 65);
    CHECK(has(slip.err, "Was 12.62 mm meant?"));
    CHECK(has(slip.err, "--insist"));
    CHECK(json(saw({"--json"}))["entries"].size() == 1);
    CHECK(run(saw(strip("1.262", "12.02") + Words{"--insist"})).code == 0);
    CHECK(json(saw({"--json"}))["entries"].size() == 2);
    for (const Words& bad : {Words{"--read", "fence-end=12"}, Words{"--read", "fence-end"}, Words{"--read", "width=3"},
                             Words{"--read", "straightedge-on-fence.bow=x"}, Words{"--shim", "middle=0.1"},
                             Words{"--date", "03/04/2026", "--note", "x"}, Words{"--date", "2999-01-01", "--note", "x"},
                             Words{"--set", "faults.dust=1mm"}, Words{"--drawer", "brass"}, Words{"--correct", "1"}}) {
        CAPTURE(bad);
        CHECK(run(saw(bad)).code == 2);
    }
    CHECK(json(saw({"--json"}))["entries"].size() == 2);
}

TEST_CASE("the six steps print, in either unit") {
    CHECK(has(run({"saw", "--steps"}).out, "  6. "));
    CHECK(has(run({"saw", "--steps", "--units", "inch"}).out, " in"));
}

namespace {

struct Talked {
    int code = 0;
    std::string asked;
    std::string said;
};
/// As a person at a terminal: the lines are what is typed.
Talked talk(const std::string& lines) {
    const auto* verb = cli::find_verb("saw");
    const auto arguments = cli::arguments_of(*verb, {});
    std::istringstream in(lines);
    std::ostringstream ask;
    const auto answer = verb->answer(*arguments, cli::Door{in, cli::Ink{}, &ask});
    return {answer ? answer->code : static_cast<int>(answer.error().grade), ask.str(),
            answer ? answer->out : answer.error().message};
}

}  // namespace

TEST_CASE("question by question: a new sled, a strip with a slip that is put right, the answer, a shim, a note") {
    const Home home;
    const Talked t = talk(
        "the red sled\ny\nbench saw\nmm\n"
        "12.62\n12.61\n\n1.202\nn\n12.02\n\n305\nlong\n500\nright\ny\n"
        "\nleft 0.25\nfirst shim\n");
    CAPTURE(t.asked);
    CHECK(t.code == 0);
    CHECK(has(t.asked, "1.202 mm is too small"));
    CHECK(has(t.asked, "12.02 mm meant?"));
    CHECK(has(t.asked, "Put 0.24"));
    CHECK(has(t.asked, "long"));  // what cannot be read is said, and asked again
    const door::Json all = json({"saw", "the red sled", "--json"});
    REQUIRE(all["entries"].size() == 3);
    CHECK(all["saw"] == "bench saw");
    CHECK(all["behind_left_mm"] == 0.25);
    CHECK(all["entries"][2]["text"] == "first shim");
}

TEST_CASE("question by question: the drawer once, and after the walk to the saw it begins with the shim" *
          doctest::skip(repeats::sanitized)) {
    const Home home;
    const Talked first =
        talk("grey sled\ny\n\ncentimetres\nmm\n12.62\n\n12.02\n\n305\n500\nright\ny\nbrass 0.1mm x 4\nthin\n\n\n\n");
    CAPTURE(first.asked);
    CHECK(has(first.asked, "Please type mm or inches."));
    CHECK(has(first.asked, "has no thickness"));
    CHECK(has(first.asked, "From your drawer: brass 0.100"));
    const Talked second = talk("grey sled\nleft 0.2\n\n\n");
    CAPTURE(second.asked);
    CHECK(has(second.asked, "Put 0.24"));
    CHECK(!has(second.asked, "in your drawer, one kind"));
    const door::Json all = json({"saw", "grey sled", "--json"});
    CHECK(all["behind_left_mm"] == 0.2);
    CHECK(has(run({"saw", "grey sled", "--log"}).out, "4 of brass 0.100 mm"));
}

TEST_CASE("what is refused begins no log, and a word that is nearly a fault is asked about") {
    const Home home;
    CHECK(run({"saw", "x", "--new", "--drawer", "brass"}).code == 2);
    CHECK(has(run({"saw", "x"}).err, "no sled"));
    CHECK(run({"saw", "x", "--new"}).code == 0);
    CHECK(has(run({"saw", "x", "--repair", "fence-bowed"}).err, "was fence_bow meant?"));
    CHECK(run({"saw", "x", "--repair", "fence-bowed", "--insist"}).code == 0);
    CHECK(run({"saw", "x", "--repair", "waxed"}).code == 0);
    CHECK(run({"saw", "--export", "x.pdf"}).code == 2);
    REQUIRE(run({"saw", "i", "--new", "--units", "inch"}).code == 0);
    CHECK(has(run({"saw", "i", "--steps"}).out, " in"));
}

TEST_CASE("question by question: the steps when asked for, and an end at any moment that writes nothing by half") {
    const Home home;
    CHECK(has(talk("a\n\n\n\n?\n").asked, "How to cut the strip"));
    const std::string whole = "a\n12.62\n\n12.02\n\n305\n500\nright\ny\n";
    for (std::size_t n = 0; n < whole.size(); n += 3) talk(whole.substr(0, n));
    CHECK(json({"saw", "a", "--json"})["entries"].size() == 0);
    CHECK(talk("").code == 2);
    CHECK(talk("b\nn\n").code == 2);
}

}  // namespace saw_test
