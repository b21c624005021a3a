// The closed jaws of a caliper that sticks, as the diagnosis expects them: held against many readings of the same saw.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "measure/run_check.h"
#include "repeats.h"
#include "session/model.h"
#include "shop/truth.h"
#include "statistics.h"

using namespace offsquare;
using measure::Check;

namespace {

struct Caliper {
    double zero_mm;
    double sticking_mm;
};

/// What the model expects of one reading: its mean, and its variance in all.
struct Expected {
    double mean;
    double variance;
};

Expected expected(const shop::Drawing& drawing, const Caliper& c) {
    diagnose::Sizes sizes{};
    sizes[static_cast<std::size_t>(shop::Fault::caliper_zero)] = c.zero_mm;
    sizes[static_cast<std::size_t>(shop::Fault::caliper_step)] = c.sticking_mm;
    const auto p = session::model_of(drawing)({Check::jaws}, sizes);
    REQUIRE(p.has_value());
    // What chance adds goes on top of the u that comes with the reading; below 0 where the steps make it surer.
    return {p->mean[0], p->u[0] * p->u[0] + p->variance[0]};
}

std::vector<double> readings(const shop::Drawing& drawing, const Caliper& c, int n) {
    shop::Truth truth;
    truth.caliper_zero_mm = c.zero_mm;
    truth.caliper_step_mm = c.sticking_mm;
    std::vector<double> all;
    for (int seed = 1; seed <= n; ++seed) {
        const auto report =
            measure::run_check(Check::jaws, {drawing, truth, {}, {}, 0}, static_cast<std::uint64_t>(seed), 0);
        REQUIRE(report.has_value());
        all.push_back(report->readings[0].value);
    }
    return all;
}

}  // namespace

TEST_CASE("closed jaws: the model's mean and spread are those of many readings, whatever the caliper's steps") {
    const shop::Drawing drawing;  // a display of hundredths
    const double least = 0.01 * 0.01 / (2.0 * std::numbers::pi);
    constexpr int n = repeats::of(8000, 1000);
    for (const Caliper& c : {Caliper{0.0, 0.0}, Caliper{0.013, 0.0}, Caliper{0.007, 0.02}, Caliper{0.01, 0.02},
                             Caliper{0.021, 0.05}, Caliper{-0.024, 0.05}}) {
        CAPTURE(c.zero_mm);
        CAPTURE(c.sticking_mm);
        const std::vector<double> read = readings(drawing, c, n);
        const double mean = statistics::mean(read);
        double m2 = 0.0;
        double m4 = 0.0;
        for (const double r : read) {
            m2 += (r - mean) * (r - mean) / n;
            m4 += std::pow(r - mean, 4) / n;
        }
        const Expected e = expected(drawing, c);
        // 4.5 standard errors: of a mean sd/sqrt(n), of a variance sqrt((m4 - m2^2)/n).
        CHECK(std::abs(e.mean - mean) < 4.5 * std::sqrt(m2 / n));
        REQUIRE(m2 > 1.2 * least);
        CHECK(std::abs(e.variance - m2) < 4.5 * std::sqrt((m4 - m2 * m2) / n));
    }
}

TEST_CASE("closed jaws that can only show zero: as likely as one step of the display is wide") {
    // Zero errors far below half a step of 0.1 mm. The reading is on one step of 0.01 mm for sure, a density of 1/step;
    // a normal distribution is as high in its middle when 1/(sd*sqrt(2 pi)) = 1/step.
    const shop::Drawing drawing;
    const Expected e = expected(drawing, {0.004, 0.1});
    CHECK(std::abs(e.mean) < 1e-9);
    CHECK(1.0 / std::sqrt(2.0 * std::numbers::pi * e.variance) == doctest::Approx(1.0 / 0.01).epsilon(1e-9));
    for (const double r : readings(drawing, {0.004, 0.1}, 200)) CHECK(r == 0.0);
}
