// Slips of typing: each is asked about, at the place where it was made, with what would fit; sound readings of any saw
// are not.
#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>

#include "measure/run_check.h"
#include "repeats.h"
#include "scenario/scenario.h"
#include "session/history.h"
#include "session/slips.h"
#include "shop/truth.h"

namespace slips_test {  // the tests of a room are compiled as one heap, where names would meet

using namespace offsquare;
using measure::Check;
using measure::CheckReport;
using session::Slips;

namespace {

constexpr auto mm = base::Units::metric;

CheckReport five_cut(double fence_end, double far_end, double length) {
    return {{Check::five_cut},
            {{"fence_end", shop::FaultUnit::mm, fence_end, 0.02},
             {"far_end", shop::FaultUnit::mm, far_end, 0.02},
             {"length", shop::FaultUnit::mm, length, 0.4}}};
}

CheckReport check(Check which, const std::vector<double>& values, double u = 0.01) {
    CheckReport report{{which}, {}};
    const auto wanted = measure::info(which).readings;
    for (std::size_t i = 0; i < values.size(); ++i)
        report.readings.push_back({std::string(wanted[i].what), wanted[i].unit, values[i], u});
    return report;
}

Slips typed(const std::vector<CheckReport>& reports) { return session::slips_in_last(reports, shop::Drawing{}, mm); }

/// Asked about, once, and with these words.
void asks(const std::vector<CheckReport>& reports, const std::vector<std::string>& words) {
    const Slips slips = typed(reports);
    REQUIRE(slips.size() == 1);
    CAPTURE(slips.front());
    for (const std::string& word : words) CHECK(slips.front().find(word) != std::string::npos);
}

/// Every check once, and those again that a person repeats first; left out: what the sled cannot make.
std::vector<CheckReport> evening(const scenario::Scenario& s, std::uint64_t seed) {
    std::vector<CheckReport> reports;
    std::uint32_t run = 0;
    const auto make = [&](Check which) {
        const auto report = measure::run_check(which, measure::Stand{s.drawing, *s.truth, {}, {}, 0}, seed, run++);
        if (report) reports.push_back(*report);
    };
    for (const measure::CheckInfo& c : measure::checks()) make(c.check);
    for (const Check again : {Check::five_cut, Check::fence_straightedge, Check::runner_fit, Check::wiggle,
                              Check::square_on_cut, Check::jaws, Check::flip})
        make(again);
    return reports;
}

}  // namespace

TEST_CASE("sound readings of every scenario are asked about in less than one file of two hundred") {
    int files = 0;
    int asked = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::filesystem::path(OFFSQUARE_SOURCE_DIR) / "scenarios")) {
        const auto loaded = scenario::load(entry.path().string());
        REQUIRE(loaded);
        const std::uint64_t seeds = repeats::of(12, 2);
        for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
            const std::vector<CheckReport> reports = evening(loaded->scenario, seed);
            REQUIRE(reports.size() >= 12);  // where the sled binds nothing is cut
            const Slips slips = session::slips_in(reports, loaded->scenario.drawing, mm);
            ++files;
            if (slips.empty()) continue;
            ++asked;
            MESSAGE(entry.path().filename().string() << " " << seed << ": " << slips.front());
        }
    }
    // 192 files: by the rate that is allowed one may be asked about.
    CHECK(asked <= std::max(1, files / 200));
}

