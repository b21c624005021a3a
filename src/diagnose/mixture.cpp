// Notation. m, P: mean and covariance of one hypothesis; h: what the model expects of the observable; g: how h moves
// with each size (its gradient); S = g'Pg + noise: the variance of the reading as this hypothesis foresees it; K =
// Pg/S: the gain.
#include "diagnose/mixture.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <utility>

#include "base/elementary.h"
#include "base/uncertain.h"
#include "diagnose/lobes.h"
#include "diagnose/straight.h"

namespace offsquare::diagnose {
namespace {

using shop::Fault;
using shop::fault_count;

std::size_t at(Fault fault) { return static_cast<std::size_t>(fault); }

// ---- keeping the list short ----

void normalise(Mixture& mixture) {
    double sum = 0.0;
    for (const Hypothesis& h : mixture.hypotheses) sum += h.weight;
    for (Hypothesis& h : mixture.hypotheses) h.weight /= sum;
}

/// Drops what is too light; the heaviest first, so that a list that is cut to length loses its lightest.
void prune(Mixture& mixture) {
    std::vector<double> weights;
    weights.reserve(mixture.hypotheses.size());
    for (const Hypothesis& h : mixture.hypotheses) weights.push_back(h.weight);
    const std::vector<std::size_t> heavy = heavy_ones(weights, mixture.dropped);
    std::vector<Hypothesis> list;
    list.reserve(heavy.size());
    for (const std::size_t i : heavy) list.push_back(std::move(mixture.hypotheses[i]));
    mixture.hypotheses = std::move(list);
    normalise(mixture);
}

// ---- one hypothesis meets one reading ----

struct Meeting {
    double difference = 0.0;   ///< reading less what was expected
    double noise = 0.0;        ///< variance of the reading about the line
    double variance = 0.0;     ///< S
    std::vector<double> gain;  ///< K
};

Meeting meet(const Sighting& s, const Hypothesis& hypothesis, const Straight& line, const std::vector<double>& place) {
    Meeting m;
    m.difference = s.seen.value - line.h;
    m.gain = times(hypothesis.covariance, line.gradient);
    m.noise = noise_of(s, line.variance);
    m.variance = m.noise;
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
double log_fit(const Meeting& m) {
    return -0.5 * (m.difference * m.difference / m.variance + base::log_of(m.variance));
}

}  // namespace

std::optional<std::vector<double>> Model::means_of(const measure::Occasion& occasion, const Sizes& sizes) const {
    if (means) return means(occasion, sizes);
    auto answer = reads(occasion, sizes);
    if (!answer) return std::nullopt;
    return std::move(answer->mean);
}

std::vector<double> Model::chance_on(const measure::Occasion& occasion, const Sizes& sizes) const {
    if (chance) return chance(occasion, sizes);
    const auto answer = reads(occasion, sizes);
    return answer ? answer->variance : std::vector<double>{};
}

Mixture start(const Prior& prior, const LastingErrors& lasting, const std::vector<int>& clampings) {
    Hypothesis h;
    const std::size_t n = fault_count + lasting.size() + clampings.size();
    h.lobe.fill(untouched);
    h.mean.assign(n, 0.0);
    h.covariance.assign(n * n, 0.0);
    // The model may be asked with every size; where nothing was read the likeliest lobe stands in, as a fixed number.
    for (std::size_t i = 0; i < fault_count; ++i) h.mean[i] = prior[i].front().mean;
    Mixture mixture{{}, 0.0, clampings};
    std::size_t state = fault_count;
    for (const auto& [of, sd] : lasting) {
        h.covariance[state * n + state] = sd * sd;
        mixture.lasting[of] = {state++, sd};
    }
    mixture.hypotheses.push_back(std::move(h));
    return mixture;
}

bool touches_guides(const std::vector<Fault>& faults, const Model& model) {
    const auto binds = [&](Fault f) {
        return std::find(model.binding.begin(), model.binding.end(), f) != model.binding.end();
    };
    return model.goes && std::any_of(faults.begin(), faults.end(), binds);
}

void touch_guides(Mixture& mixture, const Prior& prior, const Model& model) {
    give_binding(mixture, prior, model);
    prune(mixture);
}

void touch_each(Mixture& mixture, const Prior& prior, const std::vector<Fault>& faults) {
    const auto has_one = [](Fault fault) {
        return [fault](const Hypothesis& h) { return h.lobe[at(fault)] != untouched; };
    };
    for (const Fault fault : faults) {
        if (std::all_of(mixture.hypotheses.begin(), mixture.hypotheses.end(), has_one(fault))) {
            prune(mixture);
            continue;
        }
        give(mixture, prior[at(fault)], fault);
        normalise(mixture);
    }
}

void touch(Mixture& mixture, const Prior& prior, const std::vector<Fault>& faults, const Model& model) {
    if (touches_guides(faults, model)) touch_guides(mixture, prior, model);
    touch_each(mixture, prior, faults);
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
        out[i * k + i] += noise_of(noise.u[i] * noise.u[i], noise.variance[i]);
    }
    return out;
}

std::optional<Foreseen> foresee_one(const Hypothesis& h, Straightener& straightener, const Mixture& mixture,
                                    const measure::Occasion& occasion, const std::vector<Fault>& faults,
                                    const Model& model) {
    auto noise = model(occasion, sizes_of(h.mean));
    if (!noise) return std::nullopt;
    std::vector<Straight> lines;
    for (std::size_t i = 0; i < noise->mean.size(); ++i) {
        Sighting sighting{occasion, i, {noise->mean[i], noise->u[i], 0.0}, std::nullopt, faults};
        if (const auto found = mixture.lasting.find({occasion.check, i}); found != mixture.lasting.end()) {
            sighting.lasting = found->second.state;
            noise->u[i] = std::sqrt(std::max(0.0, noise->u[i] * noise->u[i] - found->second.sd * found->second.sd));
        }
        const auto line = straightener.over(sighting, h.mean, h.covariance, h.mean);
        if (!line) return std::nullopt;
        noise->mean[i] = line->h;
        noise->variance[i] = line->variance;
        lines.push_back(*line);
    }
    return Foreseen{h.weight, noise->mean, covariance_of(h, lines, *noise)};
}

}  // namespace

