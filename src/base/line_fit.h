// The straight line through points by least squares, with the uncertainty that the scatter about the line shows.
#pragma once

#include <span>

#include "base/result.h"
#include "base/uncertain.h"

namespace offsquare::base {

/// y = intercept + slope * x, from n points whose x are exact and whose y scatter equally and independently. Kept about
/// the middle of the points, where height and slope are not correlated. Units: those of y, and of y over x.
struct LineFit {
    double x_mean = 0.0;
    double y_mean = 0.0;  ///< the height of the line at x_mean
    double slope = 0.0;
    double u_slope = 0.0;     ///< standard uncertainty of the slope
    double u_mean = 0.0;      ///< standard uncertainty of y_mean
    double residual_s = 0.0;  ///< standard deviation of the residuals, sqrt(sum r^2 / (n-2)), unit of y
    double dof = 1.0;         ///< n - 2

    /// The line at x, with the uncertainty of the line there (not of one more point) (GUM H.3.4).
    Uncertain at(double x) const;
    Uncertain slope_value() const { return {slope, u_slope, dof}; }
    /// The line at x = 0.
    Uncertain intercept() const { return at(0.0); }
    /// Covariance of the line's height at x with its slope, unit of y squared over x (GUM H.3.2 where x is the
    /// reference point).
    double covariance_at(double x) const { return (x - x_mean) * u_slope * u_slope; }
    /// The same as a correlation coefficient, in [-1, 1]; 0 where the points lie exactly on the line.
    double correlation_at(double x) const;
};

/// y = slope * x.
struct OriginFit {
    Uncertain slope;          ///< dof = n - 1
    double residual_s = 0.0;  ///< sqrt(sum r^2 / (n-1)), unit of y
};

/// Refused (Grade::bad_data): lists of unequal length, fewer than 3 points, values that are not finite, all x equal.
Result<LineFit> fit_line(std::span<const double> x, std::span<const double> y);

/// Refused (Grade::bad_data): lists of unequal length, fewer than 2 points, values that are not finite, all x zero.
Result<OriginFit> fit_through_origin(std::span<const double> x, std::span<const double> y);

}  // namespace offsquare::base
