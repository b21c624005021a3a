// What goes of a hypothesis after the readings, and what is bent in them, held to truncated normal distributions in
// closed form (Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions, ch. 13, from memory) with the
// normal distribution of the C++ library, and to Bayes' sum over a grid.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "bench_model.h"
#include "diagnose/put_right.h"

using namespace bench_model;
using diagnose::Mixture;

namespace {

double density(double z) { return std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::acos(-1.0)); }
double below(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

/// A sled that goes where bend + wander <= `edge`; the slot's ride reads the wander, the straightedge on the runner the
/// bend.
diagnose::Model sled(double edge) {
    diagnose::Model model = straight({{measure::Check::slot_ride, {{{Fault::slot_wander, 1.0}}}},
                                      {measure::Check::runner_straightedge, {{{Fault::runner_bend, 1.0}}}}});
    model.goes = [edge](const Sizes& s) { return s[at(Fault::slot_wander)] + s[at(Fault::runner_bend)] <= edge; };
    model.binding = {Fault::slot_wander, Fault::runner_bend};
    return model;
}

struct Reading {
    measure::Check check;
    Fault fault;
    double value;
    double u;
};

Mixture after(const std::vector<Reading>& readings, const diagnose::Model& model, const diagnose::Prior& prior) {
    Mixture m = diagnose::start(prior, {});
    for (const Reading& r : readings) {
        diagnose::touch(m, prior, {r.fault}, model);
        diagnose::assimilate(m, {{r.check}, 0, {r.value, r.u, 0.0}, std::nullopt, {r.fault}}, model, prior);
    }
    diagnose::put_right(m, prior, model);
    return m;
}

/// Mean and deviation of one size over all hypotheses.
struct Size {
    double mean = 0.0;
    double sd = 0.0;
};

Size size_of(const Mixture& m, Fault fault) {
    double mean = 0.0;
    double square = 0.0;
    for (const auto& h : m.hypotheses) {
        const double x = h.mean[at(fault)];
        mean += h.weight * x;
        square += h.weight * (x * x + h.covariance[at(fault) * (h.mean.size() + 1)]);
    }
    return {mean, std::sqrt(square - mean * mean)};
}

}  // namespace

TEST_CASE(
    "an edge that cuts the lobe in two: the interval after a reading is that of the cut-off distribution, on either "
    "side of the edge") {
    diagnose::Prior prior = nothing();
    prior[at(Fault::slot_wander)] = {{false, 1.0, 0.0, 1.0}};
    const auto model = sled(0.0);
    // Far from the edge the cut does not show: the lobe's own width counts, not that of the half which goes. At the
    // edge it does.
    for (const double read : {-1.5, -0.4, 0.3}) {
        CAPTURE(read);
        constexpr double u = 0.5;
        const double sd = std::sqrt(1.0 / (1.0 + 1.0 / (u * u)));
        const double mean = read * sd * sd / (u * u);
        const double hazard = density(-mean / sd) / below(-mean / sd);
        const double cut_mean = mean - sd * hazard;
        const double cut_sd = sd * std::sqrt(1.0 + mean / sd * hazard - hazard * hazard);
        const Size found = size_of(after({{measure::Check::slot_ride, Fault::slot_wander, read, u}}, model, prior),
                                   Fault::slot_wander);
        // 256 points, of which an edge leaves a third at least: a tenth of a deviation is more than one standard error
        // of either.
        CHECK(std::abs(found.mean - cut_mean) < 0.1 * cut_sd);
        CHECK(std::abs(found.sd - cut_sd) < 0.1 * cut_sd);
    }
}

TEST_CASE("two faults that share the room: weights and sizes as by Bayes' sum over a grid") {
    diagnose::Prior prior = nothing();
    prior[at(Fault::slot_wander)] = {{false, 0.7, 0.0, 0.3}, {true, 0.3, 2.0, 0.6}};
    prior[at(Fault::runner_bend)] = {{false, 0.7, 0.0, 0.3}, {true, 0.3, 2.0, 0.6}};
    const auto model = sled(2.2);
    constexpr double u = 0.8;
    const double wander = 1.3;
    const double bend = 1.0;
    const Mixture m = after({{measure::Check::slot_ride, Fault::slot_wander, wander, u},
                             {measure::Check::runner_straightedge, Fault::runner_bend, bend, u}},
                            model, prior);
    double all = 0.0;
    double there = 0.0;
    double sum = 0.0;
    constexpr double step = 0.02;
    for (const auto& a : prior[at(Fault::slot_wander)]) {
        for (const auto& b : prior[at(Fault::runner_bend)]) {
            for (double x = -2.0; x < 6.0; x += step) {
                for (double y = -2.0; x + y <= 2.2 && y < 6.0; y += step) {
                    const double p = a.weight * b.weight / (a.sd * b.sd) * density((x - a.mean) / a.sd) *
                                     density((y - b.mean) / b.sd) * density((wander - x) / u) * density((bend - y) / u);
                    all += p;
                    there += a.present ? p : 0.0;
                    sum += p * x;
                }
            }
        }
    }
    double found = 0.0;
    for (const auto& h : m.hypotheses) found += h.lobe[at(Fault::slot_wander)] == 1 ? h.weight : 0.0;
    CAPTURE(there / all);
    CAPTURE(sum / all);
    // 256 points for each choice of lobes, half of which go: a share has a standard error of 0.03.
    CHECK(std::abs(found - there / all) < 0.06);
    CHECK(std::abs(size_of(m, Fault::slot_wander).mean - sum / all) < 0.1);
}

