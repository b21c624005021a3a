#include "diagnose/infer.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "diagnose/quantile.h"
#include "diagnose/put_right.h"

namespace offsquare::diagnose {
namespace {

using measure::Check;
using measure::CheckReport;
using shop::Fault;
using shop::fault_count;

// ---- the readings in the order in which they are weighed ----

struct Item {
    std::size_t report = 0;
    measure::Occasion occasion;
    std::vector<Observable> seen;
    Seen faults;
    std::optional<measure::Going> felt{};  ///< what a push said
    int times = 1;                         ///< reports taken together
};

std::optional<measure::Going> felt_in(const CheckReport& report, const shop::Drawing& drawing) {
    if (report.occasion.check != Check::push_through) return std::nullopt;
    return measure::going_of(report.readings.front().value, drawing);
}

/// By the last push.
measure::Going felt_in(const std::vector<Item>& items) {
    measure::Going felt = measure::Going::goes;
    std::size_t last = 0;
    for (const Item& item : items) {
        if (!item.felt || item.report < last) continue;
        felt = *item.felt;
        last = item.report;
    }
    return felt;
}

/// The same saws, but for those whose sled does not go as it was felt.
Model as_felt(const Model& model, measure::Going felt) {
    if (felt == measure::Going::goes || !model.felt) return model;
    Model out = model;
    out.goes = [how = model.felt, felt](const Sizes& sizes) { return how(sizes) == felt; };
    out.memory = nullptr;
    return out;
}

struct Sum {
    std::vector<Observable> of;  ///< values, and squares of u
    double n = 0.0;
};

std::vector<Observable> mean_of(const Sum& sum) {
    std::vector<Observable> mean = sum.of;
    for (Observable& o : mean) o = {o.value / sum.n, std::sqrt(o.u) / sum.n, o.u_lasting};
    return mean;
}

/// No further apart than what is new each time, and one step of the display.
bool agree(const Observable& a, const Observable& b, double step) {
    return std::abs(a.value - b.value) <= 6.0 * std::sqrt(a.u * a.u + b.u * b.u) + step;
}

/// A sticking caliper reads the same size the same way again, so that repeats are no news of its steps: they are one
/// reading, their mean. What is new each time is in u. Repeats that do not agree stay apart: one of them is wrong.
bool taken_together(const Item& item, const Sum& sum, const measure::Occasion& occasion,
                    const std::vector<Observable>& seen) {
    if (item.occasion != occasion || !measure::same_sizes_by_caliper(occasion.check)) return false;
    const std::vector<Observable> mean = mean_of(sum);
    const double step = shop::info(Fault::caliper_step).max;
    return std::equal(seen.begin(), seen.end(), mean.begin(),
                      [&](const Observable& a, const Observable& b) { return agree(a, b, step); });
}

void add(Sum& sum, const std::vector<Observable>& seen) {
    sum.of.resize(seen.size());
    for (std::size_t i = 0; i < seen.size(); ++i)
        sum.of[i] = {sum.of[i].value + seen[i].value, sum.of[i].u + seen[i].u * seen[i].u, seen[i].u_lasting};
    sum.n += 1.0;
}

base::Result<std::vector<Item>> items_of(std::span<const CheckReport> reports, const shop::Drawing& drawing,
                                         const Model& model, const Prior& prior) {
    std::vector<Item> items;
    std::vector<Sum> sums;
    for (std::size_t i = 0; i < reports.size(); ++i) {
        const measure::Occasion& occasion = reports[i].occasion;
        const auto seen = observe(reports[i], drawing);
        if (!seen) return tl::unexpected(seen.error());
        std::size_t which = 0;
        while (which < items.size() && !taken_together(items[which], sums[which], occasion, *seen)) ++which;
        if (which == items.size()) {
            items.push_back({i, occasion, {}, seen_by(occasion, model, prior), felt_in(reports[i], drawing)});
            sums.emplace_back();
        }
        add(sums[which], *seen);
    }
    for (std::size_t i = 0; i < items.size(); ++i) {
        items[i].seen = mean_of(sums[i]);
        items[i].times = static_cast<int>(sums[i].n);
    }
    return items;
}

std::size_t untouched_in(const Item& item, const std::array<bool, fault_count>& touched) {
    return static_cast<std::size_t>(std::count_if(item.faults.any.begin(), item.faults.any.end(),
                                                  [&](Fault f) { return !touched[static_cast<std::size_t>(f)]; }));
}

/// Those that depend on the fewest sizes first, and of these the one that opens the fewest new questions: a
/// straightedge decides about the bow before a test cut has to ask about everything at once. It keeps the list of
/// hypotheses short, and nothing that the later readings need is dropped early. And what a gauge tells of one size
/// straightens what the others say of several: which of two runners stops a wiggle is all but known once each has been
/// measured.
std::vector<Item> narrow_first(std::vector<Item> items) {
    std::vector<Item> order;
    std::array<bool, fault_count> touched{};
    while (!items.empty()) {
        const auto next = std::min_element(items.begin(), items.end(), [&](const Item& a, const Item& b) {
            const auto opens = [&](const Item& i) {
                return std::pair{i.faults.value.size(), untouched_in(i, touched)};
            };
            return opens(a) < opens(b);
        });
        for (const Fault f : next->faults.any) touched[static_cast<std::size_t>(f)] = true;
        order.push_back(std::move(*next));
        items.erase(next);
    }
    return order;
}

// ---- lasting errors: one state for each observable that has one, so that a repeat counts as what it adds ----

/// Where reports differ in it, the smallest.
LastingErrors lasting_of(const std::vector<Item>& items) {
    LastingErrors lasting;
    for (const Item& item : items) {
        for (std::size_t i = 0; i < item.seen.size(); ++i) {
            const double sd = item.seen[i].u_lasting;
            if (sd <= 0.0) continue;
            const auto [found, fresh] = lasting.try_emplace({item.occasion.check, i}, sd);
            if (!fresh) found->second = std::min(found->second, sd);
        }
    }
    return lasting;
}

/// Clampings after which something was read.
std::vector<int> clampings_of(const std::vector<Item>& items) {
    std::vector<int> clampings;
    for (const Item& item : items) {
        const int n = item.occasion.clamped_again;
        if (n > 0 && std::find(clampings.begin(), clampings.end(), n) == clampings.end()) clampings.push_back(n);
    }
    return clampings;
}

// ---- weighing, and what does not fit ----

/// What every weighing needs.
struct Handed {
    const Model& model;
    const Prior& prior;
};

struct Weighed {
    Mixture mixture;
    std::vector<Contradiction> contradictions;
};

void weigh(const Item& item, const Handed& handed, Weighed& w) {
    touch(w.mixture, handed.prior, item.faults.any, handed.model);
    for (std::size_t i = 0; i < item.seen.size(); ++i) {
        Sighting sighting{item.occasion, i, item.seen[i], std::nullopt, item.faults.value};
        if (const auto found = w.mixture.lasting.find({item.occasion.check, i}); found != w.mixture.lasting.end()) {
            sighting.lasting = found->second.state;
            sighting.seen.u_lasting = found->second.sd;
        }
        const Fit fit = assimilate(w.mixture, sighting, handed.model, handed.prior);
        if (fit.oddness < odd) w.contradictions.push_back({item.occasion, item.report, i, fit.oddness, fit.deviations});
    }
}

Weighed weigh_all(const std::vector<Item>& order, const Handed& handed) {
    const Model model = as_felt(handed.model, felt_in(order));
    Weighed w{start(handed.prior, lasting_of(order), clampings_of(order)), {}};
    for (const Item& item : order) weigh(item, {model, handed.prior}, w);
    return w;
}

/// Of the oddest of one report: probability, and where that is too small to compare the distance, which falls as it
/// grows.
using Oddness = std::pair<double, double>;

Oddness oddest_of(const std::vector<Contradiction>& list) {
    Oddness least{odd, 0.0};
    for (const Contradiction& c : list) least = std::min(least, {c.oddness, -c.deviations});
    return least;
}

bool share_a_fault(const Item& a, const Item& b) {
    return std::any_of(a.faults.any.begin(), a.faults.any.end(), [&](Fault f) {
        return std::find(b.faults.any.begin(), b.faults.any.end(), f) != b.faults.any.end();
    });
}

/// How odd one report is to all others: it is weighed last.
std::vector<Contradiction> against_the_others(std::size_t which, std::vector<Item> items, const Handed& handed) {
    const Item one = items[which];
    items.erase(items.begin() + static_cast<std::ptrdiff_t>(which));
    std::vector<Item> order = narrow_first(std::move(items));
    order.push_back(one);
    std::vector<Contradiction> found;
    for (const Contradiction& c : weigh_all(order, handed).contradictions) {
        if (c.report == one.report) found.push_back(c);
    }
    return found;
}

bool odd_alone(const Item& item, const Handed& handed) { return !weigh_all({item}, handed).contradictions.empty(); }

/// The same check, made again with the same shims, read the same as far as the instrument goes.
bool say_the_same(const Item& a, const Item& b) {
    const bool alike = a.occasion.check == b.occasion.check && a.occasion.behind_left_mm == b.occasion.behind_left_mm &&
                       a.occasion.behind_right_mm == b.occasion.behind_right_mm;
    return alike && std::equal(a.seen.begin(), a.seen.end(), b.seen.begin(), b.seen.end(),
                               [](const Observable& x, const Observable& y) { return agree(x, y, 0.0); });
}

/// Odd by itself, and read twice or more to the same: the saw is odd, and not the reading.
bool read_again_alike(const Item& item, const std::vector<Item>& items, const Handed& handed) {
    const bool again = item.times > 1 || std::any_of(items.begin(), items.end(), [&](const Item& other) {
                           return other.report != item.report && say_the_same(item, other);
                       });
    return again && odd_alone(item, handed);
}

/// Weighed one after the other, it is the later one of two that seems odd. Here each is held against all others, and
/// the oddest is it; before it one that is odd by itself. Empty: none is odd to all others together, which means that
/// those that seemed odd have another that says the same.
std::vector<Contradiction> the_odd_one(const std::vector<Contradiction>& seemed, const std::vector<Item>& items,
                                       const Handed& handed) {
    const auto flagged =
        std::find_if(items.begin(), items.end(), [&](const Item& i) { return i.report == seemed.front().report; });
    std::vector<Item> near;
    for (const Item& item : items) {
        if (share_a_fault(item, *flagged)) near.push_back(item);
    }
    std::vector<Contradiction> best;
    Oddness least{odd, 0.0};
    bool best_is_alone = false;
    for (std::size_t i = 0; i < near.size(); ++i) {
        if (read_again_alike(near[i], near, handed)) continue;
        auto found = against_the_others(i, near, handed);
        if (found.empty()) continue;
        const bool alone = odd_alone(near[i], handed);
        if (alone < best_is_alone || (alone == best_is_alone && oddest_of(found) >= least)) continue;
        least = oddest_of(found);
        best = std::move(found);
        best_is_alone = alone;
    }
    for (Contradiction& c : best) c.unexplained = best_is_alone;
    return best;
}

/// What is odd, and the readings that are left without it.
struct Parted {
    std::vector<Contradiction> odd;
    std::vector<Item> rest;
    Weighed weighed;  ///< of the rest
};

/// The odd ones by turns: what is found is left out, and the rest looked at again.
Parted part(Weighed all, std::vector<Item> items, const Handed& handed) {
    Parted parted{{}, std::move(items), std::move(all)};
    while (!parted.weighed.contradictions.empty()) {
        std::vector<Contradiction> found = the_odd_one(parted.weighed.contradictions, parted.rest, handed);
        if (found.empty()) break;
        const auto is_it = [&](const Item& i) { return i.report == found.front().report; };
        const auto item = std::find_if(parted.rest.begin(), parted.rest.end(), is_it);
        for (Contradiction& c : found) c.touches = item->faults.any;
        parted.rest.erase(item);
        parted.odd.insert(parted.odd.end(), found.begin(), found.end());
        parted.weighed = weigh_all(narrow_first(parted.rest), handed);
    }
    return parted;
}

/// What has become of each since: a check that was made again settles what its odd reading left open.
void look_at_repeats(std::vector<Contradiction>& all, std::span<const CheckReport> reports) {
    const auto is_odd = [&](std::size_t report) {
        return std::any_of(all.begin(), all.end(), [&](const Contradiction& c) { return c.report == report; });
    };
    for (Contradiction& c : all) {
        bool again = false;
        for (std::size_t i = 0; i < reports.size(); ++i) {
            if (i == c.report || reports[i].occasion.check != c.occasion.check) continue;
            c.settled = c.settled || (i > c.report && !is_odd(i));
            again = again || i > c.report || is_odd(i);
        }
        c.to_read_again = !again;
    }
}

// ---- what is believed of one fault ----

/// A normal part of the belief about one size, and whether the fault is there in it.
struct Piece {
    Share share;
    bool present = false;
};

std::vector<Piece> parts_of(std::size_t f, const Mixture& mixture, const Prior& prior) {
    std::vector<Piece> parts;
    if (mixture.hypotheses.front().lobe[f] == untouched) {
        for (const Lobe& l : prior[f]) parts.push_back({{l.weight, l.mean, l.sd}, l.present});
        return parts;
    }
    for (const Hypothesis& h : mixture.hypotheses) {
        parts.push_back({{h.weight, h.mean[f], std::sqrt(std::max(0.0, h.covariance[f * h.mean.size() + f]))},
                         prior[f][h.lobe[f]].present});
    }
    return parts;
}

/// That a fault is there on a saw of which nobody knows more than that its sled goes.
double before_reading(Fault fault, const Mixture& mixture, const Prior& prior, const Model& model) {
    const auto binding = std::find(model.binding.begin(), model.binding.end(), fault);
    if (!mixture.going || binding == model.binding.end()) return probability_of(prior[static_cast<std::size_t>(fault)]);
    double there = 0.0;
    double all = 0.0;
    for (const auto& [lobes, part] : *mixture.going) {
        double weight = part.share;
        for (std::size_t i = 0; i < lobes.size(); ++i)
            weight *= prior[static_cast<std::size_t>(model.binding[i])][lobes[i]].weight;
        const auto own = static_cast<std::size_t>(binding - model.binding.begin());
        if (prior[static_cast<std::size_t>(fault)][lobes[own]].present) there += weight;
        all += weight;
    }
    return all > 0.0 ? there / all : probability_of(prior[static_cast<std::size_t>(fault)]);
}

/// The fault's own, widened by a prior that is declared for other sizes.
base::Interval range_of(const shop::FaultInfo& fault, const Prior& prior) {
    base::Interval range{fault.min, fault.max};
    for (const Lobe& l : prior[static_cast<std::size_t>(fault.fault)]) {
        if (l.mean - l.sd >= fault.min && l.mean + l.sd <= fault.max) continue;
        range.lo = std::min(range.lo, l.mean - 10.0 * l.sd);
        range.hi = std::max(range.hi, l.mean + 10.0 * l.sd);
    }
    return range;
}

Belief belief_of(const shop::FaultInfo& fault, const Mixture& mixture, const Prior& prior, const Model& model) {
    const auto f = static_cast<std::size_t>(fault.fault);
    const std::vector<Piece> parts = parts_of(f, mixture, prior);
    Belief b;
    b.fault = fault.fault;
    b.before = before_reading(fault.fault, mixture, prior, model);
    std::vector<Share> shares;
    for (const Piece& p : parts) {
        b.probability += p.present ? p.share.weight : 0.0;
        b.size += p.share.weight * p.share.mean;
        shares.push_back(p.share);
    }
    double variance = 0.0;
    for (const Share& p : shares) variance += p.weight * (p.sd * p.sd + (p.mean - b.size) * (p.mean - b.size));
    b.u = std::sqrt(variance);
    // Normal distributions know no range. Their tails, and those of a reading far out, end where the model does.
    const base::Interval range = range_of(fault, prior);
    const auto within = [&](double size) { return std::clamp(size, range.lo, range.hi); };
    b.probability = std::clamp(b.probability, 0.0, 1.0);
    b.size = within(b.size);
    b.coverage95 = {within(quantile(shares, 0.025)), within(quantile(shares, 0.975))};
    return b;
}

// ---- what cannot be told apart ----

/// How two faults go together over the hypotheses.
struct Together {
    double presence = 0.0;  ///< correlation of "a is there" with "b is there"
    double sizes = 0.0;     ///< correlation of the sizes
};

double correlation(double ab, double a, double b, double aa, double bb) {
    const double va = aa - a * a;
    const double vb = bb - b * b;
    return va > 0.0 && vb > 0.0 ? (ab - a * b) / std::sqrt(va * vb) : 0.0;
}

Together together(const Diagnosis& d, const Prior& prior, std::size_t a, std::size_t b) {
    const Belief& x = d.beliefs[a];
    const Belief& y = d.beliefs[b];
    double both_present = 0.0;
    double covariance = 0.0;
    for (const Hypothesis& h : d.mixture.hypotheses) {
        if (prior[a][h.lobe[a]].present && prior[b][h.lobe[b]].present) both_present += h.weight;
        covariance += h.weight * (h.covariance[a * h.mean.size() + b] + (h.mean[a] - x.size) * (h.mean[b] - y.size));
    }
    const double sizes = x.u > 0.0 && y.u > 0.0 ? covariance / (x.u * y.u) : 0.0;
    return {correlation(both_present, x.probability, y.probability, x.probability, y.probability), sizes};
}

bool open(const Belief& b) { return b.touched && b.probability > 0.05 && b.probability < 0.95; }
bool vague(const Belief& b) { return b.touched && b.probability > 0.05 && b.u > 0.5 * shop::info(b.fault).teachable; }

/// Two faults stand for each other when more of the one means less of the other: both are in question and exclude each
/// other, or both sizes are vague and move together.
std::vector<LookAlikes> unseparated(const Diagnosis& d, const Prior& prior) {
    std::vector<LookAlikes> pairs;
    for (std::size_t a = 0; a < fault_count; ++a) {
        for (std::size_t b = a + 1; b < fault_count; ++b) {
            const Belief& x = d.beliefs[a];
            const Belief& y = d.beliefs[b];
            if (!x.touched || !y.touched) continue;
            const Together t = together(d, prior, a, b);
            const bool exclude = open(x) && open(y) && t.presence < -0.2;
            const bool share = vague(x) && vague(y) && std::abs(t.sizes) > 0.7;
            if (exclude || share) pairs.push_back({x.fault, y.fault});
        }
    }
    return pairs;
}

}  // namespace

base::Result<Diagnosis> infer(std::span<const CheckReport> reports, const shop::Drawing& drawing, const Model& model,
                              const Prior& prior, TheOdd the_odd) {
    auto items = items_of(reports, drawing, model, prior);
    if (!items) return tl::unexpected(items.error());
    const Handed handed{model, prior};
    Weighed all = weigh_all(narrow_first(*items), handed);
    // Thousands of hypotheses: a copy of them only where it is wanted.
    std::optional<Weighed> with_the_odd;
    if (the_odd == TheOdd::kept) with_the_odd = all;
    Parted parted = part(std::move(all), *items, handed);
    if (with_the_odd) {
        parted.rest = std::move(*items);
        parted.weighed = std::move(*with_the_odd);
    }
    Diagnosis d;
    d.felt = felt_in(parted.rest);
    put_right(parted.weighed.mixture, prior, as_felt(model, d.felt));
    d.mixture = std::move(parted.weighed.mixture);
    d.contradictions = std::move(parted.odd);
    look_at_repeats(d.contradictions, reports);
    for (const shop::FaultInfo& fault : shop::faults())
        d.beliefs[static_cast<std::size_t>(fault.fault)] = belief_of(fault, d.mixture, prior, model);
    for (const Item& item : parted.rest) {
        for (const Fault f : item.faults.any) d.beliefs[static_cast<std::size_t>(f)].touched = true;
    }
    for (const Contradiction& c : d.contradictions) {
        for (const Fault f : c.touches) d.beliefs[static_cast<std::size_t>(f)].disputed |= !c.settled;
    }
    for (const CheckReport& report : reports) d.made.push_back(report.occasion);
    d.unseparated = unseparated(d, prior);
    return d;
}

}  // namespace offsquare::diagnose
