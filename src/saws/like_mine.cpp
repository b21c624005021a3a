#include "saws/like_mine.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/random.h"
#include "diagnose/prior.h"

namespace offsquare::saws {
namespace {

using diagnose::Hypothesis;
using diagnose::Sizes;

/// One of these by its weight, which need not sum to 1.
template <class List>
std::size_t chosen(const List& list, double u) {
    double sum = 0.0;
    for (const auto& one : list) sum += one.weight;
    double left = u * sum;
    std::size_t i = 0;
    for (const auto& one : list) {
        left -= one.weight;
        if (left < 0.0) return i;
        ++i;
    }
    return list.size() - 1;
}

double usual_size(const diagnose::Lobes& lobes, base::Draws& draws) {
    const shop::Lobe& lobe = lobes[chosen(lobes, draws.uniform())];
    return lobe.mean + lobe.sd * draws.normal();
}

/// The sizes of one hypothesis: its normal distribution by the Cholesky factor of its covariance, where a direction
/// that holds no variance gets none.
Sizes sizes_of(const Hypothesis& h, base::Draws& draws) {
    constexpr std::size_t n = shop::fault_count;
    const std::size_t stride = h.mean.size();
    std::array<std::array<double, n>, n> factor{};
    Sizes sizes{};
    std::array<double, n> z{};
    for (double& one : z) one = draws.normal();
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t k = 0; k <= i; ++k) {
            double left = h.covariance[i * stride + k];
            for (std::size_t m = 0; m < k; ++m) left -= factor[i][m] * factor[k][m];
            if (i == k) factor[i][i] = left > 0.0 ? std::sqrt(left) : 0.0;
            else factor[i][k] = factor[k][k] > 0.0 ? left / factor[k][k] : 0.0;
        }
        sizes[i] = h.mean[i];
        for (std::size_t k = 0; k <= i; ++k) sizes[i] += factor[i][k] * z[k];
    }
    return sizes;
}

Sizes drawn(const session::Findings* findings, base::Draws& draws) {
    const diagnose::Prior& prior = diagnose::declared_prior();
    Sizes sizes{};
    const Hypothesis* h = nullptr;
    if (findings != nullptr && !findings->diagnosis.mixture.hypotheses.empty()) {
        const auto& all = findings->diagnosis.mixture.hypotheses;
        h = &all[chosen(all, draws.uniform())];
        sizes = sizes_of(*h, draws);
    }
    for (std::size_t i = 0; i < sizes.size(); ++i) {
        const bool looked_at = h != nullptr && h->lobe[i] != diagnose::untouched;
        if (!looked_at) sizes[i] = usual_size(prior[i], draws);
        const shop::FaultInfo& f = shop::faults()[i];
        sizes[i] = std::clamp(sizes[i], f.min, f.max);
    }
    return sizes;
}

std::vector<scenario::Override> as_overrides(const Sizes& sizes) {
    std::vector<scenario::Override> out;
    for (const shop::FaultInfo& f : shop::faults()) {
        const double size = sizes[static_cast<std::size_t>(f.fault)];
        out.push_back({fmt::format("faults.{}", f.key),
                       fmt::format("{:.12f} {}", size, f.unit == shop::FaultUnit::mm ? "mm" : "rad")});
    }
    return out;
}

bool gives_a_strip(const scenario::Scenario& s) {
    session::History trial(s, s.seed);
    return trial.act(session::CutTest{true}) && trial.seen().last_test() != nullptr &&
           trial.seen().last_test()->outcome == cut::Outcome::done;
}

}  // namespace

base::Result<scenario::Scenario> like_mine(const Sled& sled, const session::Findings* findings, std::uint64_t seed) {
    scenario::Scenario like = set_up_of(sled).scenario;
    like.title = fmt::format("A saw like {}", sled.name);
    like.story =
        "The sizes and instruments are yours. What is wrong with it is drawn from what your readings leave "
        "possible, and may be as large as on your own saw.";
    like.seed = seed;
    // Without a drawer nothing could be put behind the fence.
    if (like.drawing.drawer.empty()) like.drawing.drawer = scenario::built_in().drawing.drawer;
    constexpr std::uint32_t most = 50;
    for (std::uint32_t i = 0; i < most; ++i) {
        base::Draws draws(seed, base::Purpose::like_mine, i);
        auto s = scenario::with(like, as_overrides(drawn(findings, draws)));
        if (s && gives_a_strip(*s)) return s;
    }
    return base::fail(base::Grade::bad_data,
                      "no saw of these sizes gives a strip: is the board too large for the sled?");
}

}  // namespace offsquare::saws