std::vector<Foreseen> foresee(const Mixture& mixture, const measure::Occasion& occasion,
                              const std::vector<Fault>& faults, const Model& model) {
    std::vector<Foreseen> all;
    Straightener straightener(model, mixture.clampings, true);
    for (std::size_t i = 0; i < mixture.hypotheses.size(); ++i) {
        auto one = foresee_one(mixture.hypotheses[i], straightener, mixture, occasion, faults, model);
        if (!one) continue;
        one->of = i;
        all.push_back(std::move(*one));
    }
    return all;
}

namespace {

constexpr double impossible = -std::numeric_limits<double>::infinity();

/// A hypothesis and the reading that it is to explain.
struct Weighing {
    const Normal* before = nullptr;  ///< what its lobes said of the faults that the reading depends on
    std::optional<Straight> line;
    Meeting meeting;
    std::shared_ptr<const Bend>
        bend{};                      ///< after a second look at a model that is bent even over what the reading leaves
    double log_weight = impossible;  ///< after the reading, but for a constant that all share
};

void weigh(Weighing& weighing, const Hypothesis& h) {
    weighing.log_weight =
        base::log_of(std::max(h.weight, std::numeric_limits<double>::min())) + log_fit(weighing.meeting);
}

/// The lobes' own sizes, shared by all hypotheses that agree on the faults that the reading depends on. A line through
/// them costs nothing once it is known.
class Declared {
public:
    Declared(const Mixture& mixture, const Sighting& sighting, const Model& model, const Prior& prior)
        : mixture_(mixture), sighting_(sighting), model_(model), prior_(prior) {}

