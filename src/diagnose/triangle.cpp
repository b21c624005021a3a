#include "diagnose/triangle.h"

#include <algorithm>
#include <boost/container/small_vector.hpp>
#include <cmath>

#include "base/elementary.h"

namespace offsquare::diagnose {

std::vector<double> root_of(const std::vector<double>& covariance, std::size_t k) {
    std::vector<double> root(k * k, 0.0);
    for (std::size_t i = 0; i < k; ++i) {
        for (std::size_t j = 0; j <= i; ++j) {
            double sum = covariance[i * k + j];
            for (std::size_t n = 0; n < j; ++n) sum -= root[i * k + n] * root[j * k + n];
            if (i == j) root[i * k + j] = std::sqrt(std::max({sum, 1e-12 * covariance[i * k + i], 1e-24}));
            else root[i * k + j] = sum / root[j * k + j];
        }
    }
    return root;
}

std::vector<double> times_lower(const std::vector<double>& root, const std::vector<double>& z) {
    const std::size_t k = z.size();
    std::vector<double> out(k, 0.0);
    for (std::size_t i = 0; i < k; ++i) {
        for (std::size_t j = 0; j <= i; ++j) out[i] += root[i * k + j] * z[j];
    }
    return out;
}

std::vector<double> against_lower(const std::vector<double>& root, const std::vector<double>& x) {
    const std::size_t k = x.size();
    std::vector<double> z(k);
    for (std::size_t i = 0; i < k; ++i) {
        double rest = x[i];
        for (std::size_t n = 0; n < i; ++n) rest -= root[i * k + n] * z[n];
        z[i] = rest / root[i * k + i];
    }
    return z;
}

double square_off(const std::vector<double>& root, const std::vector<double>& mean, const std::vector<double>& x) {
    const std::size_t k = x.size();
    boost::container::small_vector<double, 24> z(k);
    double sum = 0.0;
    for (std::size_t i = 0; i < k; ++i) {
        double rest = x[i] - mean[i];
        for (std::size_t n = 0; n < i; ++n) rest -= root[i * k + n] * z[n];
        z[i] = rest / root[i * k + i];
        sum += z[i] * z[i];
    }
    return sum;
}

double log_height(const std::vector<double>& root, std::size_t k) {
    double sum = 0.0;
    for (std::size_t i = 0; i < k; ++i) sum -= base::log_of(root[i * k + i]);
    return sum;
}

}  // namespace offsquare::diagnose
