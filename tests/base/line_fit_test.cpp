// Line fits against certified values (NIST StRD), a worked example (GUM H.3), and normal equations in 50 digits.
#include "base/line_fit.h"

#include <doctest/doctest.h>

#include <boost/multiprecision/cpp_bin_float.hpp>
#include <cmath>
#include <random>
#include <vector>

#include "base/norris_data.h"

using namespace offsquare::base;

namespace {

bool relative(double got, double certified, double tolerance) {
    return std::fabs(got - certified) <= tolerance * std::fabs(certified);
}
bool prints_as(double value, double printed, double last_digit) {
    return std::fabs(value - printed) <= 0.5 * last_digit;
}

}  // namespace

TEST_CASE("NIST StRD Norris") {
    // Certified to 15 digits. Data near 1000 with residuals near 1: a double keeps at least 12 of them, 11 in the
    // intercept's small value.
    std::vector<double> x;
    std::vector<double> y;
    for (const norris::Point& p : norris::pairs) {
        x.push_back(p.x);
        y.push_back(p.y);
    }
    const auto fit = fit_line(x, y);
    REQUIRE(fit.has_value());
    CHECK(relative(fit->intercept().value, -0.262323073774029, 1e-11));
    CHECK(relative(fit->intercept().u, 0.232818234301152, 1e-12));
    CHECK(relative(fit->slope, 1.00211681802045, 1e-13));
    CHECK(relative(fit->u_slope, 0.429796848199937e-03, 1e-12));
    CHECK(relative(fit->residual_s, 0.884796396144373, 1e-12));
    CHECK(fit->dof == 34.0);
}

TEST_CASE("NIST StRD NoInt2, through the origin") {
    const std::vector<double> x = {4.0, 5.0, 6.0};
    const std::vector<double> y = {3.0, 4.0, 4.0};
    const auto fit = fit_through_origin(x, y);
    REQUIRE(fit.has_value());
    CHECK(relative(fit->slope.value, 8.0 / 11.0, 1e-15));
    CHECK(relative(fit->slope.u, 0.420827318078432e-01, 1e-13));
    CHECK(relative(fit->residual_s, 0.369274472937998, 1e-13));
    CHECK(fit->slope.dof == 2.0);
}

TEST_CASE("calibration of a thermometer, JCGM 100:2008, H.3") {
    const std::vector<double> t = {21.521, 22.012, 22.512, 23.003, 23.507, 23.999,
                                   24.513, 25.002, 25.503, 26.010, 26.511};
    const std::vector<double> b = {-.171, -.169, -.166, -.159, -.164, -.165, -.156, -.157, -.159, -.161, -.160};
    const auto fit = fit_line(t, b);
    REQUIRE(fit.has_value());
    CHECK(prints_as(fit->at(20.0).value, -0.1712, 0.0001));
    CHECK(prints_as(fit->at(20.0).u, 0.0029, 0.0001));
    CHECK(prints_as(fit->slope, 0.00218, 0.00001));
    CHECK(prints_as(fit->u_slope, 0.00067, 0.00001));
    CHECK(prints_as(fit->correlation_at(20.0), -0.930, 0.001));
    CHECK(prints_as(fit->residual_s, 0.0035, 0.0001));
    CHECK(prints_as(fit->at(30.0).value, -0.1494, 0.0001));
    CHECK(prints_as(fit->at(30.0).u, 0.0041, 0.0001));
    CHECK(fit->at(30.0).dof == 9.0);
    // Second road to the same uncertainty: propagate height and slope at 20 with their correlation (GUM 5.2.2, H.3.4).
    const std::vector<Contribution> in = {{1.0, fit->at(20.0).u}, {30.0 - 20.0, fit->u_slope}};
    const double r = fit->correlation_at(20.0);
    const std::vector<double> correlation = {1.0, r, r, 1.0};
    CHECK(relative(combine_correlated(0.0, in, correlation).u, fit->at(30.0).u, 1e-12));
}