    const Normal& of(const Hypothesis& h) {
        std::vector<std::uint8_t> key;
        key.reserve(sighting_.faults.size());
        for (const Fault f : sighting_.faults) key.push_back(h.lobe[at(f)]);
        auto found = known_.find(key);
        if (found == known_.end()) found = known_.emplace(std::move(key), declared(h)).first;
        return found->second;
    }

private:
    Normal declared(const Hypothesis& h) const {
        const std::size_t n = h.mean.size();
        Normal out{h.mean, std::vector<double>(n * n, 0.0)};
        for (std::size_t f = 0; f < fault_count; ++f) {
            if (h.lobe[f] == untouched) continue;
            out.mean[f] = prior_[f][h.lobe[f]].mean;
            out.covariance[f * n + f] = prior_[f][h.lobe[f]].sd * prior_[f][h.lobe[f]].sd;
        }
        // What a clamping did is no part of the lobes: the line is straight in it.
        for (std::size_t i = n - mixture_.clampings.size(); i < n; ++i) out.mean[i] = 0.0;
        if (mixture_.going) put_going(out, h);
        return out;
    }

    void put_going(Normal& out, const Hypothesis& h) const {
        std::vector<std::uint8_t> lobes;
        for (const Fault f : model_.binding) lobes.push_back(h.lobe[at(f)]);
        const Normal& going = mixture_.going->at(lobes).normal;
        const std::size_t k = lobes.size();
        for (std::size_t i = 0; i < k * k; ++i) {
            out.mean[at(model_.binding[i % k])] = going.mean[i % k];
            out.covariance[at(model_.binding[i / k]) * out.mean.size() + at(model_.binding[i % k])] =
                going.covariance[i];
        }
    }

