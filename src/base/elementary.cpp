// Method: reduce the argument to a short interval without loss, sum the Taylor series there, put the parts together so
// that the large part is added last. Series are long enough that the first term left out is below 1e-19 of the result.
// Constants are written in hexadecimal, so that nothing depends on how a compiler rounds decimals;
// tests/base/elementary_test.cpp holds the results to half of the promised error.
#include "base/elementary.h"

#include <array>
#include <bit>
#include <cmath>
#include <cstdint>

namespace offsquare::base {
namespace {

/// An unevaluated sum: hi is the double nearest to hi + lo.
struct Split {
    double hi = 0.0;
    double lo = 0.0;
};

/// a + b exactly, for any a and b (Knuth's two-sum).
Split exact_sum(double a, double b) {
    const double s = a + b;
    const double part = s - a;
    return {s, (a - (s - part)) + (b - part)};
}

// pi/2 in four parts. The first three have at most 33 bits, so that their products with a quarter count below 2^17 are
// exact.
constexpr std::array<double, 4> half_pi = {0x1.921fb54400000p+0, 0x1.0b4611a600000p-34, 0x1.3198a2e000000p-69,
                                           0x1.b839a252049c1p-104};
constexpr double two_over_pi = 0x1.45f306dc9c883p-1;
constexpr Split half_pi_split = {0x1.921fb54442d18p+0, 0x1.1a62633145c07p-54};

/// angle = quarter * pi/2 + rest, |rest| <= pi/4 (a hair more at the seam). Only the two last bits of the count matter.
struct Reduced {
    int quarter = 0;
    Split rest;
};

Reduced reduce(double angle_rad) {
    const double n = std::floor(angle_rad * two_over_pi + 0.5);
    if (n == 0.0) return {0, {angle_rad, 0.0}};
    const double first = angle_rad - n * half_pi[0];  // exact: both are multiples of the last bit of the smaller one
    const Split second = exact_sum(first, -(n * half_pi[1]));
    const Split third = exact_sum(second.hi, -(n * half_pi[2]));
    const double small = second.lo + third.lo - n * half_pi[3];
    return {static_cast<int>(n - 4.0 * std::floor(n / 4.0)), exact_sum(third.hi, small)};
}

double sin_short(Split r) {
    const double z = r.hi * r.hi;
    double p = -1.0 / 121645100408832000.0;  // 1/19!
    p = p * z + 1.0 / 355687428096000.0;     // 1/17!
    p = p * z - 1.0 / 1307674368000.0;
    p = p * z + 1.0 / 6227020800.0;
    p = p * z - 1.0 / 39916800.0;
    p = p * z + 1.0 / 362880.0;
    p = p * z - 1.0 / 5040.0;
    p = p * z + 1.0 / 120.0;
    p = p * z - 1.0 / 6.0;
    return r.hi + (r.hi * z * p + r.lo * (1.0 - 0.5 * z));
}

double cos_short(Split r) {
    const double z = r.hi * r.hi;
    double p = 1.0 / 2432902008176640000.0;  // 1/20!
    p = p * z - 1.0 / 6402373705728000.0;    // 1/18!
    p = p * z + 1.0 / 20922789888000.0;
    p = p * z - 1.0 / 87178291200.0;
    p = p * z + 1.0 / 479001600.0;
    p = p * z - 1.0 / 3628800.0;
    p = p * z + 1.0 / 40320.0;
    p = p * z - 1.0 / 720.0;
    p = p * z + 1.0 / 24.0;
    const double half = 0.5 * z;
    const double w = 1.0 - half;
    return w + (((1.0 - w) - half) + (z * z * p - r.hi * r.lo));
}

// atan(k/16), k = 0..16, as a sum of two doubles.
constexpr std::array<Split, 17> atan_sixteenth = {{
    {0.0, 0.0},
    {0x1.ff55bb72cfdeap-5, -0x1.c934d86d23f1dp-60},
    {0x1.fd5ba9aac2f6ep-4, -0x1.cd37686760c17p-59},
    {0x1.7b97b4bce5b02p-3, 0x1.347b0b4f881cap-58},
    {0x1.f5b75f92c80ddp-3, 0x1.8ab6e3cf7afbdp-57},
    {0x1.362773707ebccp-2, -0x1.963a544b672d8p-57},
    {0x1.6f61941e4def1p-2, -0x1.c63aae6f6e918p-56},
    {0x1.a64eec3cc23fdp-2, -0x1.24dec1b50b7ffp-56},
    {0x1.dac670561bb4fp-2, 0x1.a2b7f222f65e2p-56},
    {0x1.0657e94db30d0p-1, -0x1.d5b495f6349e6p-56},
    {0x1.1e00babdefeb4p-1, -0x1.928df287a668fp-58},
    {0x1.345f01cce37bbp-1, 0x1.1021137c71102p-55},
    {0x1.4978fa3269ee1p-1, 0x1.2419a87f2a458p-56},
    {0x1.5d58987169b18p-1, 0x1.0028e4bc5e7cap-57},
    {0x1.700a7c5784634p-1, -0x1.8c34d25aadef6p-56},
    {0x1.819d0b7158a4dp-1, -0x1.bf76229d3b917p-56},
    {0x1.921fb54442d18p-1, 0x1.1a62633145c07p-55},
}};

/// atan(d) - d for |d| <= 1/32.
double atan_tail(double d) {
    const double z = d * d;
    double p = 1.0 / 13.0;
    p = p * z - 1.0 / 11.0;
    p = p * z + 1.0 / 9.0;
    p = p * z - 1.0 / 7.0;
    p = p * z + 1.0 / 5.0;
    p = p * z - 1.0 / 3.0;
    return d * z * p;
}

/// atan of x in [0, 1]: the nearest sixteenth and what is left, by the tangent of a difference.
double atan_low(double x) {
    const double k = std::floor(16.0 * x + 0.5);
    if (k == 0.0) return x + atan_tail(x);
    const double c = k / 16.0;
    const double d = (x - c) / (1.0 + c * x);
    const Split table = atan_sixteenth[static_cast<std::size_t>(k)];
    return table.hi + (d + (atan_tail(d) + table.lo));
}

/// atan of x > 1: a quarter turn less the angle whose tangent is 1/x, with no division before the difference.
double atan_high(double x) {
    const double k = std::floor(16.0 / x + 0.5);
    const double c = k / 16.0;
    const double d = (1.0 - c * x) / (x + c);
    const Split table = atan_sixteenth[static_cast<std::size_t>(k)];
    const Split base = exact_sum(half_pi_split.hi, -table.hi);
    return base.hi - (d + (atan_tail(d) - base.lo + table.lo - half_pi_split.lo));
}

// ln 2 in two parts; the first has 40 bits, so that its product with a binary exponent is exact.
constexpr Split ln2 = {0x1.62e42fefa2000p-1, 0x1.9ef35793c7673p-41};
constexpr double one_over_ln2 = 0x1.71547652b82fep+0;

/// x = m * 2^exponent, m in [0.5, 1): as std::frexp, which asks first whether x is normal.
struct Halved {
    double m = 0.0;
    int exponent = 0;
};
Halved halved(double x) {
    const auto bits = std::bit_cast<std::uint64_t>(x);
    constexpr std::uint64_t fraction = 0x000fffffffffffffULL;
    return {std::bit_cast<double>((bits & fraction) | 0x3fe0000000000000ULL),
            static_cast<int>(bits >> 52U & 0x7ffU) - 1022};
}

/// |exponent| <= 1022.
double power_of_2(int exponent) { return std::bit_cast<double>(static_cast<std::uint64_t>(1023 + exponent) << 52U); }

/// |x| < 2^51: a double beyond that has no place for a fraction.
double nearest_whole(double x) {
    constexpr double no_fraction = 0x1.8p+52;
    return (x + no_fraction) - no_fraction;
}

}  // namespace

double sin_of(double angle_rad) {
    if (angle_rad == 0.0) return angle_rad;
    const Reduced a = reduce(angle_rad);
    const double v = a.quarter % 2 == 0 ? sin_short(a.rest) : cos_short(a.rest);
    return a.quarter >= 2 ? -v : v;
}

double cos_of(double angle_rad) {
    const Reduced a = reduce(angle_rad);
    const double v = a.quarter % 2 == 0 ? cos_short(a.rest) : sin_short(a.rest);
    return a.quarter == 1 || a.quarter == 2 ? -v : v;
}

double tan_of(double angle_rad) {
    if (angle_rad == 0.0) return angle_rad;
    const Reduced a = reduce(angle_rad);
    const double s = sin_short(a.rest);
    const double c = cos_short(a.rest);
    return a.quarter % 2 == 0 ? s / c : -c / s;
}

double atan_of(double slope) {
    if (slope == 0.0) return slope;
    const double x = std::fabs(slope);
    const double v = x <= 1.0 ? atan_low(x) : atan_high(x);
    return slope < 0.0 ? -v : v;
}

double log_of(double x) {
    auto [m, exponent] = halved(x);
    if (m < 0x1.6a09e667f3bcdp-1) {  // sqrt(1/2): keep m near 1, so that log(1 + f) has no cancellation against the
                                     // exponent
        m *= 2.0;
        exponent -= 1;
    }
    const double f = m - 1.0;
    const double s = f / (2.0 + f);  // log(1 + f) = 2 atanh(s)
    const double z = s * s;
    double p = 2.0 / 25.0;
    for (int n = 23; n >= 3; n -= 2) p = p * z + 2.0 / n;
    const double k = exponent;
    return k * ln2.hi + (f - (s * (f - z * p) - k * ln2.lo));  // 2s = f - s f
}

double exp_of(double x) {
    if (x < -700.0) return 0.0;
    const double k = nearest_whole(x * one_over_ln2);
    const Split r = exact_sum(x - k * ln2.hi, -(k * ln2.lo));
    // (exp(r) - 1 - r)/r^2 by two sums, of every second power each, that do not wait for each other; what is left out
    // is below 1e-22.
    const double z = r.hi * r.hi;
    double odd = 1.0 / 355687428096000.0;  // 1/17!
    double even = 1.0 / 20922789888000.0;  // 1/16!
    odd = odd * z + 1.0 / 1307674368000.0;
    even = even * z + 1.0 / 87178291200.0;
    odd = odd * z + 1.0 / 6227020800.0;
    even = even * z + 1.0 / 479001600.0;
    odd = odd * z + 1.0 / 39916800.0;
    even = even * z + 1.0 / 3628800.0;
    odd = odd * z + 1.0 / 362880.0;
    even = even * z + 1.0 / 40320.0;
    odd = odd * z + 1.0 / 5040.0;
    even = even * z + 1.0 / 720.0;
    odd = odd * z + 1.0 / 120.0;
    even = even * z + 1.0 / 24.0;
    odd = odd * z + 1.0 / 6.0;
    even = even * z + 0.5;
    const double p = even + r.hi * odd;
    const double tail = z * p + r.lo;
    return (1.0 + (r.hi + tail)) * power_of_2(static_cast<int>(k));
}

}  // namespace offsquare::base
