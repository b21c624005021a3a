// The lowest of many straight lines at one place: what seats the runners and what the blade leaves.
#pragma once

#include <algorithm>
#include <cstddef>

#ifdef __SSE2__
#include <emmintrin.h>
#endif

namespace offsquare::base {

#ifdef __SSE2__
/// Two lines at one place, at once.
inline __m128d two_lines(const double* at_0, const double* rise, __m128d t) {
    return _mm_add_pd(_mm_loadu_pd(at_0), _mm_mul_pd(_mm_loadu_pd(rise), t));
}

/// The least  at_0[i] + rise[i]*t  of n >= 4 lines, two at a time; compilers do not see that they may.
inline double lowest_line_by_twos(const double* at_0, const double* rise, std::size_t n, double t) {
    const __m128d at = _mm_set1_pd(t);
    __m128d even = two_lines(at_0 + n - 4, rise + n - 4, at);  // so that nothing is left over
    __m128d odd = two_lines(at_0 + n - 2, rise + n - 2, at);
    for (std::size_t i = 0; i + 4 < n; i += 4) {
        even = _mm_min_pd(even, two_lines(at_0 + i, rise + i, at));
        odd = _mm_min_pd(odd, two_lines(at_0 + i + 2, rise + i + 2, at));
    }
    const __m128d least = _mm_min_pd(even, odd);
    return std::min(_mm_cvtsd_f64(least), _mm_cvtsd_f64(_mm_unpackhi_pd(least, least)));
}
#endif

/// The least  at_0[i] + rise[i]*t  of n >= 1 lines; the least of all is the same in any order.
inline double lowest_line(const double* at_0, const double* rise, std::size_t n, double t) {
#ifdef __SSE2__
    if (n >= 4) return lowest_line_by_twos(at_0, rise, n, t);
#endif
    double least = at_0[0] + rise[0] * t;
    for (std::size_t i = 1; i < n; ++i) least = std::min(least, at_0[i] + rise[i] * t);
    return least;
}

}  // namespace offsquare::base
