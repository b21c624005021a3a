#include "diagnose/lobes.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "base/random.h"
#include "diagnose/memory.h"

namespace offsquare::diagnose {
namespace {

using shop::Fault;

std::size_t at(Fault fault) { return static_cast<std::size_t>(fault); }

/// The turns of the clampings are as large as the creep of this lobe is.
void spread_clampings(Hypothesis& h, const Lobe& creep, std::size_t clampings) {
    const std::size_t n = h.mean.size();
    for (std::size_t i = n - clampings; i < n; ++i)
        h.covariance[i * n + i] = creep.mean * creep.mean + creep.sd * creep.sd;
}

Hypothesis with_lobe(const Hypothesis& h, Fault fault, const Lobe& lobe, std::size_t which, std::size_t clampings) {
    Hypothesis out = h;
    const std::size_t n = out.mean.size();
    out.lobe[at(fault)] = static_cast<std::uint8_t>(which);
    out.weight *= lobe.weight;
    out.mean[at(fault)] = lobe.mean;
    out.covariance[at(fault) * n + at(fault)] = lobe.sd * lobe.sd;
    if (fault == Fault::clamp_creep) spread_clampings(out, lobe, clampings);
    return out;
}

// ---- faults that bind ----

/// One choice of lobes, and the part of it that goes. Mean and covariance by the faults that bind, in their order.
struct Choice {
    std::vector<std::uint8_t> lobes;
    double weight = 0.0;
    double share = 1.0;  ///< of it that goes
    std::vector<double> mean;
    std::vector<double> covariance;
};

const Lobe& lobe_of(const Choice& c, std::size_t i, const Prior& prior, const Model& model) {
    return prior[at(model.binding[i])][c.lobes[i]];
}

std::vector<Choice> all_choices(const Prior& prior, const Model& model) {
    std::vector<Choice> all{{{}, 1.0, 1.0, {}, {}}};
    for (const Fault fault : model.binding) {
        std::vector<Choice> more;
        for (const Choice& c : all) {
            for (std::size_t k = 0; k < prior[at(fault)].size(); ++k) {
                more.push_back(c);
                more.back().lobes.push_back(static_cast<std::uint8_t>(k));
                more.back().weight *= prior[at(fault)][k].weight;
            }
        }
        all = std::move(more);
    }
    return all;
}

/// A saw of this choice, each size so many deviations off its lobe's mean.
std::vector<double> saw_of(const Choice& c, const std::vector<double>& z, const Prior& prior, const Model& model) {
    std::vector<double> sizes;
    sizes.reserve(z.size());
    for (std::size_t i = 0; i < z.size(); ++i) {
        const Lobe& lobe = lobe_of(c, i, prior, model);
        sizes.push_back(lobe.mean + lobe.sd * z[i]);
    }
    return sizes;
}

bool goes(const std::vector<double>& saw, const Prior& prior, const Model& model) {
    Sizes sizes{};
    for (std::size_t i = 0; i < sizes.size(); ++i) sizes[i] = prior[i].front().mean;
    for (std::size_t i = 0; i < saw.size(); ++i) sizes[at(model.binding[i])] = saw[i];
    return model.goes(sizes);
}

// A few draws tell whether a choice goes as it is; the many are for those of which a part goes, and for rare ones of
// which hardly any does.
constexpr std::uint32_t few = 48;
constexpr std::uint32_t draws = 8 * few;

/// Normal draws, the second half the first mirrored, so that their mean is 0.
std::vector<std::vector<double>> standard_draws(std::size_t n) {
    std::vector<std::vector<double>> all;
    for (std::uint32_t k = 0; k < draws; ++k) {
        std::vector<double> z;
        for (std::uint32_t i = 0; i < n; ++i)
            z.push_back((k % 2 == 0 ? 1.0 : -1.0) * base::standard_normal({1, base::Purpose::advice, k / 2, 1000 + i}));
        all.push_back(std::move(z));
    }
    return all;
}

void as_normal(Choice& c, const std::vector<std::vector<double>>& saws) {
    const std::size_t n = c.lobes.size();
    c.mean.assign(n, 0.0);
    c.covariance.assign(n * n, 0.0);
    for (const auto& saw : saws) {
        for (std::size_t i = 0; i < n; ++i) c.mean[i] += saw[i] / static_cast<double>(saws.size());
    }
    for (const auto& saw : saws) {
        for (std::size_t i = 0; i < n * n; ++i)
            c.covariance[i] +=
                (saw[i / n] - c.mean[i / n]) * (saw[i % n] - c.mean[i % n]) / static_cast<double>(saws.size());
    }
}

void as_declared(Choice& c, const Prior& prior, const Model& model) {
    const std::size_t n = c.lobes.size();
    c.mean.clear();
    c.covariance.assign(n * n, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        const Lobe& lobe = lobe_of(c, i, prior, model);
        c.mean.push_back(lobe.mean);
        c.covariance[i * n + i] = lobe.sd * lobe.sd;
    }
}

/// Of the draws from `from` to `to`, those that go.
void add_going(std::vector<std::vector<double>>& going, const Choice& c, const std::vector<std::vector<double>>& zs,
               std::size_t from, std::size_t to, const Prior& prior, const Model& model) {
    for (std::size_t i = from; i < to; ++i) {
        auto saw = saw_of(c, zs[i], prior, model);
        if (goes(saw, prior, model)) going.push_back(std::move(saw));
    }
}

/// How many draws at first, and how many in all where only a part of them goes. A choice that is hardly believed in is
/// not worth many.
struct Effort {
    std::size_t first = few;
    std::size_t most = draws;
};
Effort effort_for(double weight) {
    if (weight < 1e-4) return {few / 4, few};
    if (weight < 1e-3) return {few / 2, 2 * few};
    if (weight < 1e-2) return {few, 4 * few};
    return {};
}

/// Keeps of one choice what goes. Too few draws tell no covariance: then the lobe's own stays, about their mean.
void keep_what_goes(Choice& c, const std::vector<std::vector<double>>& zs, const Prior& prior, const Model& model) {
    std::vector<std::vector<double>> going;
    const Effort effort = effort_for(c.weight);
    std::size_t tried = effort.first;
    add_going(going, c, zs, 0, tried, prior, model);
    if (going.size() < tried) {
        add_going(going, c, zs, tried, effort.most, prior, model);
        tried = effort.most;
    }
    c.share = static_cast<double>(going.size()) / static_cast<double>(tried);
    c.weight *= c.share;
    as_declared(c, prior, model);
    if (going.empty() || going.size() == tried) return;
    const std::vector<double> declared = c.covariance;
    as_normal(c, going);
    if (going.size() < 3 * c.lobes.size()) c.covariance = declared;
    // Half way back to the lobe's own width: what goes is put right after the last reading (diagnose/put_right.h), and
    // the points drawn then must reach all of it.
    for (std::size_t i = 0; i < declared.size(); ++i) c.covariance[i] = 0.5 * (c.covariance[i] + declared[i]);
}

std::vector<Choice> choices_that_go(const Prior& prior, const Model& model) {
    std::vector<Choice> all = all_choices(prior, model);
    const auto zs = standard_draws(model.binding.size());
    double total = 0.0;
    for (Choice& c : all) {
        keep_what_goes(c, zs, prior, model);
        total += c.weight;
    }
    if (total > 0.0) return all;
    all = all_choices(prior, model);
    for (Choice& c : all) as_declared(c, prior, model);
    return all;
}

Hypothesis with_choice(const Hypothesis& h, const Choice& c, const Model& model) {
    Hypothesis out = h;
    const std::size_t n = out.mean.size();
    const std::size_t k = c.lobes.size();
    out.weight *= c.weight;
    for (std::size_t i = 0; i < k; ++i) {
        const std::size_t a = at(model.binding[i]);
        out.lobe[a] = c.lobes[i];
        out.mean[a] = c.mean[i];
        for (std::size_t j = 0; j < k; ++j) out.covariance[a * n + at(model.binding[j])] = c.covariance[i * k + j];
    }
    return out;
}

}  // namespace

class GoingMemory {
public:
    /// Good until the thread asks for another prior.
    const std::vector<Choice>& of(const Prior& prior, const Model& model) {
        std::optional<Known>& known = known_.mine();
        if (!known || known->prior != prior) known = Known{prior, choices_that_go(prior, model)};
        return known->choices;
    }

private:
    struct Known {
        Prior prior;
        std::vector<Choice> choices;
    };
    OnePerThread<std::optional<Known>> known_;
};

std::shared_ptr<GoingMemory> new_going_memory() { return std::make_shared<GoingMemory>(); }

std::vector<std::size_t> heavy_ones(const std::vector<double>& weights, double& dropped) {
    std::vector<std::size_t> order(weights.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return weights[a] > weights[b]; });
    const double limit = lightest * weights[order.front()];
    std::size_t keep = std::min(order.size(), most_hypotheses);
    while (keep > 1 && weights[order[keep - 1]] < limit) --keep;
    double tail = light_tail;
    while (keep > long_list && weights[order[keep - 1]] < tail) tail -= weights[order[--keep]];
    for (std::size_t i = keep; i < order.size(); ++i) dropped += weights[order[i]];
    order.resize(keep);
    return order;
}

