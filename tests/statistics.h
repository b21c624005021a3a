// Small statistics of samples, for tests only.
#pragma once

#include <cmath>
#include <numeric>
#include <vector>

namespace statistics {

inline double mean(const std::vector<double>& x) {
    return std::accumulate(x.begin(), x.end(), 0.0) / static_cast<double>(x.size());
}

/// Pearson's coefficient of two samples of the same size.
inline double correlation(const std::vector<double>& a, const std::vector<double>& b) {
    const double ma = mean(a);
    const double mb = mean(b);
    double ab = 0.0;
    double aa = 0.0;
    double bb = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        ab += (a[i] - ma) * (b[i] - mb);
        aa += (a[i] - ma) * (a[i] - ma);
        bb += (b[i] - mb) * (b[i] - mb);
    }
    return ab / std::sqrt(aa * bb);
}

}  // namespace statistics
