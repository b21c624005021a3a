#include "diagnose/bells.h"

#include <array>
#include <utility>

#include "base/elementary.h"
#include "base/random.h"
#include "diagnose/triangle.h"

namespace offsquare::diagnose::bells {

Bell bell_of(const Foreseen& f, double total) {
    const std::size_t k = f.mean.size();
    Bell bell{f.weight / total, Readings(f.mean.begin(), f.mean.end()), root_of(f.covariance, k), 0.0};
    bell.log_height = diagnose::log_height(bell.root, k);
    return bell;
}

double log_density(const Bell& bell, const Readings& y) {
    const std::size_t k = y.size();
    std::array<double, Readings::static_capacity> z;
    double square = 0.0;
    for (std::size_t i = 0; i < k; ++i) {
        double rest = y[i] - bell.mean[i];
        for (std::size_t n = 0; n < i; ++n) rest -= bell.root[i * k + n] * z[n];
        z[i] = rest / bell.root[i * k + i];
        square += z[i] * z[i];
    }
    return bell.log_height - 0.5 * square;
}

std::vector<Point> points_for(std::size_t k) {
    constexpr std::uint32_t points = 64;
    std::vector<Point> all;
    double sum = 0.0;
    for (std::uint32_t n = 0; n < points; ++n) {
        Point p{{}, 1.0};
        if (k == 1) {
            p.z = {12.0 * (n + 0.5) / points - 6.0};
            p.weight = base::exp_of(-0.5 * p.z[0] * p.z[0]);
        } else {
            for (std::size_t i = 0; i < k; ++i)
                p.z.push_back(base::standard_normal({1, base::Purpose::advice, n, static_cast<std::uint32_t>(i)}));
        }
        sum += p.weight;
        all.push_back(std::move(p));
    }
    for (Point& p : all) p.weight /= sum;
    return all;
}

Readings carried(const Bell& bell, const Readings& z) {
    const std::size_t k = z.size();
    Readings y = bell.mean;
    for (std::size_t i = 0; i < k; ++i) {
        for (std::size_t n = 0; n <= i; ++n) y[i] += bell.root[i * k + n] * z[n];
    }
    return y;
}

}  // namespace offsquare::diagnose::bells
