// The lowest of many straight lines at one place: what seats the runners and what the blade leaves.
#pragma once

#include <algorithm>
#include <cstddef>

namespace offsquare::base {

/// The least  at_0[i] + rise[i]*t  of n >= 1 lines. Two at a time, so that one need not wait for the other; the least of all is the same in any order.
inline double lowest_line(const double* at_0, const double* rise, std::size_t n, double t) {
    double even = at_0[0] + rise[0] * t;
    double odd = at_0[n - 1] + rise[n - 1] * t;   // so that nothing is left over
    for (std::size_t i = 1; i + 1 < n; i += 2) {
        odd = std::min(odd, at_0[i] + rise[i] * t);
        even = std::min(even, at_0[i + 1] + rise[i + 1] * t);
    }
    return std::min(odd, even);
}

}  // namespace offsquare::base
