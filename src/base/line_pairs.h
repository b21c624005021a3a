// Many pairs of parallel lines at one place: the walls of two slots at the samples along two runners.
#pragma once

#include <algorithm>
#include <cstddef>

#ifdef __SSE2__
#include <emmintrin.h>
#endif

namespace offsquare::base {

/// Pair i: the lines  p[i] + rise[i]*t  and  q[i] + rise[i]*t. Looks at lists that others hold.
struct LinePairs {
    const double* p = nullptr;
    const double* p_bend = nullptr;  ///< how far p[i] grows for each unit of Lift::bend
    const double* q = nullptr;
    const double* rise = nullptr;
    std::size_t n = 0;  ///< >= 1
};

/// How far all lines p, and all lines q, are lifted; and the lines p by their own p_bend, so many times.
struct Lift {
    double p = 0.0;
    double q = 0.0;
    double bend = 0.0;
};

/// The lowest and the highest of many lines at one place.
struct Band {
    double lowest = 0.0;
    double highest = 0.0;
};

// Each comes twice: one pair after the other, and two pairs at once, which compilers do not see that they may. The bits
// are the same, for the least of all is the same in any order.

inline double lower_of(const LinePairs& k, Lift lift, std::size_t i, double t) {
    return std::min(k.p[i] + lift.bend * k.p_bend[i] + lift.p, k.q[i] + lift.q) + k.rise[i] * t;
}
inline double higher_of(const LinePairs& k, Lift lift, std::size_t i, double t) {
    return std::max(k.p[i] + lift.bend * k.p_bend[i] + lift.p, k.q[i] + lift.q) + k.rise[i] * t;
}

#ifdef __SSE2__
/// A lift, twice.
struct TwoLifts {
    __m128d p;
    __m128d q;
    explicit TwoLifts(Lift lift) : p(_mm_set1_pd(lift.p)), q(_mm_set1_pd(lift.q)) {}
};

/// The pairs i and i + 1, bent.
class TwoPairs {
public:
    TwoPairs(const LinePairs& k, std::size_t i, __m128d bend, __m128d t)
        : p_(_mm_add_pd(_mm_loadu_pd(k.p + i), _mm_mul_pd(bend, _mm_loadu_pd(k.p_bend + i)))),
          q_(_mm_loadu_pd(k.q + i)),
          rise_(_mm_mul_pd(_mm_loadu_pd(k.rise + i), t)) {}
    __m128d lower(const TwoLifts& by) const {
        return _mm_add_pd(_mm_min_pd(_mm_add_pd(p_, by.p), _mm_add_pd(q_, by.q)), rise_);
    }
    __m128d higher(const TwoLifts& by) const {
        return _mm_add_pd(_mm_max_pd(_mm_add_pd(p_, by.p), _mm_add_pd(q_, by.q)), rise_);
    }

private:
    __m128d p_;
    __m128d q_;
    __m128d rise_;
};

inline double least_of(__m128d v) { return std::min(_mm_cvtsd_f64(v), _mm_cvtsd_f64(_mm_unpackhi_pd(v, v))); }
inline double greatest_of(__m128d v) { return std::max(_mm_cvtsd_f64(v), _mm_cvtsd_f64(_mm_unpackhi_pd(v, v))); }

inline double lowest_by_twos(const LinePairs& k, Lift lift, double t) {
    const __m128d at = _mm_set1_pd(t);
    const __m128d bend = _mm_set1_pd(lift.bend);
    const TwoLifts by(lift);
    __m128d even = TwoPairs(k, k.n - 4, bend, at).lower(by);  // so that nothing is left over
    __m128d odd = TwoPairs(k, k.n - 2, bend, at).lower(by);
    for (std::size_t i = 0; i + 4 < k.n; i += 4) {
        even = _mm_min_pd(even, TwoPairs(k, i, bend, at).lower(by));
        odd = _mm_min_pd(odd, TwoPairs(k, i + 2, bend, at).lower(by));
    }
    return least_of(_mm_min_pd(even, odd));
}

inline Band band_by_twos(const LinePairs& k, Lift up, Lift down, double t) {
    const __m128d at = _mm_set1_pd(t);
    const __m128d bend = _mm_set1_pd(up.bend);
    const TwoLifts by(up);
    const TwoLifts down_by(down);
    const TwoPairs last(k, k.n - 2, bend, at);
    __m128d lowest = last.lower(by);
    __m128d highest = last.higher(down_by);
    for (std::size_t i = 0; i + 2 < k.n; i += 2) {
        const TwoPairs two(k, i, bend, at);
        lowest = _mm_min_pd(lowest, two.lower(by));
        highest = _mm_max_pd(highest, two.higher(down_by));
    }
    return {least_of(lowest), greatest_of(highest)};
}
#endif

/// The lowest line of all pairs at t.
inline double lowest(const LinePairs& k, Lift lift, double t) {
#ifdef __SSE2__
    if (k.n >= 4) return lowest_by_twos(k, lift, t);
#endif
    double least = lower_of(k, lift, 0, t);
    for (std::size_t i = 1; i < k.n; ++i) least = std::min(least, lower_of(k, lift, i, t));
    return least;
}

/// The lowest line at t of all pairs lifted by `up`, and the highest of the same pairs lifted by `down`; bent alike.
inline Band band(const LinePairs& k, Lift up, Lift down, double t) {
#ifdef __SSE2__
    if (k.n >= 2) return band_by_twos(k, up, down, t);
#endif
    Band all{lower_of(k, up, 0, t), higher_of(k, down, 0, t)};
    for (std::size_t i = 1; i < k.n; ++i)
        all = {std::min(all.lowest, lower_of(k, up, i, t)), std::max(all.highest, higher_of(k, down, i, t))};
    return all;
}

/// The first pair whose lower line at t is at `height` or below; the last pair when none before it is.
inline std::size_t first_down_to(const LinePairs& k, Lift lift, double t, double height) {
    std::size_t i = 0;
#ifdef __SSE2__
    const __m128d at = _mm_set1_pd(t);
    const __m128d bend = _mm_set1_pd(lift.bend);
    const TwoLifts by(lift);
    while (i + 2 < k.n && _mm_movemask_pd(_mm_cmple_pd(TwoPairs(k, i, bend, at).lower(by), _mm_set1_pd(height))) == 0)
        i += 2;
#endif
    while (i + 1 < k.n && lower_of(k, lift, i, t) > height) ++i;
    return i;
}

}  // namespace offsquare::base
