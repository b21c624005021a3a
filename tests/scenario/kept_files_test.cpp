// Readings files that version 0.1.0 wrote, kept as they were: what a person has written down opens for ever.
#include <doctest/doctest.h>

#include <string>

#include <fmt/format.h>

#include "base/scratch.h"
#include "kept.h"
#include "measure/run_check.h"
#include "scenario/readings.h"

using namespace offsquare;

namespace {

std::size_t times(const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) ++n;
    return n;
}

}  // namespace

TEST_CASE("every kept readings file opens with all its checks") {
    const auto files = kept::files_of("scenario");
    CHECK(files.size() == 3);
    for (const auto& file : files) {
        const std::string text = scratch::text_of(file);
        const auto readings = scenario::parse_readings(text, file.filename().string());
        REQUIRE_MESSAGE(readings.has_value(), (readings ? std::string() : readings.error().message));
        CHECK(readings->warnings.empty());
        CHECK(readings->reports.size() == times(text, "\n[[check]]"));
        for (const measure::CheckReport& report : readings->reports) {
            for (const measure::CheckReading& r : report.readings) {
                // As it stands in the file, to the last bit: fmt's shortest digits are those that it was written with.
                // Of a zero the sign is not kept.
                const std::string sign =
                    r.value == 0.0 && text.find(r.what + " = [\"-0 mm") != std::string::npos ? "-" : "";
                const std::string line = fmt::format("\n{} = [\"{}{} mm\", \"{} mm\"]", r.what, sign, r.value, r.u);
                CHECK_MESSAGE(text.find(line) != std::string::npos, line);
            }
        }
    }
}

TEST_CASE("kept readings say which checks they are, which side was kept and what stood behind the fence") {
    // Read off the files by eye.
    const std::string kept = OFFSQUARE_SOURCE_DIR "/tests/scenario/kept/";
    const auto cuts = scenario::load_readings(kept + "four-kinds-of-cuts.toml");
    const auto behind = scenario::load_readings(kept + "kept-right-behind-shims.toml");
    REQUIRE(cuts.has_value());
    REQUIRE(behind.has_value());
    std::string checks;
    for (const measure::CheckReport& r : cuts->reports)
        checks += fmt::format("{} ", measure::info(r.occasion.check).name);
    CHECK(checks == "five-cut same-again brushed long-and-short ");
    CHECK(cuts->scenario.drawing.board.kept == shop::Side::left);
    CHECK(behind->scenario.drawing.board.kept == shop::Side::right);
    for (const measure::CheckReport& r : behind->reports) {
        CHECK(r.occasion.behind_left_mm == 0.25);
        CHECK(r.occasion.behind_right_mm == 0.1);
        CHECK(r.occasion.clamped_again == 1);
    }
}

TEST_CASE("a reading without an uncertainty gets that of the instrument that reads it") {
    // A strip's ends are read with a caliper, its length with a tape: two instruments, two uncertainties.
    const auto typed = scenario::parse_readings(
        "format = 1\ntitle = \"x\"\n\n[[check]]\nname = \"five-cut\"\nfence_end = \"12.03 mm\"\nfar_end = \"12.01 "
        "mm\"\n"
        "length = \"297 mm\"\n",
        "typed.toml");
    REQUIRE_MESSAGE(typed.has_value(), (typed ? std::string() : typed.error().message));
    const auto& readings = typed->reports.at(0).readings;
    REQUIRE(readings.size() == 3);
    const shop::Drawing& d = typed->scenario.drawing;
    const std::vector<double> usual = measure::instrument_u(measure::Check::five_cut, d);
    for (std::size_t i = 0; i < 3; ++i) CHECK(readings[i].u == usual[i]);
    CHECK(readings[0].u == readings[1].u);
    CHECK(readings[2].u > 5.0 * readings[0].u);
}
