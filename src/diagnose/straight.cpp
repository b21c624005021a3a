#include "diagnose/straight.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/random.h"
#include "diagnose/memory.h"
#include "diagnose/triangle.h"

namespace offsquare::diagnose {
namespace {

using shop::Fault;
using shop::fault_count;

std::size_t at(Fault fault) { return static_cast<std::size_t>(fault); }

double sd_of(const std::vector<double>& covariance, std::size_t n, std::size_t i) {
    return std::sqrt(std::max(0.0, covariance[i * n + i]));
}

/// What the model expects at one point and about it, for one sighting.
class About {
public:
    About(const Sighting& s, const Model& model, const Sizes& here, double h)
        : s_(s), model_(model), here_(here), h_(h) {}

    /// Adds one direction to the line, by the slopes to both sides; false: the model has no answer to either.
    bool add_slope(Straight& line, std::size_t fault, double sd) const {
        // What lies farther off hardly ever counts.
        const double reach = 1.5 * sd;
        const auto up = value({fault}, {reach});
        const auto down = value({fault}, {-reach});
        if (!up && !down) return false;
        const double above = up ? *up - h_ : h_ - *down;
        const double below = down ? h_ - *down : *up - h_;
        line.gradient[fault] = 0.5 * (above + below) / reach;
        // A bend that moves the answer by less than a tenth of the reading's own noise does not count.
        if (std::abs(above - below) > 0.1 * s_.seen.u) line.bent.push_back(fault);
        return true;
    }

    /// Puts right what the slopes leave over in the bent directions: its mean, its own slopes and its spread.
    void regress(Straight& line, const std::vector<double>& covariance) const {
        const std::size_t k = line.bent.size();
        const std::vector<std::vector<double>> points = standard_points(k);
        const std::vector<double> root = root_of(part_of(covariance, line.gradient.size(), line.bent), k);
        std::vector<double> rest;
        for (const auto& z : points) {
            const std::vector<double> step = times_lower(root, z);
            const auto h = value(line.bent, step);
            if (!h) return;
            rest.push_back(*h - h_);
            for (std::size_t i = 0; i < k; ++i) rest.back() -= line.gradient[line.bent[i]] * step[i];
        }
        put_right(line, root, points, rest);
    }

private:
    std::optional<double> value(const std::vector<std::size_t>& faults, const std::vector<double>& step) const {
        Sizes moved = here_;
        for (std::size_t i = 0; i < faults.size(); ++i) moved[faults[i]] += step[i];
        const auto means = model_.means_of(s_.occasion, moved);
        if (!means) return std::nullopt;
        return (*means)[s_.index];
    }

    /// Standard normal points: in one direction the middles of eight equally likely parts; in several 16 or 32 by
    /// multiples of roots of primes, which fill evenly (Weyl), every second the mirror of the one before. Stretched to
    /// a spread of 1 in each direction and no common one in any two: else what one direction does would be taken for
    /// another's.
    static std::vector<std::vector<double>> standard_points(std::size_t k) {
        constexpr std::array<double, 6> roots{1.4142135623730951, 1.7320508075688772, 2.2360679774997896,
                                              2.6457513110645906, 3.3166247903554,    3.605551275463989};
        const std::size_t n = k == 1 ? 8 : k <= 3 ? 16 : 32;
        std::vector<std::vector<double>> points(n, std::vector<double>(k));
        for (std::size_t i = 0; i < k; ++i) {
            for (std::size_t p = 0; p < n; ++p) {
                const double turn =
                    static_cast<double>(p / 2 + 1) * roots[i % roots.size()] * (i < roots.size() ? 1.0 : 0.5);
                const double z = k == 1 ? base::inverse_normal((static_cast<double>(p) + 0.5) / 8.0)
                                        : (p % 2 == 0 ? 1.0 : -1.0) * base::inverse_normal(turn - std::floor(turn));
                points[p][i] = z;
            }
        }
        std::vector<double> moments(k * k, 0.0);
        for (const auto& z : points) {
            for (std::size_t i = 0; i < k * k; ++i) moments[i] += z[i / k] * z[i % k] / static_cast<double>(n);
        }
        const std::vector<double> root = root_of(moments, k);
        for (auto& z : points) z = against_lower(root, z);
        return points;
    }