void give(Mixture& mixture, const Lobes& lobes, Fault fault) {
    const std::size_t none = lobes.size();
    std::vector<std::pair<const Hypothesis*, std::size_t>> children;  // of whom, and with which lobe
    std::vector<double> weights;
    for (const Hypothesis& h : mixture.hypotheses) {
        const bool has_one = h.lobe[at(fault)] != untouched;
        for (std::size_t i = has_one ? none : 0; i < none + (has_one ? 1 : 0); ++i) {
            children.emplace_back(&h, i);
            weights.push_back(has_one ? h.weight : h.weight * lobes[i].weight);
        }
    }
    std::vector<Hypothesis> list;
    const std::vector<std::size_t> heavy = heavy_ones(weights, mixture.dropped);
    list.reserve(heavy.size());
    for (const std::size_t i : heavy) {
        const auto& [h, lobe] = children[i];
        list.push_back(lobe == none ? *h : with_lobe(*h, fault, lobes[lobe], lobe, mixture.clampings.size()));
    }
    mixture.hypotheses = std::move(list);
}

void give_binding(Mixture& mixture, const Prior& prior, const Model& model) {
    if (mixture.hypotheses.front().lobe[at(model.binding.front())] != untouched) return;
    const std::vector<Choice> anew = model.memory ? std::vector<Choice>{} : choices_that_go(prior, model);
    const std::vector<Choice>& choices = model.memory ? model.memory->of(prior, model) : anew;
    auto going = std::make_shared<Going>();
    for (const Choice& c : choices)
        going->emplace(std::vector<std::uint8_t>(c.lobes.begin(), c.lobes.end()),
                       Part{{c.mean, c.covariance}, c.share});
    mixture.going = std::move(going);
    std::vector<Hypothesis> list;
    for (const Hypothesis& h : mixture.hypotheses) {
        for (const Choice& c : choices) {
            if (c.weight > 0.0) list.push_back(with_choice(h, c, model));
        }
    }
    mixture.hypotheses = std::move(list);
}

}  // namespace offsquare::diagnose
