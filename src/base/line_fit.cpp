// Sums are taken about the means, in two passes: raw sums of squares lose as many digits as the points lie far from
// zero.
#include "base/line_fit.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

namespace offsquare::base {
namespace {

bool all_finite(std::span<const double> values) {
    return std::all_of(values.begin(), values.end(), [](double v) { return std::isfinite(v); });
}

/// Why no line can be fitted, or nothing.
std::optional<std::string> unfit(std::span<const double> x, std::span<const double> y, std::size_t least) {
    if (x.size() != y.size())
        return fmt::format("found {} stations and {} readings, expected one reading for each station", x.size(),
                           y.size());
    if (x.size() < least)
        return fmt::format("found {} points, expected {} or more to fit a line with its uncertainty", x.size(), least);
    if (!all_finite(x) || !all_finite(y))
        return "found a point that is not a finite number, expected finite numbers, for example 0 and 12.5";
    return std::nullopt;
}

/// The mean, taken as a shift from the first value: exact to the last bits however far from zero the values lie.
double mean(std::span<const double> values) {
    double shift = 0.0;
    for (const double v : values) shift += v - values.front();
    return values.front() + shift / static_cast<double>(values.size());
}

double square(double v) { return v * v; }

}  // namespace

Uncertain LineFit::at(double x) const {
    const double d = x - x_mean;
    return {y_mean + slope * d, std::sqrt(square(u_mean) + square(d * u_slope)), dof};
}

double LineFit::correlation_at(double x) const {
    const double u = at(x).u;
    return u_slope > 0.0 && u > 0.0 ? covariance_at(x) / (u * u_slope) : 0.0;
}

Result<LineFit> fit_line(std::span<const double> x, std::span<const double> y) {
    if (const auto why = unfit(x, y, 3)) return fail(Grade::bad_data, *why);
    const double n = static_cast<double>(x.size());
    LineFit fit{.x_mean = mean(x), .y_mean = mean(y), .dof = n - 2.0};
    double sxx = 0.0;
    double sxy = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        sxx += square(x[i] - fit.x_mean);
        sxy += (x[i] - fit.x_mean) * (y[i] - fit.y_mean);
    }
    const auto [low, high] = std::minmax_element(x.begin(), x.end());
    if (*low == *high || !(sxx > 0.0))
        return fail(Grade::bad_data, "found all points at one station, expected at least two different stations");
    fit.slope = sxy / sxx;
    double squares = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) squares += square((y[i] - fit.y_mean) - fit.slope * (x[i] - fit.x_mean));
    fit.residual_s = std::sqrt(squares / fit.dof);
    fit.u_slope = fit.residual_s / std::sqrt(sxx);
    fit.u_mean = fit.residual_s / std::sqrt(n);
    return fit;
}

Result<OriginFit> fit_through_origin(std::span<const double> x, std::span<const double> y) {
    if (const auto why = unfit(x, y, 2)) return fail(Grade::bad_data, *why);
    double sxx = 0.0;
    double sxy = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        sxx += x[i] * x[i];
        sxy += x[i] * y[i];
    }
    if (!(sxx > 0.0)) return fail(Grade::bad_data, "found all points at station 0, expected at least one elsewhere");
    const double slope = sxy / sxx;
    const double dof = static_cast<double>(x.size()) - 1.0;
    double squares = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) squares += square(y[i] - slope * x[i]);
    const double s = std::sqrt(squares / dof);
    return OriginFit{{slope, s / std::sqrt(sxx), dof}, s};
}

}  // namespace offsquare::base
