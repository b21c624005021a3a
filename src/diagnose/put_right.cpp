// Notation. q: the normal distribution that a hypothesis has come to; d: density of its lobes; m: density of the normal
// distribution that it began with. At a point x that goes, q is wrong by the factor d(x)/m(x); where nothing goes, by
// 0; and for each reading along a line by the reading's density under the model itself by that along the line
// (importance sampling). B: the states of the faults that bind and of those in which a reading is bent; the others
// follow B as q has them go together.
#include "diagnose/put_right.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/elementary.h"
#include "base/random.h"
#include "diagnose/straight.h"
#include "diagnose/triangle.h"

namespace offsquare::diagnose {
namespace {

using shop::Fault;
using shop::fault_count;

std::size_t at(Fault fault) { return static_cast<std::size_t>(fault); }

std::vector<double> second_moments(const std::vector<std::vector<double>>& all) {
    const std::size_t k = all.front().size();
    std::vector<double> out(k * k, 0.0);
    for (const auto& z : all) {
        for (std::size_t i = 0; i < k * k; ++i) out[i] += z[i / k] * z[i % k] / static_cast<double>(all.size());
    }
    return out;
}

/// Every second is the mirror of the one before, and all are stretched to a covariance of one: where everything goes,
/// mean and covariance stay what they were.
std::vector<std::vector<double>> standard_points(std::size_t n, std::uint32_t draws) {
    std::vector<std::vector<double>> all;
    for (std::uint32_t k = 0; k < draws; ++k) {
        std::vector<double> z;
        for (std::uint32_t i = 0; i < n; ++i)
            z.push_back(k % 2 == 0 ? base::standard_normal({1, base::Purpose::advice, k / 2, 2000 + i})
                                   : -all.back()[i]);
        all.push_back(std::move(z));
    }
    const std::vector<double> root = root_of(second_moments(all), n);
    for (auto& z : all) z = against_lower(root, z);
    return all;
}

struct Setting {
    const Mixture& mixture;
    const Prior& prior;
    const Model& model;
    /// Standard normal, a number for each state. What chance they leave in a hypothesis counts by its weight, and so
    /// must their number.
    std::vector<std::vector<double>> many;
    std::vector<std::vector<double>> half;
    std::vector<std::vector<double>> few;
    const std::vector<std::vector<double>>& points_for(double weight) const {
        return weight > 0.05 ? many : weight > 0.015 ? half : few;
    }
};

Setting setting_of(const Mixture& mixture, const Prior& prior, const Model& model) {
    const std::size_t n = mixture.hypotheses.front().mean.size();
    return {mixture, prior, model, standard_points(n, 256), standard_points(n, 128), standard_points(n, 64)};
}

/// Rows and columns of these states alone.
Normal part_of(const Normal& all, const std::vector<std::size_t>& states) {
    Normal out;
    const std::size_t n = all.mean.size();
    for (const std::size_t a : states) {
        out.mean.push_back(all.mean[a]);
        for (const std::size_t b : states) out.covariance.push_back(all.covariance[a * n + b]);
    }
    return out;
}

std::vector<double> less(std::vector<double> a, const std::vector<double>& b) {
    for (std::size_t i = 0; i < a.size(); ++i) a[i] -= b[i];
    return a;
}

/// log of a normal density but for a constant.
class LogNormal {
public:
    explicit LogNormal(const Normal& normal)
        : mean_(normal.mean),
          root_(root_of(normal.covariance, normal.mean.size())),
          height_(log_height(root_, normal.mean.size())) {}
    double operator()(const std::vector<double>& x) const { return height_ - 0.5 * square_off(root_, mean_, x); }

private:
    std::vector<double> mean_;
    std::vector<double> root_;
    double height_;
};

constexpr double impossible = -std::numeric_limits<double>::infinity();

std::vector<double> only(const std::vector<std::size_t>& states, const std::vector<double>& x) {
    std::vector<double> out;
    out.reserve(states.size());
    for (const std::size_t s : states) out.push_back(x[s]);
    return out;
}

// ---- what goes ----

/// log of d/m by the share that goes; `impossible` where nothing does.
class Going {
public:
    Going(const Hypothesis& h, const Part& began, const Setting& setting)
        : setting_(setting), began_(began.normal), whole_(began.share == 1.0), log_share_(base::log_of(began.share)) {
        for (const Fault f : setting.model.binding) {
            states_.push_back(at(f));
            lobes_.push_back(setting.prior[at(f)][h.lobe[at(f)]]);
        }
    }
    double operator()(const std::vector<double>& states) const {
        if (!setting_.model.goes(sizes_of(states))) return impossible;
        if (whole_) return 0.0;
        const std::vector<double> x = only(states_, states);
        double log_d = 0.0;
        for (std::size_t i = 0; i < x.size(); ++i) {
            const double z = (x[i] - lobes_[i].mean) / lobes_[i].sd;
            log_d -= 0.5 * z * z + base::log_of(lobes_[i].sd);
        }
        return log_d - began_(x) - log_share_;
    }

private:
    const Setting& setting_;
    LogNormal began_;
    bool whole_;  ///< the lobes are what it began with
    double log_share_;
    std::vector<std::size_t> states_;
    std::vector<Lobe> lobes_;
};

// ---- what is bent ----

double log_density(double off, double variance) { return -0.5 * (off * off / variance + base::log_of(variance)); }

/// log of the reading's density along the line.
double along_line(const Bend& bend, const std::vector<double>& states) {
    double off = bend.at_zero;
    for (std::size_t i = 0; i < states.size(); ++i) off -= bend.gradient[i] * states[i];
    return log_density(off, bend.noise);
}

/// What the model itself expects at a point, asked once for all readings of a check.
class ByModel {
public:
    ByModel(const std::vector<double>& states, const Setting& setting) : states_(states), setting_(setting) {}
    /// log of the reading's density.
    double operator()(const Sighting& s) {
        if (!asked_ || asked_->occasion != s.occasion) ask(s);
        if (means_.empty()) return impossible;
        return log_density(s.seen.value - means_[s.index] - (s.lasting ? states_[*s.lasting] : 0.0),
                           noise_of(s, chance_[s.index] + setting_.model.variance_off(s.occasion.check)));
    }

private:
    void ask(const Sighting& s) {
        const measure::Occasion& occasion = s.occasion;
        const Sizes sizes = sizes_on(occasion, setting_.mixture.clampings, states_);
        asked_ = &s;
        means_ = setting_.model.means_of(occasion, sizes).value_or(std::vector<double>{});
        if (!means_.empty()) chance_ = setting_.model.chance_on(occasion, sizes);
    }

