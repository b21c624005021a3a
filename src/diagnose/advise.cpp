// Notation. p(y): density of the readings over all hypotheses; p_i(y): under hypothesis i; p_g(y): over the hypotheses
// of one group. What the readings tell about which group it is:  sum_i w_i E_i[ log2 p_g(y)/p(y) ],  g the group of i.
#include "diagnose/advise.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <memory>
#include <numeric>

#include "base/elementary.h"
#include "diagnose/bells.h"

namespace offsquare::diagnose {
namespace {

using bells::Bell;
using bells::bell_of;
using bells::carried;
using bells::log_density;
using bells::Point;
using bells::points_for;
using bells::Readings;
using measure::Check;
using shop::Fault;

constexpr double ln2 = 0.69314718055994530942;
double log2_of(double x) { return base::log_of(x) / ln2; }

/// log2 of p_g(y)/p(y), g the group of bell i. All densities against that of i, which is never nothing where i itself
/// may fall.
double surprise_bits(const std::vector<Bell>& bells, std::span<const int> groups, double weight_of_group, std::size_t i,
                     const Readings& y) {
    // e^-45 of what is there is less than the rounding of the sum, be it never so heavy (diagnose/mixture.h: lightest).
    constexpr double nothing = -45.0;
    const double own = log_density(bells[i], y);
    double all = 0.0;
    double in_group = 0.0;
    for (std::size_t k = 0; k < bells.size(); ++k) {
        const double log_ratio = log_density(bells[k], y) - own;
        if (log_ratio < nothing) continue;
        const double share = bells[k].weight * base::exp_of(std::min(log_ratio, 700.0));
        all += share;
        if (groups[k] == groups[i]) in_group += share;
    }
    return log2_of(in_group / (weight_of_group * all));
}

// ---- from hypotheses with sizes to choices of lobes ----

constexpr std::size_t most = 32;  ///< hypotheses that are asked

void shorten(Mixture& mixture) { mixture.hypotheses.resize(std::min(most, mixture.hypotheses.size())); }

}  // namespace

Mixture head_for_advice(const Mixture& all) {
    const auto end = all.hypotheses.begin() + static_cast<std::ptrdiff_t>(std::min(most, all.hypotheses.size()));
    return {{all.hypotheses.begin(), end}, all.dropped, all.clampings, all.going, all.lasting, all.weighed};
}

namespace {

/// The heaviest hypotheses of a diagnosis, for all checks that are asked about.
class Heaviest {
public:
    Heaviest(const Mixture& mixture, const Prior& prior, const Model& model)
        : prior_(prior), model_(model), as_they_are_(head_for_advice(mixture)) {}

    /// With lobes for the faults that a check would touch. Shortened after each: what comes of a lighter hypothesis is
    /// lighter than what comes of a heavier one by the same lobe.
    Mixture touched(const std::vector<Fault>& faults) {
        Mixture head = touches_guides(faults, model_) ? with_guides() : as_they_are_;
        for (const Fault fault : faults) {
            touch_each(head, prior_, {fault});
            shorten(head);
        }
        double total = 0.0;
        for (const Hypothesis& h : head.hypotheses) total += h.weight;
        for (Hypothesis& h : head.hypotheses) h.weight /= total;
        return head;
    }

private:
    /// The guides are tried on hundreds of saws: once for all checks that look at them.
    const Mixture& with_guides() {
        if (!with_guides_) {
            with_guides_ = as_they_are_;
            touch_guides(*with_guides_, prior_, model_);
            shorten(*with_guides_);
        }
        return *with_guides_;
    }

