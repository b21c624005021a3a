#include "base/random.h"

#include <cmath>

#include <Random123/philox.h>

#include "base/elementary.h"

namespace offsquare::base {
namespace {

using Coefficients = std::array<double, 8>;

double polynomial(const Coefficients& c, double x) {
    double v = c[7];
    for (std::size_t i = 7; i-- > 0;) v = v * x + c[i];
    return v;
}

// Wichura, M. J. (1988). Algorithm AS 241: the percentage points of the normal distribution. Applied Statistics 37 (3),
// 477-484, routine PPND16. Three regions: the middle, the flanks and the far tails; lowest power first.
constexpr Coefficients middle_above = {3.3871328727963666080e+0, 1.3314166789178437745e+2, 1.9715909503065514427e+3,
                                       1.3731693765509461125e+4, 4.5921953931549871457e+4, 6.7265770927008700853e+4,
                                       3.3430575583588128105e+4, 2.5090809287301226727e+3};
constexpr Coefficients middle_below = {1.0,
                                       4.2313330701600911252e+1,
                                       6.8718700749205790830e+2,
                                       5.3941960214247511077e+3,
                                       2.1213794301586595867e+4,
                                       3.9307895800092710610e+4,
                                       2.8729085735721942674e+4,
                                       5.2264952788528545610e+3};
constexpr Coefficients flank_above = {1.42343711074968357734e+0, 4.63033784615654529590e+0, 5.76949722146069140550e+0,
                                      3.64784832476320460504e+0, 1.27045825245236838258e+0, 2.41780725177450611770e-1,
                                      2.27238449892691845833e-2, 7.74545014278341407640e-4};
constexpr Coefficients flank_below = {1.0,
                                      2.05319162663775882187e+0,
                                      1.67638483018380384940e+0,
                                      6.89767334985100004550e-1,
                                      1.48103976427480074590e-1,
                                      1.51986665636164571966e-2,
                                      5.47593808499534494600e-4,
                                      1.05075007164441684324e-9};
constexpr Coefficients tail_above = {6.65790464350110377720e+0, 5.46378491116411436990e+0, 1.78482653991729133580e+0,
                                     2.96560571828504891230e-1, 2.65321895265761230930e-2, 1.24266094738807843860e-3,
                                     2.71155556874348757815e-5, 2.01033439929228813265e-7};
constexpr Coefficients tail_below = {1.0,
                                     5.99832206555887937690e-1,
                                     1.36929880922735805310e-1,
                                     1.48753612908506148525e-2,
                                     7.86869131145613259100e-4,
                                     1.84631831751005468180e-5,
                                     1.42151175831644588870e-7,
                                     2.04426310338993978564e-15};

}  // namespace

std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> counter, std::array<std::uint32_t, 2> key) {
    const r123::Philox4x32::ctr_type c = {{counter[0], counter[1], counter[2], counter[3]}};
    const r123::Philox4x32::key_type k = {{key[0], key[1]}};
    const auto r = r123::Philox4x32()(c, k);
    return {r[0], r[1], r[2], r[3]};
}

double uniform01(const Draw& d) {
    const std::uint32_t first_block = 0;
    const auto low = static_cast<std::uint32_t>(d.seed & 0xffffffffU);
    const auto high = static_cast<std::uint32_t>(d.seed >> 32U);
    const auto r = philox({d.a, d.b, static_cast<std::uint32_t>(d.purpose), first_block}, {low, high});
    const std::uint64_t bits = (static_cast<std::uint64_t>(r[1]) << 32U) | r[0];
    // An odd numerator over 2^53 is exact, symmetric about 1/2, and can be neither 0 nor 1.
    return static_cast<double>(2U * (bits >> 12U) + 1U) * 0x1p-53;
}

double standard_normal(const Draw& d) { return inverse_normal(uniform01(d)); }

double inverse_normal(double p) {
    const double q = p - 0.5;
    if (std::fabs(q) <= 0.425) {
        const double r = 0.180625 - q * q;
        return q * polynomial(middle_above, r) / polynomial(middle_below, r);
    }
    const double r = std::sqrt(-log_of(q < 0.0 ? p : 1.0 - p));
    const double x = r <= 5.0 ? polynomial(flank_above, r - 1.6) / polynomial(flank_below, r - 1.6)
                              : polynomial(tail_above, r - 5.0) / polynomial(tail_below, r - 5.0);
    return q < 0.0 ? -x : x;
}

}  // namespace offsquare::base