TEST_CASE("a strip: each slip is found where it was made, with what would fit") {
    const CheckReport sound = five_cut(12.62, 12.0, 300.0);
    CHECK(typed({sound}).empty());
    asks({five_cut(126.2, 12.0, 300.0)}, {"fence end: 126.200 mm is too large", "12.620 mm (a decimal place)"});
    asks({five_cut(12.62, 1.2, 300.0)}, {"far end: 1.200 mm is too small", "12.000 mm (a decimal place)"});
    asks({five_cut(12.62, 0.4724, 300.0)}, {"far end", "11.999 mm (inches)"});
    asks({five_cut(12.62, 12.0, 3000.0)}, {"length: 3000.000 mm is too large", "300.000 mm (a decimal place)"});
    asks({five_cut(12.62, 12.0, 345.0)}, {"the board on the drawing is 330 mm by 320 mm"});
    asks({five_cut(12.62, 12.0, 11.8)}, {"length", "299.720 mm (inches)"});
    asks({five_cut(-12.62, 12.0, 300.0)}, {"fence end", "is not a size"});
    CHECK(typed({five_cut(0.497, 0.472, 300.0)}).size() == 2);
    // A thin strip that runs out is one, and so is a wide one.
    CHECK(typed({five_cut(2.9, 0.4, 300.0)}).empty());
    CHECK(typed({five_cut(38.0, 37.4, 300.0)}).empty());
}

TEST_CASE("sizes that the drawing knows, and numbers that are never below nothing") {
    CHECK(typed({check(Check::kerf_width, {3.3, 3.2})}).empty());
    asks({check(Check::kerf_width, {33.0, 3.2})}, {"kerf: 33.000 mm is too large", "3.300 mm"});
    asks({check(Check::runner_fit, {19.0, 18.9, 1.9, 18.9})}, {"right slot", "19.000 mm"});
    asks({check(Check::runner_spacing, {280.0, 28.0})}, {"runners", "280.000 mm"});
    asks({check(Check::slot_widths, {10.276, 261.0})}, {"near", "261.010 mm (inches)"});
    asks({check(Check::rim_indicator, {-0.5})}, {"never below 0"});
    CHECK(typed({check(Check::rim_indicator, {-0.01})}).empty());
}

TEST_CASE("repeats: further apart than instrument and chance, or the same strip twice") {
    const CheckReport bow = check(Check::fence_straightedge, {0.25});
    CHECK(typed({bow, bow}).empty());  // feeler gauges read alike
    CHECK(typed({bow, check(Check::fence_straightedge, {0.27})}).empty());
    asks({bow, check(Check::fence_straightedge, {0.52})}, {"bow 0.520 mm", "number 1 of the list", "bow 0.250 mm"});
    const CheckReport strip = five_cut(12.62, 12.0, 300.0);
    CHECK(typed({strip, five_cut(12.63, 12.0, 300.0)}).empty());
    // One strip may read as another did; two strips hardly ever do.
    CHECK(typed({strip, bow, strip}).empty());
    CheckReport two = check(Check::long_and_short, {12.31, 12.0, 148.0, 12.62, 12.0, 300.0});
    asks({two, bow, two}, {"check 1 of the list already"});
    // Another stand is another reading.
    CheckReport shimmed = strip;
    shimmed.occasion.behind_left_mm = 0.25;
    CHECK(typed({strip, shimmed}).empty());
}

TEST_CASE("into the notebook: what contradicts what it holds is asked about, and what no fault explains" *
          doctest::skip(repeats::sanitized)) {
    session::History history(scenario::built_in(), 6);
    const auto writes = [&](const CheckReport& r) { return session::TypeReadings{r.occasion.check, r.readings, {}}; };
    CHECK(session::slips_in(history, writes(five_cut(12.62, 12.0, 300.0)), mm).empty());
    const Slips odd = session::slips_in(history, writes(check(Check::fence_straightedge, {1.9})), mm);
    REQUIRE(odd.size() == 1);
    CHECK(odd.front().find("none of the faults modelled here explains") != std::string::npos);
    REQUIRE(history.act(writes(check(Check::blade_square, {0.3}))));
    // Blade upright by the flip of two pieces, and leaning 6 mrad by the square on the blade.
    const Slips against = session::slips_in(history, writes(check(Check::square_on_cut, {0.0, -0.11})), mm);
    REQUIRE(against.size() == 1);
    CHECK(against.front().find("does not fit the others") != std::string::npos);
    // It was only asked: nothing was written.
    CHECK(history.seen().checks.size() == 1);
}

}  // namespace slips_test