    const std::vector<double>& states_;
    const Setting& setting_;
    const Sighting* asked_ = nullptr;  ///< the last
    std::vector<double> means_;        ///< empty: the model has no answer
    std::vector<double> chance_;
};

double log_bends(const Hypothesis& h, const std::vector<double>& states, const Setting& setting) {
    ByModel by_model(states, setting);
    double sum = 0.0;
    for (const auto& bend : h.bends)
        sum += by_model(setting.mixture.weighed[bend->sighting]) - along_line(*bend, states);
    return sum;
}

// ---- points ----

struct Weighted {
    std::vector<std::vector<double>> points;  ///< in the states of B
    std::vector<double> weight;
    double sum = 0.0;
    double squares = 0.0;
    double as_many_as() const {
        return sum > 0.0 ? sum * sum / squares : 0.0;
    }  ///< points of equal weight that would tell as much
    void add(const std::vector<double>& point, double log_weight) {
        points.push_back(point);
        weight.push_back(base::exp_of(std::min(log_weight, 50.0)));
        sum += weight.back();
        squares += weight.back() * weight.back();
    }
};

/// The same points as they count if nothing is wrong, and as they do.
struct Drawn {
    Weighted as_it_was;
    Weighted as_it_is;
    bool nothing_wrong = true;
};

/// One hypothesis, and how wrong it is at a point.
struct Case {
    const Hypothesis& h;
    const Setting& setting;
    std::vector<std::size_t> bent;  ///< states in which a reading is bent
    std::vector<std::size_t> b;     ///< the states of B
    std::optional<Going> going{};   ///< empty: nothing binds, or all goes
    Normal q() const { return part_of({h.mean, h.covariance}, b); }
    double log_wrong(const std::vector<double>& states) const {
        const double goes = going ? (*going)(states) : 0.0;
        return goes == impossible ? impossible : goes + log_bends(h, states, setting);
    }
};

/// Points drawn from `from`, which has B elsewhere than the hypothesis has it.
Drawn drawn_from(const Hypothesis& from, const Case& c) {
    const std::size_t n = from.mean.size();
    const std::vector<double> root = root_of(from.covariance, n);
    const LogNormal q(c.q());
    const LogNormal here(part_of({from.mean, from.covariance}, c.b));
    Drawn d;
    for (const auto& z : c.setting.points_for(c.h.weight)) {
        std::vector<double> x = times_lower(root, z);
        for (std::size_t i = 0; i < n; ++i)
            x[i] = from.covariance[i * n + i] > 0.0 ? x[i] + from.mean[i] : from.mean[i];
        const std::vector<double> point = only(c.b, x);
        const double by_point = q(point) - here(point);
        const double wrong = c.log_wrong(x);
        d.as_it_was.add(point, by_point);
        if (wrong != impossible) d.as_it_is.add(point, by_point + wrong);
        d.nothing_wrong = d.nothing_wrong && wrong == 0.0;
    }
    return d;
}

Normal normal_of(const Weighted& w) {
    const std::size_t k = w.points.front().size();
    Normal out{std::vector<double>(k, 0.0), std::vector<double>(k * k, 0.0)};
    for (std::size_t p = 0; p < w.points.size(); ++p) {
        for (std::size_t i = 0; i < k; ++i) out.mean[i] += w.weight[p] / w.sum * w.points[p][i];
    }
    for (std::size_t p = 0; p < w.points.size(); ++p) {
        const std::vector<double> off = less(w.points[p], out.mean);
        for (std::size_t i = 0; i < k * k; ++i) out.covariance[i] += w.weight[p] / w.sum * off[i / k] * off[i % k];
    }
    return out;
}

/// A stretch that takes one covariance to another, applied to a vector: L_to * L_from^-1.
class Stretch {
public:
    Stretch(const Normal& from, const Normal& to)
        : from_(root_of(from.covariance, from.mean.size())), to_(root_of(to.covariance, to.mean.size())) {}
    std::vector<double> operator()(const std::vector<double>& x) const {
        return times_lower(to_, against_lower(from_, x));
    }
    /// Of a covariance: each column, then each row.
    std::vector<double> both_sides(const std::vector<double>& covariance, std::size_t k) const {
        return columns(transposed(columns(covariance, k), k), k);
    }

private:
    static std::vector<double> transposed(const std::vector<double>& m, std::size_t k) {
        std::vector<double> out;
        for (std::size_t i = 0; i < k * k; ++i) out.push_back(m[i % k * k + i / k]);
        return out;
    }
    std::vector<double> columns(const std::vector<double>& m, std::size_t k) const {
        std::vector<double> out(k * k);
        for (std::size_t j = 0; j < k; ++j) {
            std::vector<double> column;
            for (std::size_t i = 0; i < k; ++i) column.push_back(m[i * k + j]);
            column = (*this)(column);
            for (std::size_t i = 0; i < k; ++i) out[i * k + j] = column[i];
        }
        return out;
    }
    std::vector<double> from_;
    std::vector<double> to_;
};

/// Where B lies by the points. The points are few, and do not even give back q quite if nothing is wrong: what they
/// give is moved and stretched as q is from what they make of it. What chance is left in the mean widens it, and makes
/// a sample narrower than the whole by as much.
Normal put_right(const Drawn& d, const Normal& q) {
    const Normal was = normal_of(d.as_it_was);
    Normal is = normal_of(d.as_it_is);
    const Stretch stretch(was, q);
    const std::vector<double> step = stretch(less(is.mean, was.mean));
    for (std::size_t i = 0; i < step.size(); ++i) is.mean[i] = q.mean[i] + step[i];
    is.covariance = stretch.both_sides(is.covariance, step.size());
    const double chance = std::clamp(1.0 / d.as_it_is.as_many_as() - 1.0 / d.as_it_was.as_many_as(), 0.0, 0.5);
    for (double& v : is.covariance) v *= (1.0 + chance) / (1.0 - chance);
    return is;
}

/// Row by row: how each state moves with B, C_nB / C_BB.
std::vector<double> following(const Hypothesis& h, const Normal& now, const std::vector<std::size_t>& b) {
    const std::size_t n = h.mean.size();
    const std::size_t k = now.mean.size();
    const std::vector<double> root = root_of(now.covariance, k);
    std::vector<double> all;
    for (std::size_t s = 0; s < n; ++s) {
        // L*L' x = c, by two triangles.
        std::vector<double> x;
        for (std::size_t i = 0; i < k; ++i) {
            double rest = h.covariance[s * n + b[i]];
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

void follow(Hypothesis& h, const Normal& was, const Normal& is, const std::vector<std::size_t>& states) {
    const std::size_t n = h.mean.size();
    const std::size_t k = was.mean.size();
    const std::vector<double> slope = following(h, was, states);
    const std::vector<double> step = less(is.mean, was.mean);
    const std::vector<double> more = less(is.covariance, was.covariance);
    for (std::size_t a = 0; a < n; ++a) {
        for (std::size_t i = 0; i < k; ++i) h.mean[a] += slope[a * k + i] * step[i];
        for (std::size_t b = 0; b < n; ++b) {
            for (std::size_t i = 0; i < k * k; ++i)
                h.covariance[a * n + b] += slope[a * k + i / k] * more[i] * slope[b * k + i % k];
        }
    }
}

/// Half way from the one to the other.
Normal between(const Normal& a, const Normal& b) {
    Normal out = b;
    for (std::size_t i = 0; i < out.covariance.size(); ++i)
        out.covariance[i] = 0.5 * (a.covariance[i] + b.covariance[i]);
    return out;
}

/// The hypothesis, held more widely possible where a reading is bent: what lies beyond a bend may be cut off by the
/// line, and points that are never drawn cannot count.
Hypothesis wider(const Case& c) {
    constexpr double by = 2.0;
    Hypothesis from = c.h;
    if (c.bent.empty()) return from;
    const Normal was = part_of({c.h.mean, c.h.covariance}, c.bent);
    Normal is = was;
    for (double& v : is.covariance) v *= by;
    follow(from, was, is, c.bent);
    return from;
}

/// Where few points count they are drawn again about those that do, and wider than they lie, so as to reach all of it.
Drawn enough_of(const Case& c, const Normal& q) {
    const double many = 0.25 * static_cast<double>(c.setting.points_for(c.h.weight).size());
    constexpr double hardly_any = 4.0;
    Hypothesis from = wider(c);
    Drawn d = drawn_from(from, c);
    for (int again = 0; again < 2 && d.as_it_is.as_many_as() < many && d.as_it_is.as_many_as() > hardly_any; ++again) {
        from.mean = c.h.mean;
        from.covariance = c.h.covariance;
        follow(from, q, between(q, normal_of(d.as_it_is)), c.b);
        d = drawn_from(from, c);
    }
    return d;
}

void add(std::vector<std::size_t>& states, std::size_t state) {
    if (std::find(states.begin(), states.end(), state) == states.end()) states.push_back(state);
}

std::vector<std::size_t> bent_in(const Hypothesis& h) {
    std::vector<std::size_t> states;
    for (const auto& bend : h.bends) {
        for (const std::size_t f : bend->faults) add(states, f);
    }
    return states;
}

/// Empty: nothing binds.
const Part* began_as(const Hypothesis& h, const Setting& setting) {
    if (!setting.mixture.going) return nullptr;
    std::vector<std::uint8_t> lobes;
    for (const Fault f : setting.model.binding) lobes.push_back(h.lobe[at(f)]);
    return &setting.mixture.going->at(lobes);
}

void put_right(Hypothesis& h, const Setting& setting) {
    constexpr double enough = 12.0;
    const Part* began = began_as(h, setting);
    Case c{h, setting, bent_in(h), bent_in(h)};
    if (began) {
        for (const Fault f : setting.model.binding) add(c.b, at(f));
        c.going.emplace(h, *began, setting);
    }
    if (c.b.empty()) return;
    const Normal q = c.q();
    const Drawn d = enough_of(c, q);
    if (d.nothing_wrong || d.as_it_is.as_many_as() < enough) return;
    h.weight *= d.as_it_is.sum / d.as_it_was.sum;
    follow(h, q, put_right(d, q), c.b);
}

}  // namespace

void put_right(Mixture& mixture, const Prior& prior, const Model& model) {
    constexpr double light = 3e-3;
    const Setting setting = setting_of(mixture, prior, model);
    double sum = 0.0;
    for (Hypothesis& h : mixture.hypotheses) {
        if (h.weight > light) put_right(h, setting);
        sum += h.weight;
    }
    for (Hypothesis& h : mixture.hypotheses) h.weight /= sum;
}

}  // namespace offsquare::diagnose
