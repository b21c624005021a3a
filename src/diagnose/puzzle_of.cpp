#include "diagnose/puzzle_of.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <map>
#include <utility>

#include "base/elementary.h"
#include "diagnose/advise.h"
#include "diagnose/bells.h"

namespace offsquare::diagnose {
namespace {

using bells::Bell;
using measure::Check;
using shop::Fault;

constexpr std::size_t most_hypotheses_thought_of = 96;
constexpr std::size_t most_typical = 6;
constexpr std::size_t most_times_made = 3;
constexpr double least_bits = 0.02;

std::size_t place(Fault fault) { return static_cast<std::size_t>(fault); }

bool is_there(const Hypothesis& h, Fault fault, const Prior& prior) {
    const std::uint8_t lobe = h.lobe[place(fault)];
    return lobe != untouched && prior[place(fault)][lobe].present;
}

std::vector<bool> which_are_there(const Hypothesis& h, const std::vector<Fault>& asked, const Prior& prior) {
    std::vector<bool> out;
    for (const Fault f : asked) out.push_back(is_there(h, f, prior));
    return out;
}

// ---- a short list of hypotheses ----

/// Keeps `most` at most: of each group its heaviest, the heaviest groups first, up to three quarters of them; then by
/// weight. What a group weighs stays with those of it that are kept.
void shorten_by_group(std::vector<Hypothesis>& list, const std::vector<Fault>& asked, const Prior& prior,
                      std::size_t most) {
    std::stable_sort(list.begin(), list.end(), [](const auto& a, const auto& b) { return a.weight > b.weight; });
    std::map<std::vector<bool>, double> whole;
    for (const Hypothesis& h : list) whole[which_are_there(h, asked, prior)] += h.weight;
    std::vector<std::pair<double, std::vector<bool>>> groups;
    for (const auto& [group, weight] : whole) groups.emplace_back(weight, group);
    std::stable_sort(groups.begin(), groups.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    groups.resize(std::min(groups.size(), 3 * most / 4));
    std::vector<bool> keeps(list.size(), false);
    std::size_t kept = 0;
    for (const auto& [weight, group] : groups) {
        const auto heaviest = std::find_if(list.begin(), list.end(), [&, &group = group](const Hypothesis& h) {
            return which_are_there(h, asked, prior) == group;
        });
        keeps[static_cast<std::size_t>(heaviest - list.begin())] = true;
        ++kept;
    }
    for (std::size_t i = 0; i < list.size() && kept < most; ++i) {
        if (keeps[i]) continue;
        keeps[i] = true;
        ++kept;
    }
    std::vector<Hypothesis> out;
    std::map<std::vector<bool>, double> left;
    for (std::size_t i = 0; i < list.size(); ++i) {
        if (!keeps[i]) continue;
        left[which_are_there(list[i], asked, prior)] += list[i].weight;
        out.push_back(std::move(list[i]));
    }
    double sum = 0.0;
    for (const auto& [group, weight] : left) sum += whole[group];
    for (Hypothesis& h : out) {
        const auto group = which_are_there(h, asked, prior);
        h.weight *= whole[group] / left[group] / sum;
    }
    list = std::move(out);
}

/// Some dozens of hypotheses in which each of these faults has a lobe.
Mixture short_list(const Diagnosis& diagnosis, const std::vector<Fault>& asked, const std::vector<Fault>& others,
                   const Model& model, const Prior& prior) {
    Mixture mixture = head_for_advice(diagnosis.mixture);
    const auto shorten = [&] { shorten_by_group(mixture.hypotheses, asked, prior, most_hypotheses_thought_of); };
    std::vector<Fault> all = asked;
    all.insert(all.end(), others.begin(), others.end());
    if (touches_guides(all, model)) touch_guides(mixture, prior, model);
    shorten();
    for (const Fault f : all) {
        touch_each(mixture, prior, {f});
        shorten();
    }
    return mixture;
}

// ---- what a check would read, in a few outcomes ----

/// How far the second bell is from saying what the first does [nats], by points of the first (Kullback and Leibler
/// 1951).
double apart(const Bell& from, const Bell& to, const std::vector<bells::Point>& points) {
    double sum = 0.0;
    for (const bells::Point& p : points) {
        const bells::Readings y = bells::carried(from, p.z);
        sum += p.weight * std::max(-50.0, bells::log_density(from, y) - bells::log_density(to, y));
    }
    return sum;
}

/// Bells that stand for all: those that weigh much and are far from the ones before. Less than a quarter of a nat apart
/// nobody would tell two bells from one reading.
std::vector<std::size_t> typical(const std::vector<Bell>& all, const std::vector<bells::Point>& points) {
    constexpr double alike = 0.25;
    constexpr double far = 4.0;  // from here on farther is no matter
    std::vector<std::size_t> chosen{0};
    for (std::size_t i = 1; i < all.size(); ++i) {
        if (all[i].weight > all[chosen[0]].weight) chosen[0] = i;
    }
    std::vector<double> nearest(all.size(), std::numeric_limits<double>::infinity());
    while (chosen.size() < most_typical) {
        for (std::size_t i = 0; i < all.size(); ++i)
            nearest[i] = std::min(nearest[i], apart(all[i], all[chosen.back()], points));
        std::size_t next = all.size();
        double most = 0.0;
        for (std::size_t i = 0; i < all.size(); ++i) {
            const double counts = nearest[i] < alike ? 0.0 : all[i].weight * std::min(nearest[i], far);
            if (counts <= most) continue;
            most = counts;
            next = i;
        }
        if (next == all.size()) break;
        chosen.push_back(next);
    }
    return chosen;
}

/// A typical bell, with what all weigh that are nearest to it.
struct Kind {
    const Bell* bell = nullptr;
    int group = 0;
    double log_weight = 0.0;
};

std::vector<Kind> kinds_of(const std::vector<Bell>& all, const std::vector<int>& groups,
                           const std::vector<bells::Point>& points) {
    const std::vector<std::size_t> chosen = typical(all, points);
    std::vector<double> weights(chosen.size(), 0.0);
    for (const Bell& bell : all) {
        std::size_t nearest = 0;
        for (std::size_t o = 1; o < chosen.size(); ++o) {
            if (bells::log_density(all[chosen[o]], bell.mean) > bells::log_density(all[chosen[nearest]], bell.mean))
                nearest = o;
        }
        weights[nearest] += bell.weight;
    }
    std::vector<Kind> kinds;
    for (std::size_t o = 0; o < chosen.size(); ++o)
        kinds.push_back({&all[chosen[o]], groups[chosen[o]], base::log_of(std::max(weights[o], 1e-12))});
    return kinds;
}

/// Which outcome a reading is: twice the kind that makes it likeliest, and one more where another group's kind is too
/// near for anyone to be sure (1 to 19). Without the second half what is plain would be watered by what is not.
std::size_t outcome_of(const bells::Readings& y, const std::vector<Kind>& kinds) {
    constexpr double plain = 2.944439;  // log 19
    double most = -std::numeric_limits<double>::infinity();
    std::vector<double> fits;
    std::size_t best = 0;
    for (std::size_t o = 0; o < kinds.size(); ++o) {
        fits.push_back(kinds[o].log_weight + bells::log_density(*kinds[o].bell, y));
        if (fits.back() <= most) continue;
        most = fits.back();
        best = o;
    }
    for (std::size_t o = 0; o < kinds.size(); ++o) {
        if (kinds[o].group != kinds[best].group && fits[o] > most - plain) return 2 * best + 1;
    }
    return 2 * best;
}

/// Rows of probabilities, by hypothesis. Under a hypothesis that has no answer the check cannot be made, which is an
/// outcome of its own. What is no outcome under any is left out.
std::vector<std::vector<double>> outcomes_given(const std::vector<Foreseen>& foreseen,
                                                const std::vector<int>& group_of) {
    std::vector<Bell> all;
    std::vector<int> groups;
    for (const Foreseen& f : foreseen) {
        all.push_back(bells::bell_of(f, 1.0));
        groups.push_back(group_of[f.of]);
    }
    if (all.empty()) return std::vector<std::vector<double>>(group_of.size(), {1.0});
    const auto points = bells::points_for(all.front().mean.size());
    const std::vector<Kind> kinds = kinds_of(all, groups, points);
    std::vector<double> none(2 * kinds.size() + 1, 0.0);
    none.back() = 1.0;
    std::vector<std::vector<double>> rows(group_of.size(), none);
    for (std::size_t i = 0; i < all.size(); ++i) {
        std::vector<double>& row = rows[foreseen[i].of];
        row.back() = 0.0;
        for (const bells::Point& p : points) row[outcome_of(bells::carried(all[i], p.z), kinds)] += p.weight;
    }
    // What hardly ever comes is not worth an outcome of its own.
    constexpr double seldom = 0.01;
    for (std::size_t o = 0; o + 1 < none.size(); ++o) {
        double chance = 0.0;
        for (const Foreseen& f : foreseen) chance += f.weight * rows[f.of][o];
        if (chance >= seldom) continue;
        for (std::vector<double>& row : rows) row[o ^ 1U] += std::exchange(row[o], 0.0);
    }
    for (std::size_t o = none.size(); o-- > 0;) {
        if (std::any_of(rows.begin(), rows.end(), [&](const auto& row) { return row[o] > 0.0; })) continue;
        for (std::vector<double>& row : rows) row.erase(row.begin() + static_cast<std::ptrdiff_t>(o));
    }
    return rows;
}

// ---- which checks ----

struct Candidate {
    measure::Occasion occasion;
    Seen sees;
    double minutes = 0.0;
    bool on_free_corner = false;
};

std::vector<Candidate> candidates(const Diagnosis& d, const measure::Occasion& now, const Model& model,
                                  const Prior& prior) {
    std::vector<Candidate> all;
    for (const measure::CheckInfo& check : measure::checks()) {
        Candidate c{now, {}, 0.0, false};
        c.occasion.check = check.check;
        const auto made = static_cast<std::size_t>(std::count(d.made.begin(), d.made.end(), c.occasion));
        if (made >= most_times_made || !can_be_asked(c.occasion, d)) continue;
        c.on_free_corner = check.check == Check::square_on_cut && measure::corner_is_free(d.made, now);
        c.minutes = cost_minutes(check.check, c.on_free_corner) * static_cast<double>(1U << made);
        c.sees = seen_by(c.occasion, model, prior);
        all.push_back(std::move(c));
    }
    return all;
}

bool is_among(Fault fault, const std::vector<Fault>& faults) {
    return std::find(faults.begin(), faults.end(), fault) != faults.end();
}

std::vector<Fault> asked_of(const Diagnosis& d, const std::vector<Candidate>& all, const Model& model) {
    struct Ranked {
        Fault fault;
        bool in_a_pair;
        double rate;
    };
    constexpr double settled = 0.02;
    std::vector<Ranked> ranked;
    for (const Belief& b : d.beliefs) {
        if (b.probability < settled || b.probability >= Puzzle{}.sure) continue;
        if (d.jams() && !is_among(b.fault, model.binding)) continue;
        double cheapest = std::numeric_limits<double>::infinity();
        for (const Candidate& c : all) {
            if (is_among(b.fault, c.sees.any)) cheapest = std::min(cheapest, c.minutes);
        }
        const bool in_a_pair = std::any_of(d.unseparated.begin(), d.unseparated.end(), [&](const LookAlikes& p) {
            return p.first == b.fault || p.second == b.fault;
        });
        const std::vector<double> doubt{b.probability, 1.0 - b.probability};
        if (std::isfinite(cheapest)) ranked.push_back({b.fault, in_a_pair, entropy_bits(doubt) / cheapest});
    }
    std::stable_sort(ranked.begin(), ranked.end(), [](const Ranked& a, const Ranked& b) {
        return a.in_a_pair != b.in_a_pair ? a.in_a_pair : a.rate > b.rate;
    });
    std::vector<Fault> out;
    for (const Ranked& r : ranked) {
        // What was read wants to be explained before anything else is looked for.
        if (out.size() < most_asked && r.in_a_pair == ranked.front().in_a_pair) out.push_back(r.fault);
    }
    return out;
}

}  // namespace

std::vector<Fault> asked_by_default(const Diagnosis& diagnosis, const measure::Occasion& now, const Model& handed,
                                    const Prior& prior) {
    const Model model = remembering(handed);
    return asked_of(diagnosis, candidates(diagnosis, now, model, prior), model);
}

DiagnosisPuzzle puzzle_of(const Diagnosis& diagnosis, const measure::Occasion& now, const Model& handed,
                          const Prior& prior, std::vector<Fault> asked) {
    const Model model = remembering(handed);
    std::vector<Candidate> all = candidates(diagnosis, now, model, prior);
    DiagnosisPuzzle out;
    if (asked.empty()) asked = asked_of(diagnosis, all, model);
    if (asked.size() > most_asked) asked.resize(most_asked);
    out.asked = std::move(asked);
    std::erase_if(all, [&](const Candidate& c) {
        return std::none_of(c.sees.any.begin(), c.sees.any.end(), [&](Fault f) { return is_among(f, out.asked); });
    });
    std::vector<Fault> others;
    for (const Candidate& c : all) {
        for (const Fault f : c.sees.any) {
            if (!is_among(f, out.asked) && !is_among(f, others)) others.push_back(f);
        }
    }
    const Mixture mixture = short_list(diagnosis, out.asked, others, model, prior);
    std::map<std::vector<bool>, int> numbers;
    for (const Hypothesis& h : mixture.hypotheses) {
        out.there.push_back(which_are_there(h, out.asked, prior));
        out.puzzle.weights.push_back(h.weight);
        out.puzzle.groups.push_back(
            numbers.try_emplace(out.there.back(), static_cast<int>(numbers.size())).first->second);
    }
    out.puzzle.least_bits = least_bits;
    // One fault that is found is an end: it is put right, and the search begins anew.
    for (std::size_t f = 0; f < out.asked.size(); ++f) {
        out.puzzle.answers.emplace_back();
        for (std::size_t i = 0; i < out.there.size(); ++i) {
            if (out.there[i][f]) out.puzzle.answers.back().push_back(i);
        }
    }
    for (const Candidate& c : all) {
        out.reads.push_back(foresee(mixture, c.occasion, c.sees.value, model));
        out.puzzle.checks.push_back({c.minutes, outcomes_given(out.reads.back(), out.puzzle.groups)});
        out.checks.push_back(c.occasion.check);
        out.on_free_corner.push_back(c.on_free_corner);
    }
    return out;
}

std::optional<LookedAhead> look_ahead_check(const DiagnosisPuzzle& p) {
    const Known now = start_of(p.puzzle);
    const auto choice = next_by_look_ahead(p.puzzle, now, quick_ahead);
    if (!choice) return std::nullopt;
    const double bits = bits_of(p.puzzle, now, choice->check);
    return LookedAhead{p.checks[choice->check],
                       choice->check,
                       bits,
                       bits / p.puzzle.checks[choice->check].minutes,
                       choice->minutes,
                       p.on_free_corner[choice->check]};
}

std::optional<LookedAhead> look_ahead_check(const Diagnosis& diagnosis, const measure::Occasion& now,
                                            const Model& model, const Prior& prior, std::vector<Fault> asked) {
    return look_ahead_check(puzzle_of(diagnosis, now, model, prior, std::move(asked)));
}

}  // namespace offsquare::diagnose
