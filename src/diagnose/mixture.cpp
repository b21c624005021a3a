// Notation. m, P: mean and covariance of one hypothesis; h: what the model expects of the observable; g: how h moves with each size (its gradient);
// S = g'Pg + noise: the variance of the reading as this hypothesis foresees it; K = Pg/S: the gain.
#include "diagnose/mixture.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <memory>
#include <utility>

#include "base/elementary.h"
#include "base/uncertain.h"

namespace offsquare::diagnose {
namespace {

using shop::Fault;
using shop::fault_count;

std::size_t at(Fault fault) { return static_cast<std::size_t>(fault); }

Sizes sizes_of(const std::vector<double>& mean) {
    Sizes sizes{};
    std::copy_n(mean.begin(), fault_count, sizes.begin());
    return sizes;
}

double sd_of(const Hypothesis& h, std::size_t i) { return std::sqrt(std::max(0.0, h.covariance[i * h.mean.size() + i])); }

// ---- keeping the list short ----

void normalise(Mixture& mixture) {
    double sum = 0.0;
    for (const Hypothesis& h : mixture.hypotheses) sum += h.weight;
    for (Hypothesis& h : mixture.hypotheses) h.weight /= sum;
}

/// Drops what is too light; the heaviest first, so that a list that is cut to length loses its lightest.
void prune(Mixture& mixture) {
    auto& list = mixture.hypotheses;
    std::stable_sort(list.begin(), list.end(), [](const Hypothesis& a, const Hypothesis& b) { return a.weight > b.weight; });
    const double limit = lightest * list.front().weight;
    std::size_t keep = std::min(list.size(), most_hypotheses);
    while (keep > 1 && list[keep - 1].weight < limit) --keep;
    for (std::size_t i = keep; i < list.size(); ++i) mixture.dropped += list[i].weight;
    list.resize(keep);
    normalise(mixture);
}

// ---- the model straightened at one place ----

struct Straight {
    double h = 0.0;
    double variance = 0.0;          ///< what chance adds
    std::vector<double> gradient;   ///< by state
    bool bent = false;              ///< the model is not straight over what the hypothesis holds possible
};

/// The slopes to both sides of a place in one direction; where the model has no answer on one side, that of the other.
struct Slopes {
    double below = 0.0;
    double above = 0.0;
};

std::optional<Slopes> slopes(const Sighting& s, const Model& model, const Sizes& here, double h, std::size_t fault, double step) {
    Sizes moved = here;
    moved[fault] = here[fault] + step;
    const auto up = model(s.occasion, moved);
    moved[fault] = here[fault] - step;
    const auto down = model(s.occasion, moved);
    if (!up && !down) return std::nullopt;
    const double above = up ? (up->mean[s.index] - h) / step : (h - down->mean[s.index]) / step;
    return Slopes{down ? (h - down->mean[s.index]) / step : above, above};
}

std::optional<Straight> straighten(const Sighting& s, const Model& model, const Hypothesis& hypothesis, const std::vector<double>& place) {
    const Sizes here = sizes_of(place);
    const auto answer = model(s.occasion, here);
    if (!answer) return std::nullopt;
    Straight line{answer->mean[s.index], answer->variance[s.index], std::vector<double>(place.size(), 0.0), false};
    for (const Fault fault : s.faults) {
        const double sd = sd_of(hypothesis, at(fault));
        if (sd == 0.0) continue;
        const auto slope = slopes(s, model, here, line.h, at(fault), sd);
        if (!slope) return std::nullopt;
        line.gradient[at(fault)] = 0.5 * (slope->below + slope->above);
        // A bend that moves the answer by less than a tenth of the reading's own noise does not count.
        line.bent = line.bent || std::abs(slope->above - slope->below) * sd > 0.1 * s.seen.u;
    }
    if (s.lasting) line.gradient[*s.lasting] = 1.0;
    return line;
}

// ---- one hypothesis meets one reading ----

struct Meeting {
    double difference = 0.0;    ///< reading less what was expected
    double variance = 0.0;      ///< S
    std::vector<double> gain;   ///< K
};

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

Meeting meet(const Sighting& s, const Hypothesis& hypothesis, const Straight& line, const std::vector<double>& place) {
    const double lasting = s.lasting ? s.seen.u_lasting : 0.0;
    // Exact readings still leave a rounding's worth of noise, so that nothing divides by zero.
    constexpr double least = 1e-18;
    Meeting m;
    m.difference = s.seen.value - line.h;
    m.gain = times(hypothesis.covariance, line.gradient);
    m.variance = std::max(0.0, s.seen.u * s.seen.u - lasting * lasting) + line.variance + least;
    for (std::size_t i = 0; i < place.size(); ++i) {
        m.difference -= line.gradient[i] * (hypothesis.mean[i] - place[i]);
        m.variance += line.gradient[i] * m.gain[i];
    }
    for (double& k : m.gain) k /= m.variance;
    return m;
}

std::vector<double> moved_by(const std::vector<double>& mean, const Meeting& m) {
    std::vector<double> out = mean;
    for (std::size_t i = 0; i < out.size(); ++i) out[i] += m.gain[i] * m.difference;
    return out;
}

void narrow(Hypothesis& h, const Meeting& m) {
    h.mean = moved_by(h.mean, m);
    const std::size_t n = h.mean.size();
    for (std::size_t i = 0; i < n; ++i) {
        if (m.gain[i] == 0.0) continue;
        for (std::size_t k = 0; k < n; ++k) h.covariance[i * n + k] -= m.gain[i] * m.gain[k] * m.variance;
    }
}

/// log of the normal density of the reading, without the constant.
double log_fit(const Meeting& m) { return -0.5 * (m.difference * m.difference / m.variance + base::log_of(m.variance)); }

std::optional<Meeting> best_meeting(const Sighting& s, const Model& model, const Hypothesis& h) {
    auto line = straighten(s, model, h, h.mean);
    if (!line) return std::nullopt;
    Meeting m = meet(s, h, *line, h.mean);
    if (!line->bent) return m;
    const std::vector<double> place = moved_by(h.mean, m);
    const auto again = straighten(s, model, h, place);
    return again ? meet(s, h, *again, place) : m;
}

// ---- giving lobes ----

Hypothesis with_lobe(const Hypothesis& h, Fault fault, const Lobe& lobe, std::size_t which) {
    Hypothesis out = h;
    const std::size_t n = out.mean.size();
    out.lobe[at(fault)] = static_cast<std::uint8_t>(which);
    out.weight *= lobe.weight;
    out.mean[at(fault)] = lobe.mean;
    out.covariance[at(fault) * n + at(fault)] = lobe.sd * lobe.sd;
    return out;
}

void touch_one(Mixture& mixture, const Lobes& lobes, Fault fault) {
    std::vector<Hypothesis> list;
    for (const Hypothesis& h : mixture.hypotheses) {
        if (h.lobe[at(fault)] != untouched) {
            list.push_back(h);
            continue;
        }
        for (std::size_t i = 0; i < lobes.size(); ++i) list.push_back(with_lobe(h, fault, lobes[i], i));
    }
    mixture.hypotheses = std::move(list);
}

}  // namespace

Mixture start(const Prior& prior, const std::vector<double>& lasting_errors) {
    Hypothesis h;
    const std::size_t n = fault_count + lasting_errors.size();
    h.lobe.fill(untouched);
    h.mean.assign(n, 0.0);
    h.covariance.assign(n * n, 0.0);
    // The model may be asked with every size; where nothing was read the likeliest lobe stands in, as a fixed number.
    for (std::size_t i = 0; i < fault_count; ++i) h.mean[i] = prior[i].front().mean;
    for (std::size_t i = fault_count; i < n; ++i) h.covariance[i * n + i] = lasting_errors[i - fault_count] * lasting_errors[i - fault_count];
    return {{h}, 0.0};
}

void touch(Mixture& mixture, const Prior& prior, const std::vector<Fault>& faults) {
    for (const Fault fault : faults) {
        touch_one(mixture, prior[at(fault)], fault);
        prune(mixture);
    }
}

namespace {

/// Covariance of several observables under one hypothesis.
std::vector<double> covariance_of(const Hypothesis& h, const std::vector<Straight>& lines, const Prediction& noise) {
    const std::size_t k = lines.size();
    std::vector<double> out(k * k, 0.0);
    for (std::size_t i = 0; i < k; ++i) {
        const std::vector<double> spread = times(h.covariance, lines[i].gradient);
        for (std::size_t j = 0; j < k; ++j) {
            for (std::size_t n = 0; n < spread.size(); ++n) out[i * k + j] += spread[n] * lines[j].gradient[n];
        }
        out[i * k + i] += noise.variance[i] + noise.u[i] * noise.u[i];
    }
    return out;
}

std::optional<Foreseen> foresee_one(const Hypothesis& h, const measure::Occasion& occasion, const std::vector<Fault>& faults, const Model& model) {
    const auto noise = model(occasion, sizes_of(h.mean));
    if (!noise) return std::nullopt;
    std::vector<Straight> lines;
    for (std::size_t i = 0; i < noise->mean.size(); ++i) {
        const auto line = straighten({occasion, i, {noise->mean[i], noise->u[i], 0.0}, std::nullopt, faults}, model, h, h.mean);
        if (!line) return std::nullopt;
        lines.push_back(*line);
    }
    return Foreseen{h.weight, noise->mean, covariance_of(h, lines, *noise)};
}

}  // namespace

std::vector<Foreseen> foresee(const Mixture& mixture, const measure::Occasion& occasion, const std::vector<Fault>& faults, const Model& model) {
    std::vector<Foreseen> all;
    for (const Hypothesis& h : mixture.hypotheses) {
        if (auto one = foresee_one(h, occasion, faults, model)) all.push_back(std::move(*one));
    }
    return all;
}

double assimilate(Mixture& mixture, const Sighting& sighting, const Model& model) {
    constexpr double impossible = -std::numeric_limits<double>::infinity();
    std::vector<double> fit;
    double oddness = 0.0;
    for (Hypothesis& h : mixture.hypotheses) {
        const auto m = best_meeting(sighting, model, h);
        fit.push_back(m ? log_fit(*m) : impossible);
        if (!m) continue;
        oddness += h.weight * base::normal_tails(std::abs(m->difference) / std::sqrt(m->variance));
        narrow(h, *m);
    }
    const double best = *std::max_element(fit.begin(), fit.end());
    // No hypothesis has an answer: the reading teaches nothing.
    if (best == impossible) return 0.0;
    for (std::size_t i = 0; i < fit.size(); ++i) mixture.hypotheses[i].weight *= fit[i] - best < -700.0 ? 0.0 : base::exp_of(fit[i] - best);
    prune(mixture);
    return oddness;
}

Model remembering(const Model& model) {
    using Key = std::pair<measure::Occasion, Sizes>;
    auto memory = std::make_shared<std::map<Key, std::optional<Prediction>>>();
    return [model, memory](const measure::Occasion& occasion, const Sizes& sizes) {
        // Enough for one check; a study of thousands of saws must not grow without end.
        constexpr std::size_t most = 20000;
        if (memory->size() > most) memory->clear();
        const Key key{occasion, sizes};
        if (const auto found = memory->find(key); found != memory->end()) return found->second;
        return memory->emplace(key, model(occasion, sizes)).first->second;
    };
}

namespace {

/// What moves when one fault goes from absent to one of its lobes.
struct Moves {
    bool value = false;
    bool scatter = false;
};

Moves moves(const Prediction& from, const Prediction& to) {
    constexpr double nothing = 1e-3;
    Moves m;
    for (std::size_t i = 0; i < from.mean.size(); ++i) {
        const double u = std::max(from.u[i], 1e-12);
        m.value = m.value || std::abs(to.mean[i] - from.mean[i]) > nothing * u;
        m.scatter = m.scatter || std::abs(to.variance[i] - from.variance[i]) > nothing * u * u;
    }
    return m;
}

Moves moves_with(std::size_t fault, const Sizes& from, const measure::Occasion& occasion, const Model& model, const Lobes& lobes) {
    Moves all;
    const auto before = model(occasion, from);
    if (!before) return all;
    for (const Lobe& lobe : lobes) {
        Sizes to = from;
        to[fault] = lobe.mean + lobe.sd;
        const auto after = model(occasion, to);
        if (!after) continue;
        const Moves m = moves(*before, *after);
        all = {all.value || m.value, all.scatter || m.scatter};
    }
    return all;
}

}  // namespace

Seen seen_by(const measure::Occasion& occasion, const Model& model, const Prior& prior) {
    Sizes tight{};
    for (std::size_t i = 0; i < fault_count; ++i) tight[i] = prior[i].front().mean;
    Sizes loose = tight;
    for (const Fault play : {Fault::left_play, Fault::right_play}) loose[at(play)] = prior[at(play)].back().mean;
    Seen seen;
    for (std::size_t f = 0; f < fault_count; ++f) {
        const Moves one = moves_with(f, tight, occasion, model, prior[f]);
        const Moves other = moves_with(f, loose, occasion, model, prior[f]);
        const Fault fault = shop::faults()[f].fault;
        const bool value = one.value || other.value;
        if (value) seen.value.push_back(fault);
        if (value || one.scatter || other.scatter) seen.any.push_back(fault);
    }
    return seen;
}

}  // namespace offsquare::diagnose