    const Prior& prior_;
    const Model& model_;
    Mixture as_they_are_;
    std::optional<Mixture> with_guides_{};
};

measure::Occasion with_check(measure::Occasion now, Check check) {
    now.check = check;
    return now;
}

/// What is asked about a hypothesis: hypotheses with the same answer belong together.
using Question = std::function<int(const Hypothesis&)>;

/// Numbers for the answers, as they come.
class Numbers {
public:
    int of(const std::vector<int>& answer) {
        return known_.try_emplace(answer, static_cast<int>(known_.size())).first->second;
    }

private:
    std::map<std::vector<int>, int> known_;
};

/// Made before and bound to read the same, if it is the caliper that is in doubt.
bool stale(const Diagnosis& d, const measure::Occasion& occasion) {
    return measure::same_sizes_by_caliper(occasion.check) &&
           std::find(d.made.begin(), d.made.end(), occasion) != d.made.end();
}

/// While the sled jams nothing is cut. What has no number to foresee is told by the first cut anyway.
bool can_be_made(Check check, const Diagnosis& d) {
    return observables_of(check) > 0 && !(d.jams() && measure::needs_the_sled_to_go(check));
}

/// How much the check tells about the question.
double bits_of(const Question& question, const Diagnosis& d, Heaviest& heaviest, const measure::Occasion& occasion,
               const Model& model, const Prior& prior) {
    if (!can_be_asked(occasion, d)) return 0.0;
    const Seen faults = seen_by(occasion, model, prior);
    const Mixture head = heaviest.touched(faults.any);
    const std::vector<Foreseen> foreseen = foresee(head, occasion, faults.value, model);
    std::vector<int> groups;
    for (const Foreseen& f : foreseen) groups.push_back(question(head.hypotheses[f.of]));
    return information_bits(foreseen, groups);
}

/// 0: absent or never looked at; else to which side.
int standing_in(const Hypothesis& h, std::size_t fault, const Prior& prior) {
    if (h.lobe[fault] == untouched) return 0;
    const Lobe& lobe = prior[fault][h.lobe[fault]];
    return !lobe.present ? 0 : lobe.mean < 0.0 ? -1 : 1;
}

/// Which faults are there, and to which side. Not how large: nobody repairs otherwise for it. While the sled jams, only
/// what may be the cause.
Question which_faults(const Prior& prior, const Diagnosis& d, const Model& model) {
    std::vector<std::size_t> asked;
    for (const shop::FaultInfo& f : shop::faults()) {
        const bool binds = std::find(model.binding.begin(), model.binding.end(), f.fault) != model.binding.end();
        if (binds || !d.jams()) asked.push_back(static_cast<std::size_t>(f.fault));
    }
    return [&prior, asked, numbers = std::make_shared<Numbers>()](const Hypothesis& h) {
        std::vector<int> answer;
        for (const std::size_t i : asked) answer.push_back(standing_in(h, i, prior));
        return numbers->of(answer);
    };
}

/// Whether each of the two is there.
Question which_of(const LookAlikes& pair, const Prior& prior) {
    return [&prior, pair](const Hypothesis& h) {
        const auto there = [&](Fault f) { return standing_in(h, static_cast<std::size_t>(f), prior) != 0 ? 1 : 0; };
        return 2 * there(pair.first) + there(pair.second);
    };
}

}  // namespace

double entropy_bits(std::span<const double> probabilities) {
    double bits = 0.0;
    for (const double p : probabilities) bits -= p > 0.0 ? p * log2_of(p) : 0.0;
    return bits;
}

double information_bits(std::span<const double> weights, std::span<const std::vector<double>> outcome_given) {
    std::vector<double> outcome(outcome_given.front().size(), 0.0);
    double given = 0.0;
    for (std::size_t i = 0; i < weights.size(); ++i) {
        for (std::size_t k = 0; k < outcome.size(); ++k) outcome[k] += weights[i] * outcome_given[i][k];
        given += weights[i] * entropy_bits(outcome_given[i]);
    }
    return entropy_bits(outcome) - given;
}

double information_bits(std::span<const Foreseen> foreseen) {
    std::vector<int> each(foreseen.size());
    std::iota(each.begin(), each.end(), 0);
    return information_bits(foreseen, each);
}

double information_bits(std::span<const Foreseen> foreseen, std::span<const int> groups) {
    double total = 0.0;
    for (const Foreseen& f : foreseen) total += f.weight;
    if (!(total > 0.0)) return 0.0;
    std::vector<Bell> bells;
    std::map<int, double> weights;
    for (std::size_t i = 0; i < foreseen.size(); ++i) {
        bells.push_back(bell_of(foreseen[i], total));
        weights[groups[i]] += bells.back().weight;
    }
    if (weights.size() < 2) return 0.0;
    double bits = 0.0;
    for (const Point& p : points_for(bells.front().mean.size())) {
        for (std::size_t i = 0; i < bells.size(); ++i)
            bits += bells[i].weight * p.weight *
                    surprise_bits(bells, groups, weights[groups[i]], i, carried(bells[i], p.z));
    }
    return std::max(0.0, bits);
}

std::vector<Advice> advise(const Diagnosis& diagnosis, const measure::Occasion& now, const Model& handed,
                           const Prior& prior) {
    const Model model = remembering(handed);
    Heaviest heaviest(diagnosis.mixture, prior, model);
    std::vector<Advice> all;
    for (const measure::CheckInfo& check : measure::checks()) {
        const double bits = bits_of(which_faults(prior, diagnosis, model), diagnosis, heaviest,
                                    with_check(now, check.check), model, prior);
        all.push_back({check.check, bits, bits / check.minutes});
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const Advice& a, const Advice& b) { return a.bits_per_minute > b.bits_per_minute; });
    return all;
}

std::optional<Check> separating(const LookAlikes& pair, const Diagnosis& diagnosis, const measure::Occasion& now,
                                const Model& handed, const Prior& prior) {
    const Model model = remembering(handed);
    Heaviest heaviest(diagnosis.mixture, prior, model);
    std::optional<Check> best;
    double best_rate = 0.0;
    for (const measure::CheckInfo& check : measure::checks()) {
        const double bits =
            bits_of(which_of(pair, prior), diagnosis, heaviest, with_check(now, check.check), model, prior);
        if (bits < 0.05 || bits / check.minutes <= best_rate) continue;
        best_rate = bits / check.minutes;
        best = check.check;
    }
    return best;
}