    const Mixture& mixture_;
    const Sighting& sighting_;
    const Model& model_;
    const Prior& prior_;
    std::map<std::vector<std::uint8_t>, Normal> known_;
};

/// Sizes that chance is reckoned with at first: those of the lobes, so that many hypotheses share them.
std::vector<double> at_first(const Hypothesis& h, const Normal& before, const Sighting& sighting) {
    std::vector<double> sizes = h.mean;
    for (const Fault f : sighting.faults) sizes[at(f)] = before.mean[at(f)];
    return sizes;
}

std::vector<Weighing> first_look(const Mixture& mixture, const Sighting& sighting, Declared& declared,
                                 Straightener& straightener) {
    std::vector<Weighing> weighings(mixture.hypotheses.size());
    for (std::size_t i = 0; i < weighings.size(); ++i) {
        const Hypothesis& h = mixture.hypotheses[i];
        weighings[i].before = &declared.of(h);
        weighings[i].line = straightener.over(sighting, weighings[i].before->mean, weighings[i].before->covariance,
                                              at_first(h, *weighings[i].before, sighting));
        if (!weighings[i].line) continue;
        weighings[i].meeting = meet(sighting, h, *weighings[i].line, weighings[i].before->mean);
        weigh(weighings[i], h);
    }
    return weighings;
}

double heaviest_of(const std::vector<Weighing>& weighings) {
    double best = impossible;
    for (const Weighing& t : weighings) best = std::max(best, t.log_weight);
    return best;
}

/// Whether so much has become known about one of these faults that a line through what was held possible before would
/// be another.
bool moved_much(const Normal& before, const Normal& after, const std::vector<std::size_t>& faults) {
    const std::size_t n = before.mean.size();
    return std::any_of(faults.begin(), faults.end(), [&](std::size_t f) {
        const double variance = before.covariance[f * n + f];
        const double step = after.mean[f] - before.mean[f];
        return step * step > 0.1 * variance || after.covariance[f * n + f] < 0.7 * variance;
    });
}

/// Where to straighten: as few different places as will do, since many hypotheses share them.
const Normal& place_for(const Weighing& weighing, const Normal& now, const Normal& left) {
    const auto& bent = weighing.line->bent;
    if (!moved_much(*weighing.before, left, bent)) return *weighing.before;
    return moved_much(now, left, bent) ? left : now;
}

/// The line that the meeting was along, over states that stood at `mean` before it.
std::shared_ptr<const Bend> bend_of(const Meeting& m, const Straight& line, const std::vector<double>& mean,
                                    std::size_t sighting) {
    Bend bend{sighting, line.bent, m.difference, line.gradient, m.noise};
    for (std::size_t i = 0; i < mean.size(); ++i) bend.at_zero += line.gradient[i] * mean[i];
    return std::make_shared<const Bend>(std::move(bend));
}

/// Square of how far the line is off the model where the hypothesis stood before.
double off_at(const std::vector<double>& mean, const Straight& line, const Normal& place, const Sighting& sighting,
              const Mixture& mixture, const Model& model) {
    const auto means = model.means_of(sighting.occasion, sizes_on(sighting.occasion, mixture.clampings, mean));
    if (!means) return std::numeric_limits<double>::infinity();
    double off = (*means)[sighting.index] + (sighting.lasting ? mean[*sighting.lasting] : 0.0) - line.h;
    for (std::size_t i = 0; i < mean.size(); ++i) off -= line.gradient[i] * (mean[i] - place.mean[i]);
    return off * off;
}

/// Straightens with care where the model is bent: over what the reading leaves of the hypothesis, if it told much. The
/// hopeless ones are not worth it.
void second_look(std::vector<Weighing>& weighings, const Mixture& mixture, const Sighting& sighting,
                 Straightener& straightener, const Model& model) {
    constexpr double hopeless = 8.0;  // e^-8 is 3e-4 of the heaviest
    constexpr double lost =
        0.02;  // a bend that is less than this of all that may move the reading tells nothing: nearly all test cuts
    const double limit = heaviest_of(weighings) - hopeless;
    for (std::size_t i = 0; i < weighings.size(); ++i) {
        Weighing& weighing = weighings[i];
        if (!weighing.line || weighing.line->bent.empty() || weighing.log_weight < limit) continue;
        const Hypothesis& h = mixture.hypotheses[i];
        Hypothesis after = h;
        narrow(after, weighing.meeting);
        const Normal now{h.mean, h.covariance};
        const Normal left{std::move(after.mean), std::move(after.covariance)};
        const Normal& place = place_for(weighing, now, left);
        const auto again = straightener.over(sighting, place.mean, place.covariance, left.mean);
        if (!again) continue;
        weighing.meeting = meet(sighting, h, *again, place.mean);
        if (again->bends > lost * weighing.meeting.variance ||
            (&place == &left &&
             off_at(h.mean, *again, place, sighting, mixture, model) > lost * weighing.meeting.variance)) {
            weighing.bend = bend_of(weighing.meeting, *again, h.mean, mixture.weighed.size());
        }
        weigh(weighing, h);
    }
}

/// Over all hypotheses, as each expected the reading.
Fit fit_of(const std::vector<Weighing>& weighings, const Mixture& mixture) {
    constexpr double believed = 1e-3;
    Fit fit{0.0, std::numeric_limits<double>::infinity()};
    for (std::size_t i = 0; i < weighings.size(); ++i) {
        const Meeting& m = weighings[i].meeting;
        const double far = weighings[i].line ? std::abs(m.difference) / std::sqrt(m.variance)
                                             : std::numeric_limits<double>::infinity();
        // What stands nine deviations off has no probability worth the work.
        if (far < 9.0) fit.oddness += mixture.hypotheses[i].weight * base::normal_tails(far);
        if (mixture.hypotheses[i].weight > believed) fit.deviations = std::min(fit.deviations, far);
    }
    return fit;
}

}  // namespace

Fit assimilate(Mixture& mixture, const Sighting& sighting, const Model& model, const Prior& prior) {
    Straightener quick(model, mixture.clampings, true);
    Straightener careful(model, mixture.clampings);
    Declared declared(mixture, sighting, model, prior);
    std::vector<Weighing> weighings = first_look(mixture, sighting, declared, quick);
    second_look(weighings, mixture, sighting, careful, model);
    const double best = heaviest_of(weighings);
    // No hypothesis has an answer: the reading teaches nothing.
    if (best == impossible) return {0.0, std::numeric_limits<double>::infinity()};
    const Fit fit = fit_of(weighings, mixture);
    for (std::size_t i = 0; i < weighings.size(); ++i) {
        Hypothesis& h = mixture.hypotheses[i];
        h.weight = base::exp_of(weighings[i].log_weight - best);
        if (h.weight > 0.0) narrow(h, weighings[i].meeting);
        if (weighings[i].bend) h.bends.push_back(std::move(weighings[i].bend));
    }
    mixture.weighed.push_back(sighting);
    normalise(mixture);
    prune(mixture);
    return fit;
}

