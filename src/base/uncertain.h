// Uncertain values after the GUM (JCGM 100:2008).
#pragma once

#include <limits>
#include <span>
#include <vector>

namespace offsquare::base {

/// A value with its standard uncertainty and degrees of freedom.
struct Uncertain {
    double value = 0.0;                                    ///< best estimate, in the unit of the quantity
    double u = 0.0;                                        ///< standard uncertainty, same unit, >= 0
    double dof = std::numeric_limits<double>::infinity();  ///< degrees of freedom of u, > 0; infinite where u is known
};

/// One input of a result: how the result moves with it, and how sure the input is.
struct Contribution {
    double sensitivity = 0.0;  ///< partial derivative of the result
    double u = 0.0;            ///< standard uncertainty of the input
    double dof = std::numeric_limits<double>::infinity();
};

/// Law of propagation for independent inputs (GUM 5.1.2) with Welch-Satterthwaite degrees of freedom (GUM G.4.1).
Uncertain combine(double value, std::span<const Contribution> inputs);

double u_rectangular(double half_width);  ///< a/sqrt(3)   (GUM 4.3.7)
double u_of_step(double step);            ///< step/sqrt(12), a rounded indication (GUM F.2.2.1)

/// Mean of repeats: value, u = s/sqrt(n), dof = n-1 (GUM 4.2). Two or more values; with fewer the spread is unknown and
/// u is infinite.
Uncertain mean_of(std::span<const double> repeats);

/// Student quantile (Boost.Math), rounded to 10 significant digits so that the last bit of a math library never shows.
/// 0 < p < 1, dof > 0, infinity allowed.
double student_quantile(double p, double dof);

/// Normal distribution (Boost.Math), rounded to 10 significant digits for the same reason.
double normal_below(double z);  ///< probability below z
double normal_tails(double z);  ///< probability beyond z on both sides together, z >= 0

struct Interval {
    double lo = 0.0;
    double hi = 0.0;
};
/// value +- t * u with coverage probability p (0.95 gives the 95 % interval) (GUM G.3).
Interval coverage(const Uncertain& x, double p = 0.95);

}  // namespace offsquare::base
