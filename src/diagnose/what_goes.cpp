// Notation. q: the normal distribution that a hypothesis has come to; d: density of its lobes; m: density of the normal distribution that it began with. At a place x that goes, q is wrong by
// the factor d(x)/m(x); where nothing goes, by 0 (importance sampling). B: the states of the faults that bind; the others follow B as q has them go together.
#include "diagnose/what_goes.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "base/random.h"
#include "diagnose/triangle.h"

namespace offsquare::diagnose {
namespace {

using shop::Fault;

std::size_t at(Fault fault) { return static_cast<std::size_t>(fault); }

constexpr std::uint32_t draws = 256;

std::vector<double> second_moments(const std::vector<std::vector<double>>& all) {
    const std::size_t k = all.front().size();
    std::vector<double> out(k * k, 0.0);
    for (const auto& z : all) {
        for (std::size_t i = 0; i < k * k; ++i) out[i] += z[i / k] * z[i % k] / static_cast<double>(all.size());
    }
    return out;
}

/// Every second is the mirror of the one before, and all are stretched to a covariance of one: where everything goes, mean and covariance stay what they were.
std::vector<std::vector<double>> standard_places(std::size_t n) {
    std::vector<std::vector<double>> all;
    for (std::uint32_t k = 0; k < draws; ++k) {
        std::vector<double> z;
        for (std::uint32_t i = 0; i < n; ++i) z.push_back(k % 2 == 0 ? base::standard_normal({1, base::Purpose::advice, k / 2, 2000 + i}) : -all.back()[i]);
        all.push_back(std::move(z));
    }
    const std::vector<double> root = root_of(second_moments(all), n);
    for (auto& z : all) z = against_lower(root, z);
    return all;
}

struct Bench {
    const Prior& prior;
    const Model& model;
    std::vector<std::vector<double>> places;
};

/// The faults that bind, out of a hypothesis.
Normal binding_of(const Hypothesis& h, const Model& model) {
    Normal out;
    const std::size_t n = h.mean.size();
    for (const Fault a : model.binding) {
        out.mean.push_back(h.mean[at(a)]);
        for (const Fault b : model.binding) out.covariance.push_back(h.covariance[at(a) * n + at(b)]);
    }
    return out;
}

std::vector<std::uint8_t> lobes_of(const Hypothesis& h, const Model& model) {
    std::vector<std::uint8_t> lobes;
    for (const Fault f : model.binding) lobes.push_back(h.lobe[at(f)]);
    return lobes;
}

bool goes(const std::vector<double>& x, const Hypothesis& h, const Model& model) {
    Sizes sizes{};
    std::copy_n(h.mean.begin(), sizes.size(), sizes.begin());
    for (std::size_t i = 0; i < x.size(); ++i) sizes[at(model.binding[i])] = x[i];
    return model.goes(sizes);
}

std::vector<double> less(std::vector<double> a, const std::vector<double>& b) {
    for (std::size_t i = 0; i < a.size(); ++i) a[i] -= b[i];
    return a;
}

/// log of d/m at a place.
class Against {
public:
    Against(const Hypothesis& h, const Part& began, const Bench& bench) : began_(began), root_(root_of(began.normal.covariance, began.normal.mean.size())), height_(log_height(root_, began.normal.mean.size())) {
        for (const Fault f : bench.model.binding) lobes_.push_back(bench.prior[at(f)][h.lobe[at(f)]]);
    }
    double operator()(const std::vector<double>& x) const {
        double log_d = 0.0;
        for (std::size_t i = 0; i < x.size(); ++i) {
            const double z = (x[i] - lobes_[i].mean) / lobes_[i].sd;
            log_d -= 0.5 * z * z + base::log_of(lobes_[i].sd);
        }
        return log_d - (height_ - 0.5 * square_of(against_lower(root_, less(x, began_.normal.mean))));
    }

private:
    const Part& began_;
    std::vector<double> root_;
    double height_;
    std::vector<Lobe> lobes_;
};

struct Weighted {
    std::vector<std::vector<double>> places;
    std::vector<double> weight;
    double sum = 0.0;
    double squares = 0.0;
    double as_many_as() const { return sum > 0.0 ? sum * sum / squares : 0.0; }   ///< places of equal weight that would tell as much
};

Weighted weighted(const Hypothesis& h, const Normal& now, const Part& began, const Bench& bench) {
    const std::vector<double> root = root_of(now.covariance, now.mean.size());
    const Against against(h, began, bench);
    Weighted w;
    for (const auto& z : bench.places) {
        std::vector<double> x = times_lower(root, z);
        for (std::size_t i = 0; i < x.size(); ++i) x[i] += now.mean[i];
        if (!goes(x, h, bench.model)) continue;
        const double weight = base::exp_of(std::min(against(x), 50.0));
        w.sum += weight;
        w.squares += weight * weight;
        w.places.push_back(std::move(x));
        w.weight.push_back(weight);
    }
    return w;
}

Normal normal_of(const Weighted& w) {
    const std::size_t k = w.places.front().size();
    Normal out{std::vector<double>(k, 0.0), std::vector<double>(k * k, 0.0)};
    for (std::size_t p = 0; p < w.places.size(); ++p) {
        for (std::size_t i = 0; i < k; ++i) out.mean[i] += w.weight[p] / w.sum * w.places[p][i];
    }
    for (std::size_t p = 0; p < w.places.size(); ++p) {
        const std::vector<double> off = less(w.places[p], out.mean);
        for (std::size_t i = 0; i < k * k; ++i) out.covariance[i] += w.weight[p] / w.sum * off[i / k] * off[i % k];
    }
    return out;
}

/// Row by row: how each state moves with the faults that bind, C_nB / C_BB.
std::vector<double> following(const Hypothesis& h, const Normal& now, const Model& model) {
    const std::size_t n = h.mean.size();
    const std::size_t k = now.mean.size();
    const std::vector<double> root = root_of(now.covariance, k);
    std::vector<double> all;
    for (std::size_t s = 0; s < n; ++s) {
        // L*L' x = c, by two triangles.
        std::vector<double> x;
        for (std::size_t i = 0; i < k; ++i) {
            double rest = h.covariance[s * n + at(model.binding[i])];
            for (std::size_t j = 0; j < i; ++j) rest -= root[i * k + j] * x[j];
            x.push_back(rest / root[i * k + i]);
        }
        for (std::size_t i = k; i-- > 0;) {
            for (std::size_t j = i + 1; j < k; ++j) x[i] -= root[j * k + i] * x[j];
            x[i] /= root[i * k + i];
        }
        all.insert(all.end(), x.begin(), x.end());
    }
    return all;
}

void follow(Hypothesis& h, const Normal& was, const Normal& is, const Model& model) {
    const std::size_t n = h.mean.size();
    const std::size_t k = was.mean.size();
    const std::vector<double> slope = following(h, was, model);
    const std::vector<double> step = less(is.mean, was.mean);
    const std::vector<double> more = less(is.covariance, was.covariance);
    for (std::size_t a = 0; a < n; ++a) {
        for (std::size_t i = 0; i < k; ++i) h.mean[a] += slope[a * k + i] * step[i];
        for (std::size_t b = 0; b < n; ++b) {
            for (std::size_t i = 0; i < k * k; ++i) h.covariance[a * n + b] += slope[a * k + i / k] * more[i] * slope[b * k + i % k];
        }
    }
}

void keep_what_goes(Hypothesis& h, const Part& began, const Bench& bench) {
    constexpr double enough = 12.0;
    const Normal now = binding_of(h, bench.model);
    const Weighted w = weighted(h, now, began, bench);
    const bool all_goes = began.share == 1.0 && w.places.size() == draws;
    if (all_goes || w.as_many_as() < enough) return;
    h.weight *= w.sum / (draws * began.share);
    follow(h, now, normal_of(w), bench.model);
}

}  // namespace

void keep_what_goes(Mixture& mixture, const Prior& prior, const Model& model) {
    if (!mixture.going) return;
    constexpr double light = 1e-3;
    const Bench bench{prior, model, standard_places(model.binding.size())};
    double sum = 0.0;
    for (Hypothesis& h : mixture.hypotheses) {
        if (h.weight > light) keep_what_goes(h, mixture.going->at(lobes_of(h, model)), bench);
        sum += h.weight;
    }
    for (Hypothesis& h : mixture.hypotheses) h.weight /= sum;
}

}  // namespace offsquare::diagnose