namespace {

/// What moves when one fault goes from absent to one of its lobes.
struct Moves {
    bool value = false;
    bool scatter = false;
};

Moves moves(const Prediction& from, const Prediction& to) {
    constexpr double nothing = 1e-2;
    Moves m;
    for (std::size_t i = 0; i < from.mean.size(); ++i) {
        const double u = std::max(from.u[i], 1e-12);
        m.value = m.value || std::abs(to.mean[i] - from.mean[i]) > nothing * u;
        m.scatter = m.scatter || std::abs(to.variance[i] - from.variance[i]) > nothing * u * u;
    }
    return m;
}

void add(Moves& all, const Moves& m) { all = {all.value || m.value, all.scatter || m.scatter}; }

Moves moves_with(std::size_t fault, const Sizes& from, const measure::Occasion& occasion, const Model& model,
                 const Lobes& lobes) {
    Moves all;
    const auto before = model(occasion, from);
    if (!before) return all;
    for (const Lobe& lobe : lobes) {
        Sizes to = from;
        to[fault] = lobe.mean + lobe.sd;
        if (const auto after = model(occasion, to)) add(all, moves(*before, *after));
    }
    return all;
}

/// Saws on which a fault is tried: tight and loose runners; then, for faults that bind, each other one of them present;
/// and for the caliper's steps, a zero that they may hide.
std::vector<Sizes> saws_to_try(std::size_t fault, const Model& model, const Prior& prior) {
    Sizes tight{};
    for (std::size_t i = 0; i < fault_count; ++i) tight[i] = prior[i].front().mean;
    Sizes loose = tight;
    for (const Fault play : {Fault::left_play, Fault::right_play}) loose[at(play)] = prior[at(play)].back().mean;
    std::vector<Sizes> saws{tight, loose};
    if (fault == at(Fault::caliper_step)) {
        saws.push_back(tight);
        saws.back()[at(Fault::caliper_zero)] = prior[at(Fault::caliper_zero)].back().mean;
    }
    const auto is_it = [&](Fault f) { return at(f) == fault; };
    if (std::none_of(model.binding.begin(), model.binding.end(), is_it)) return saws;
    for (const Fault other : model.binding) {
        Sizes saw = loose;
        saw[at(other)] = prior[at(other)].back().mean;
        if (at(other) != fault) saws.push_back(saw);
    }
    return saws;
}

}  // namespace

namespace {

Moves moves_with(Fault fault, const measure::Occasion& occasion, const Model& model, const Prior& prior) {
    Moves all;
    for (const Sizes& saw : saws_to_try(at(fault), model, prior))
        add(all, moves_with(at(fault), saw, occasion, model, prior[at(fault)]));
    return all;
}

}  // namespace

bool sees(const measure::Occasion& occasion, Fault fault, const Model& model, const Prior& prior) {
    if (occasion.check == measure::Check::push_through)
        return std::find(model.binding.begin(), model.binding.end(), fault) != model.binding.end();
    const Moves own = moves_with(fault, occasion, model, prior);
    if (own.value || own.scatter) return true;
    const bool may_have_crept = fault == Fault::clamp_creep && occasion.clamped_again > 0;
    return may_have_crept && moves_with(Fault::fence_skew, occasion, model, prior).value;
}

Seen seen_by(const measure::Occasion& occasion, const Model& model, const Prior& prior) {
    Seen seen;
    // It has no number that moves: it says which saws there can be.
    if (occasion.check == measure::Check::push_through) return {model.binding, {}};
    for (const shop::FaultInfo& fault : shop::faults()) {
        const Moves all = moves_with(fault.fault, occasion, model, prior);
        if (all.value) seen.value.push_back(fault.fault);
        if (all.value || all.scatter) seen.any.push_back(fault.fault);
    }
    const bool skewed = std::find(seen.value.begin(), seen.value.end(), Fault::fence_skew) != seen.value.end();
    const bool creeps = std::find(seen.any.begin(), seen.any.end(), Fault::clamp_creep) != seen.any.end();
    if (occasion.clamped_again > 0 && skewed && !creeps) seen.any.push_back(Fault::clamp_creep);
    return seen;
}

}  // namespace offsquare::diagnose