    /// Rows and columns of these faults alone.
    static std::vector<double> part_of(const std::vector<double>& covariance, std::size_t states,
                                       const std::vector<std::size_t>& faults) {
        std::vector<double> part;
        for (const std::size_t a : faults) {
            for (const std::size_t b : faults) part.push_back(covariance[a * states + b]);
        }
        return part;
    }

    static void put_right(Straight& line, const std::vector<double>& root,
                          const std::vector<std::vector<double>>& points, const std::vector<double>& rest) {
        const std::size_t k = line.bent.size();
        const double n = static_cast<double>(points.size());
        double mean = 0.0;
        std::vector<double> slope(k, 0.0);
        for (std::size_t p = 0; p < points.size(); ++p) {
            mean += rest[p] / n;
            for (std::size_t i = 0; i < k; ++i) slope[i] += rest[p] * points[p][i] / n;
        }
        double variance = 0.0;
        for (std::size_t p = 0; p < points.size(); ++p) {
            double off = rest[p] - mean;
            for (std::size_t i = 0; i < k; ++i) off -= slope[i] * points[p][i];
            variance += off * off / n;
        }
        line.h += mean;
        line.variance += variance;
        line.bends += variance;
        // From slopes along the standard points to slopes by size: the transposed triangle, from below.
        for (std::size_t i = k; i-- > 0;) {
            for (std::size_t j = i + 1; j < k; ++j) slope[i] -= root[j * k + i] * slope[j];
            slope[i] /= root[i * k + i];
            line.gradient[line.bent[i]] += slope[i];
        }
    }