bool can_be_asked(const measure::Occasion& occasion, const Diagnosis& diagnosis) {
    return !stale(diagnosis, occasion) && can_be_made(occasion.check, diagnosis);
}

double cost_minutes(Check check, bool on_free_corner) {
    constexpr double minutes_per_mm = 1.0 / 20.0;
    const measure::CheckInfo& info = measure::info(check);
    return info.minutes + (on_free_corner ? 0.0 : minutes_per_mm * info.stock_mm);
}

namespace {

/// A check that is thought about: what it would read, worked out once for all questions.
struct Candidate {
    measure::Occasion occasion;
    std::size_t made = 0;  ///< how often, on the saw as it is
    bool on_free_corner = false;
    double cost = 0.0;
    std::optional<Seen> faults{};
    std::optional<Mixture> head{};
    std::optional<std::vector<Foreseen>> foreseen{};
};

constexpr std::size_t most_made = 3;  ///< times that the same is proposed
/// A repeat must tell as much as a question that is half open.
constexpr double repeat_bits = 0.25;

double doubt(const Diagnosis& d, Fault fault) {
    const double p = d.beliefs[static_cast<std::size_t>(fault)].probability;
    return p * (1.0 - p);
}

}  // namespace

struct Adviser::Works {
    const Diagnosis& diagnosis;
    Model model;
    const Prior& prior;
    Heaviest heaviest;
    std::vector<Candidate> candidates{};

    Works(const Diagnosis& d, const measure::Occasion& now, const Model& handed, const Prior& declared)
        : diagnosis(d), model(remembering(handed)), prior(declared), heaviest(d.mixture, prior, model) {
        for (const measure::CheckInfo& check : measure::checks()) {
            Candidate c{with_check(now, check.check)};
            c.made = static_cast<std::size_t>(std::count(d.made.begin(), d.made.end(), c.occasion));
            c.on_free_corner = check.check == Check::square_on_cut && measure::corner_is_free(d.made, now);
            c.cost = cost_minutes(check.check, c.on_free_corner);
            if (c.made < most_made && can_be_asked(c.occasion, d)) candidates.push_back(std::move(c));
        }
        // What is cheap first: what it tells may make it needless to foresee the dear ones.
        std::stable_sort(candidates.begin(), candidates.end(),
                         [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; });
    }

    /// What nobody could tell more than: the whole of the question.
    double most_bits(Candidate& c, const Question& question) {
        if (!c.faults) {
            c.faults = seen_by(c.occasion, model, prior);
            c.head = heaviest.touched(c.faults->any);
        }
        std::map<int, double> weights;
        for (const Hypothesis& h : c.head->hypotheses) weights[question(h)] += h.weight;
        std::vector<double> probabilities;
        for (const auto& [group, weight] : weights) probabilities.push_back(weight);
        return entropy_bits(probabilities);
    }

    double bits(Candidate& c, const Question& question) {
        if (!c.foreseen) c.foreseen = foresee(*c.head, c.occasion, c.faults->value, model);
        std::vector<int> groups;
        for (const Foreseen& f : *c.foreseen) groups.push_back(question(c.head->hypotheses[f.of]));
        return information_bits(*c.foreseen, groups);
    }

    std::vector<Fault> by_doubt(std::vector<Fault> faults) const {
        std::stable_sort(faults.begin(), faults.end(),
                         [&](Fault a, Fault b) { return doubt(diagnosis, a) > doubt(diagnosis, b); });
        return faults;
    }
};

Adviser::Adviser(const Diagnosis& diagnosis, const measure::Occasion& now, const Model& model, const Prior& prior)
    : works_(std::make_unique<Works>(diagnosis, now, model, prior)) {}
Adviser::~Adviser() = default;

std::optional<Proposal> Adviser::best(const Wish& wish) {
    const Question question =
        wish.pair ? which_of(*wish.pair, works_->prior) : which_faults(works_->prior, works_->diagnosis, works_->model);
    std::optional<Proposal> best;
    double best_rate = 0.0;
    for (Candidate& c : works_->candidates) {
        const double least = c.made > 0 ? std::max(wish.least_bits, repeat_bits) : wish.least_bits;
        const double share = 1.0 / static_cast<double>(1U << c.made);
        const auto rate_of = [&](double bits) { return share * bits / c.cost; };
        const auto will_do = [&](double bits) {
            return bits >= least && bits >= wish.least_per_minute * c.cost && rate_of(bits) > best_rate;
        };
        if (!will_do(works_->most_bits(c, question))) continue;
        const double bits = works_->bits(c, question);
        if (!will_do(bits)) continue;
        best_rate = rate_of(bits);
        best = Proposal{c.occasion.check, bits, works_->by_doubt(c.faults->any), c.on_free_corner};
    }
    return best;
}

}  // namespace offsquare::diagnose