TEST_CASE("where everything goes nothing changes, and where nothing goes nothing is lost") {
    diagnose::Prior prior = nothing();
    prior[at(Fault::slot_wander)] = {{false, 1.0, 0.0, 1.0}};
    const std::vector<Reading> readings{{measure::Check::slot_ride, Fault::slot_wander, 0.6, 0.5}};
    for (const double edge : {1e3, -1e3}) {
        const Size found = size_of(after(readings, sled(edge), prior), Fault::slot_wander);
        // Normal equations for one size: 0.6*4/5 and 1/sqrt(5); a rounding is left.
        CHECK(std::abs(found.mean - 0.48) < 1e-12);
        CHECK(std::abs(found.sd - std::sqrt(0.2)) < 1e-12);
    }
}

namespace {

/// A wiggle that reads the wander up to where something else holds the sled, and no more beyond.
diagnose::Model held_at(double edge) {
    diagnose::Model model = straight({});
    model.reads = [edge](const measure::Occasion&, const Sizes& sizes) -> std::optional<diagnose::Prediction> {
        const double room = std::min(sizes[at(Fault::slot_wander)], edge);
        return diagnose::Prediction{{room, 0.0}, {0.0, 0.0}, {1e-6, 1e-6}};
    };
    return model;
}

struct Answer {
    double there = 0.0;  ///< probability of the second lobe
    Size size;
};

/// Bayes' sum for one size, two lobes and one reading.
Answer by_sum(const diagnose::Lobes& lobes, double edge, double read, double u) {
    double all = 0.0;
    double there = 0.0;
    double sum = 0.0;
    double squares = 0.0;
    for (const auto& l : lobes) {
        for (double x = -6.0; x < 8.0; x += 0.001) {
            const double p = l.weight / l.sd * density((x - l.mean) / l.sd) * density((read - std::min(x, edge)) / u);
            all += p;
            there += l.present ? p : 0.0;
            sum += p * x;
            squares += p * x * x;
        }
    }
    return {there / all, {sum / all, std::sqrt(squares / all - sum * sum / (all * all))}};
}

}  // namespace

TEST_CASE(
    "a reading that shows a size only up to an edge: probability, size and spread as by Bayes' sum, on either side of "
    "the edge and at it") {
    diagnose::Prior prior = nothing();
    prior[at(Fault::slot_wander)] = {{false, 0.7, 0.0, 0.5}, {true, 0.3, 1.5, 0.7}};
    constexpr double edge = 0.6;
    constexpr double u = 0.15;
    // A bend within one and a half deviations of each lobe: farther off it is not looked for.
    const auto model = held_at(edge);
    for (const double read : {0.1, 0.45, 0.6, 0.8}) {
        CAPTURE(read);
        const Mixture m = after({{measure::Check::wiggle, Fault::slot_wander, read, u}}, model, prior);
        const Answer right = by_sum(prior[at(Fault::slot_wander)], edge, read, u);
        double there = 0.0;
        for (const auto& h : m.hypotheses) there += h.lobe[at(Fault::slot_wander)] == 1 ? h.weight : 0.0;
        const Size found = size_of(m, Fault::slot_wander);
        CAPTURE(there);
        CAPTURE(found.mean);
        CAPTURE(found.sd);
        // 256 points, of which a quarter count where the line was wrong: shares to 0.06, the mean to an eighth of the
        // spread, the spread to an eighth of itself, are two standard errors.
        CHECK(std::abs(there - right.there) < 0.06);
        CHECK(std::abs(found.mean - right.size.mean) < 0.125 * right.size.sd);
        CHECK(std::abs(found.sd - right.size.sd) < 0.125 * right.size.sd);
    }
}
