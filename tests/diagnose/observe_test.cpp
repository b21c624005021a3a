// From what a check reads to the numbers that are weighed: as many as its row says, and what a lasting error is.
#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <utility>

#include "diagnose/observe.h"
#include "measure/saw.h"

using namespace offsquare;
using measure::Check, measure::CheckInfo;

namespace {

/// Each reading of a check as read: 10 mm, 20 mm, ... [mm], u 0.3 mm.
measure::CheckReport report_of(const CheckInfo& check) {
    measure::CheckReport report{{check.check}, {}};
    for (const measure::ReadingInfo& r : check.readings)
        report.readings.push_back(
            {std::string(r.what), r.unit, 10.0 * static_cast<double>(report.readings.size() + 1), 0.3});
    return report;
}

}  // namespace

TEST_CASE("every check gives as many numbers as its row says, and a part of them lasts where its row says so") {
    for (const CheckInfo& check : measure::checks()) {
        CAPTURE(check.name);
        const auto seen = diagnose::observe(report_of(check), {});
        REQUIRE(seen);
        CHECK(seen->size() == check.observables);
        CHECK(diagnose::observables_of(check.check) == check.observables);
        for (const diagnose::Observable& o : *seen) {
            CHECK(o.u > 0.0);
            const bool along_a_straightedge =
                check.check == Check::slot_ride || (check.check == Check::flip && &o == &seen->front());
            CHECK((o.u_lasting > 0.0) == (check.errs_the_same || along_a_straightedge));
        }
    }
}

TEST_CASE("differences, in which a zero error cancels") {
    // JCGM 100:2008, 5.1.2: two inputs that do not hang together, each with a sensitivity of one.
    const double u = 0.3 * std::sqrt(2.0);
    for (const auto& [check, value] : {std::pair{Check::kerf_width, -10.0},
                                       {Check::runner_spacing, -10.0},
                                       {Check::slot_widths, -10.0},
                                       {Check::tooth_indicator, 10.0}}) {
        const auto seen = diagnose::observe(report_of(measure::info(check)), {});
        REQUIRE(seen);
        CHECK(seen->front().value == value);
        CHECK(seen->front().u == doctest::Approx(u).epsilon(1e-15));
    }
}

TEST_CASE("for its minutes a flip test says less of the corner than a five-cut test") {
    // Both as the diagnosis weighs them: a skew of the fence turns the strip's by as much and opens the joint by twice
    // that over the length of the cut. Made over and over, the variance of the mean falls as 1 over the minutes.
    const Saw saw;
    const auto weighed = [&](Check check) {
        const auto seen = diagnose::observe(*saw.run(check, 1, 0, measure::Precision::real), saw.drawing);
        REQUIRE(seen.has_value());
        return seen->front().u;
    };
    const double five = weighed(Check::five_cut), flip = weighed(Check::flip) / (2.0 * saw.drawing.board.length_mm);
    CAPTURE(five);
    CAPTURE(flip);
    CHECK(five < flip);
    CHECK(five * five * measure::info(Check::five_cut).minutes < flip * flip * measure::info(Check::flip).minutes);
    // With wood that is chipped and fuzzy the strip is as good as it was.
    Saw rough;
    rough.drawing.board.rough_mm = 0.02;
    CHECK(measure::instrument_u(Check::five_cut, rough.drawing)[0] ==
          measure::instrument_u(Check::five_cut, saw.drawing)[0]);
    CHECK(measure::instrument_u(Check::flip, rough.drawing)[0] >
          1.5 * measure::instrument_u(Check::flip, saw.drawing)[0]);
}