    const Sighting& s_;
    const Model& model_;
    const Sizes& here_;
    double h_;
};

/// State of the turn that the fence took when it was clamped for this occasion; empty: it was not, or the clamping has
/// no state of its own.
std::optional<std::size_t> clamping_of(const measure::Occasion& occasion, const std::vector<int>& clampings,
                                       std::size_t states) {
    const auto found = std::find(clampings.begin(), clampings.end(), occasion.clamped_again);
    if (occasion.clamped_again == 0 || found == clampings.end()) return std::nullopt;
    return states - static_cast<std::size_t>(clampings.end() - found);
}

/// What is the same for all that agree on the faults that the reading depends on; its variance is that of the bends
/// alone.
std::optional<Straight> line_through(const Sighting& s, const Model& model, const Sizes& here,
                                     const std::vector<double>& covariance, std::size_t states, bool rough) {
    const auto means = model.means_of(s.occasion, here);
    if (!means) return std::nullopt;
    const double h = (*means)[s.index];
    Straight line{h, 0.0, 0.0, std::vector<double>(states, 0.0), {}};
    const About about(s, model, here, h);
    for (const Fault fault : s.faults) {
        const double sd = sd_of(covariance, states, at(fault));
        if (sd > 0.0 && !about.add_slope(line, at(fault), sd)) return std::nullopt;
    }
    if (!rough && !line.bent.empty()) about.regress(line, covariance);
    return line;
}

std::vector<double> key_of(const Sighting& s, const Sizes& here, const std::vector<double>& covariance,
                           std::size_t states) {
    std::vector<double> key;
    key.reserve(1 + s.faults.size() * (1 + s.faults.size()));
    key.push_back(static_cast<double>(s.index));
    for (const Fault fault : s.faults) {
        key.push_back(here[at(fault)]);
        for (const Fault other : s.faults) key.push_back(covariance[at(fault) * states + at(other)]);
    }
    return key;
}

/// A clamping turns the fence as skew does. Without a state of its own its turn is chance.
void add_clamping(Straight& line, const Sizes& here, const std::optional<std::size_t>& state) {
    const double slope = line.gradient[at(Fault::fence_skew)];
    const double turn = here[at(Fault::clamp_creep)] * slope;
    if (state) line.gradient[*state] = slope;
    else line.variance += turn * turn;
}

std::optional<double> chance_of(const Sighting& s, const Model& model, const Sizes& sizes) {
    const double off = model.variance_off(s.occasion.check);
    if (model.chance) return model.chance(s.occasion, sizes)[s.index] + off;
    const auto answer = model(s.occasion, sizes);
    if (!answer) return std::nullopt;
    return answer->variance[s.index] + off;
}

}  // namespace

Sizes sizes_of(const std::vector<double>& mean) {
    Sizes sizes{};
    std::copy_n(mean.begin(), fault_count, sizes.begin());
    return sizes;
}

Sizes sizes_on(const measure::Occasion& occasion, const std::vector<int>& clampings,
               const std::vector<double>& states) {
    Sizes sizes = sizes_of(states);
    if (const auto clamping = clamping_of(occasion, clampings, states.size()))
        sizes[at(Fault::fence_skew)] += states[*clamping];
    return sizes;
}

double noise_of(double fresh_variance, double chance) {
    constexpr double always_left = 0.05;
    return std::max(fresh_variance + chance, always_left * fresh_variance);
}

double noise_of(const Sighting& s, double chance) {
    const double lasting = s.lasting ? s.seen.u_lasting : 0.0;
    // Exact readings still leave a rounding's worth of noise, so that nothing divides by zero.
    constexpr double least = 1e-18;
    return noise_of(std::max(0.0, s.seen.u * s.seen.u - lasting * lasting), chance) + least;
}

std::vector<double> times(const std::vector<double>& matrix, const std::vector<double>& vector) {
    const std::size_t n = vector.size();
    std::vector<double> out(n, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        if (vector[i] == 0.0) continue;
        // The matrix is symmetric: its row serves as its column.
        for (std::size_t k = 0; k < n; ++k) out[k] += matrix[i * n + k] * vector[i];
    }
    return out;
}

std::size_t Straightener::HashOf::operator()(const std::vector<double>& key) const {
    MixedBits bits;
    for (const double x : key) bits.add(x);
    return bits.hash();
}

std::optional<double> Straightener::chance(const Sighting& s, const Sizes& sizes) {
    std::vector<double> key;
    key.reserve(sizes.size() + 1);
    key.assign(sizes.begin(), sizes.end());
    key.push_back(static_cast<double>(s.index));
    auto found = chances_.find(key);
    if (found == chances_.end()) found = chances_.emplace(std::move(key), chance_of(s, model_, sizes)).first;
    return found->second;
}

std::optional<Straight> Straightener::over(const Sighting& s, const std::vector<double>& mean,
                                           const std::vector<double>& covariance, const std::vector<double>& now) {
    const Sizes here = sizes_on(s.occasion, clampings_, mean);
    const auto clamping = clamping_of(s.occasion, clampings_, mean.size());
    std::vector<double> key = key_of(s, here, covariance, mean.size());
    auto found = known_.find(key);
    if (found == known_.end())
        found = known_.emplace(std::move(key), line_through(s, model_, here, covariance, mean.size(), rough_)).first;
    if (!found->second) return std::nullopt;
    const auto scatter = chance(s, sizes_of(now));
    if (!scatter) return std::nullopt;
    Straight line = *found->second;
    line.variance += *scatter;
    if (s.lasting) {
        line.gradient[*s.lasting] = 1.0;
        line.h += mean[*s.lasting];
    }
    if (s.occasion.clamped_again > 0) add_clamping(line, sizes_of(now), clamping);
    return line;
}

}  // namespace offsquare::diagnose