TEST_CASE("the fit agrees with the normal equations in 50 digits, also far from zero") {
    using Wide = boost::multiprecision::cpp_bin_float_50;
    std::mt19937_64 engine(17);
    std::uniform_real_distribution<double> draw(-1.0, 1.0);
    for (const double offset : {0.0, 1e3, 1e6}) {
        std::vector<double> x;
        std::vector<double> y;
        for (int i = 0; i < 9; ++i) {
            x.push_back(offset + 50.0 * i + draw(engine));
            y.push_back(15.6 + 0.001 * 50.0 * i + 0.02 * draw(engine));
        }
        Wide n = 9;
        Wide sx = 0;
        Wide sy = 0;
        Wide sxx = 0;
        Wide sxy = 0;
        for (std::size_t i = 0; i < 9; ++i) {
            sx += x[i];
            sy += y[i];
            sxx += Wide(x[i]) * x[i];
            sxy += Wide(x[i]) * y[i];
        }
        const Wide slope = (n * sxy - sx * sy) / (n * sxx - sx * sx);
        const Wide intercept = (sy - slope * sx) / n;
        Wide squares = 0;
        for (std::size_t i = 0; i < 9; ++i) squares += pow(Wide(y[i]) - intercept - slope * x[i], 2);
        const Wide s = sqrt(squares / (n - 2));
        const auto fit = fit_line(x, y);
        REQUIRE(fit.has_value());
        CAPTURE(offset);
        // The mean of x is known to half a bit of the offset (1.2e-10 at 1e6), against a length of 400: 3e-13.
        CHECK(relative(fit->slope, static_cast<double>(slope), 1e-12));
        CHECK(relative(fit->residual_s, static_cast<double>(s), 1e-10));
        CHECK(relative(fit->u_slope, static_cast<double>(s / sqrt(sxx - sx * sx / n)), 1e-10));
        CHECK(relative(fit->intercept().u, static_cast<double>(s * sqrt(sxx / (n * sxx - sx * sx))), 1e-10));
        CHECK(relative(fit->covariance_at(0.0), static_cast<double>(-s * s * sx / (n * sxx - sx * sx)), 1e-9));
    }
}

TEST_CASE("an exact line is found exactly, and its height and slope do not hang together at the middle") {
    const std::vector<double> x = {0.0, 100.0, 200.0, 400.0};
    const std::vector<double> y = {15.0, 15.25, 15.5, 16.0};  // 1/400 per unit; every number exact
    const auto fit = fit_line(x, y);
    REQUIRE(fit.has_value());
    CHECK(fit->slope == 0.0025);
    CHECK(fit->intercept().value == doctest::Approx(15.0).epsilon(1e-15));
    CHECK(fit->residual_s < 1e-15);
    CHECK(fit->x_mean == 175.0);
    CHECK(fit->covariance_at(fit->x_mean) == 0.0);
    CHECK(fit->slope_value().dof == 2.0);
}

TEST_CASE("what cannot be fitted is refused, with the reason") {
    const std::vector<double> two = {0.0, 1.0};
    const std::vector<double> three = {0.0, 1.0, 2.0};
    const std::vector<double> level = {5.0, 5.0, 5.0};
    const std::vector<double> zeros = {0.0, 0.0, 0.0};
    const std::vector<double> broken = {0.0, std::nan(""), 2.0};
    const auto says = [](const auto& result, const char* part) {
        return !result.has_value() && result.error().grade == Grade::bad_data &&
               result.error().message.find(part) != std::string::npos;
    };
    CHECK(says(fit_line(three, two), "3 stations and 2 readings"));
    CHECK(says(fit_line(two, two), "found 2 points, expected 3 or more"));
    CHECK(says(fit_line({}, {}), "found 0 points"));
    CHECK(says(fit_line(level, three), "at one station"));
    CHECK(says(fit_line(three, broken), "not a finite number"));
    CHECK(says(fit_line(broken, three), "not a finite number"));
    CHECK(says(fit_through_origin(zeros, three), "station 0"));
    CHECK(says(fit_through_origin(two, three), "2 stations and 3 readings"));
    CHECK(says(fit_through_origin(std::vector<double>{1.0}, std::vector<double>{1.0}),
               "found 1 points, expected 2 or more"));
    CHECK(fit_line(three, level).has_value());
}
