// Inference where the right answer is known by another road: normal equations (Eigen), and Bayes' sum over a fine grid.
#include <doctest/doctest.h>

#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <eigen3/Eigen/Dense>
#include <functional>
#include <numbers>
#include <random>
#include <utility>
#include <vector>

#include "diagnose/bench_model.h"

using namespace bench_model;
using diagnose::Diagnosis;
using diagnose::Lobe;
using diagnose::Prior;
using measure::Check;
using measure::CheckReport;

namespace {

Diagnosis diagnosis(const std::vector<CheckReport>& reports, const diagnose::Model& model, const Prior& prior,
                    diagnose::TheOdd the_odd = diagnose::TheOdd::left_out) {
    const auto d = diagnose::infer(reports, bench_model::drawing(), model, prior, the_odd);
    REQUIRE(d.has_value());
    return *d;
}

const diagnose::Belief& belief(const Diagnosis& d, Fault f) { return d.beliefs[at(f)]; }

double normal(double x, double mean, double sd) {
    return std::exp(-0.5 * (x - mean) * (x - mean) / (sd * sd)) / (sd * std::sqrt(2.0 * std::numbers::pi));
}

// ---- the grid: Bayes' theorem by adding up, two faults at most ----

/// What the grid says of one fault.
struct Known {
    double probability = 0.0;
    double mean = 0.0;
    double sd = 0.0;
    double lo = 0.0;  ///< 2.5 % below
    double hi = 0.0;
};

/// Density of the readings at two sizes.
using Likelihood = std::function<double(double, double)>;

double density(const std::vector<Lobe>& lobes, double x, bool present_only) {
    double sum = 0.0;
    for (const Lobe& l : lobes) sum += present_only && !l.present ? 0.0 : l.weight * normal(x, l.mean, l.sd);
    return sum;
}

struct Grid {
    double from = -1.2;
    double to = 1.2;
    int n = 1201;
    double at(int i) const { return from + (to - from) * i / (n - 1); }
};

/// Of the first fault; the second is summed over.
Known by_grid(const std::vector<Lobe>& first, const std::vector<Lobe>& second, const Likelihood& likelihood,
              const Grid& grid = {}) {
    std::vector<double> other;
    for (int j = 0; j < grid.n; ++j) other.push_back(density(second, grid.at(j), false));
    std::vector<double> all;
    double total = 0.0;
    Known k;
    for (int i = 0; i < grid.n; ++i) {
        const double x = grid.at(i);
        double fit = 0.0;
        for (int j = 0; j < grid.n; ++j) fit += other[static_cast<std::size_t>(j)] * likelihood(x, grid.at(j));
        all.push_back(fit * density(first, x, false));
        total += all.back();
        k.probability += fit * density(first, x, true);
        k.mean += all.back() * x;
        k.sd += all.back() * x * x;
    }
    k.probability /= total;
    k.mean /= total;
    k.sd = std::sqrt(k.sd / total - k.mean * k.mean);
    double below = 0.0;
    for (int i = 0; i < grid.n; ++i) {
        const double before = below;
        below += all[static_cast<std::size_t>(i)] / total;
        // The middle of a cell has half of it below.
        if (before < 0.025 && below >= 0.025)
            k.lo = grid.at(i) + (grid.to - grid.from) / (grid.n - 1) * ((0.025 - before) / (below - before) - 0.5);
        if (before < 0.975 && below >= 0.975)
            k.hi = grid.at(i) + (grid.to - grid.from) / (grid.n - 1) * ((0.975 - before) / (below - before) - 0.5);
    }
    return k;
}

/// Sums over smooth densities are as good as exact: what is left is a quantile between two cells, and `quantile`'s own
/// thousandth.
void same(const diagnose::Belief& b, const Known& k, double p = 1e-6, double size = 1e-6) {
    CAPTURE(shop::info(b.fault).key);
    CHECK(std::abs(b.probability - k.probability) < p);
    CHECK(std::abs(b.size - k.mean) < size);
    CHECK(std::abs(b.u - k.sd) < size);
    CHECK(std::abs(b.coverage95.lo - k.lo) < std::max(size, 2e-3));
    CHECK(std::abs(b.coverage95.hi - k.hi) < std::max(size, 2e-3));
}

std::vector<Lobe> three(double p, double size, double sd, double rest) {
    return {{false, 1.0 - p, 0.0, rest}, {true, 0.5 * p, -size, sd}, {true, 0.5 * p, size, sd}};
}

}  // namespace

TEST_CASE("one lobe for each fault: the posterior is that of the normal equations (Eigen)") {
    std::mt19937_64 random(11);
    std::normal_distribution<double> draw;
    const std::vector<Fault> faults{Fault::fence_bow, Fault::edge_bow, Fault::pitch_error};
    for (int round = 0; round < 40; ++round) {
        Prior prior = nothing();
        Eigen::Matrix3d precision = Eigen::Matrix3d::Zero();
        Eigen::Vector3d right = Eigen::Vector3d::Zero();
        for (Eigen::Index i = 0; i < 3; ++i) {
            const double mean = 0.1 * draw(random);
            const double sd = 0.05 + 0.1 * std::abs(draw(random));
            prior[at(faults[static_cast<std::size_t>(i)])] = {{true, 1.0, mean, sd}};
            precision(i, i) += 1.0 / (sd * sd);
            right(i) += mean / (sd * sd);
        }
        Table table;
        std::vector<CheckReport> reports;
        for (const Check check : {Check::slot_ride, Check::rim_indicator, Check::jaws, Check::wiggle}) {
            std::vector<std::pair<double, double>> read;
            for (std::size_t k = 0; k < measure::info(check).readings.size(); ++k) {
                Row row;
                Eigen::Vector3d a;
                for (Eigen::Index i = 0; i < 3; ++i) row[faults[static_cast<std::size_t>(i)]] = a(i) = draw(random);
                table[check].push_back(row);
                const double u = 0.02 + 0.05 * std::abs(draw(random));
                read.emplace_back(0.3 * draw(random), u);
                precision += a * a.transpose() / (u * u);
                right += a * read.back().first / (u * u);
            }
            reports.push_back(read.size() == 2 ? report(check, {read[0], read[1]}) : report(check, {read[0]}));
        }
        const Eigen::Matrix3d covariance = precision.inverse();
        const Eigen::Vector3d mean = covariance * right;
        // Readings drawn at random do not go together: here they all count.
        const Diagnosis d = diagnosis(reports, straight(table), prior, diagnose::TheOdd::kept);
        REQUIRE(d.mixture.hypotheses.size() == 1);
        const auto& h = d.mixture.hypotheses.front();
        for (Eigen::Index i = 0; i < 3; ++i) {
            const Fault f = faults[static_cast<std::size_t>(i)];
            // Rounding, and the 1e-18 mm2 that meet() adds to every variance.
            CHECK(std::abs(belief(d, f).size - mean(i)) < 1e-9);
            CHECK(std::abs(belief(d, f).u - std::sqrt(covariance(i, i))) < 1e-9);
            for (Eigen::Index k = 0; k < 3; ++k)
                CHECK(std::abs(h.covariance[at(f) * h.mean.size() + at(faults[static_cast<std::size_t>(k)])] -
                               covariance(i, k)) < 1e-10);
        }
    }
}

TEST_CASE("lasting errors: repeats with one straightedge are correlated readings (Eigen, generalised least squares)") {
    // Feeler gauges: half of their limit lasts, the rest of u is new each time.
    const double lasting = 0.5 * measure::feeler.limit_mm;
    const double u = 1.5 * lasting;
    Prior prior = nothing();
    prior[at(Fault::fence_bow)] = {{true, 1.0, 0.1, 0.2}};
    const diagnose::Model model = straight(
        {{Check::fence_straightedge, {{{Fault::fence_bow, 1.0}}}}, {Check::slot_ride, {{{Fault::fence_bow, 0.5}}}}});
    const std::vector<double> read{0.21, 0.23, 0.18};
    std::vector<CheckReport> reports{report(Check::slot_ride, {{0.09, 0.03}})};
    for (const double x : read) reports.push_back(report(Check::fence_straightedge, {{x, u}}));
    Eigen::Matrix4d v = Eigen::Matrix4d::Constant(lasting * lasting);
    v.diagonal().setConstant(u * u);
    v.row(3).setZero();
    v.col(3).setZero();
    v(3, 3) = 0.03 * 0.03;
    const Eigen::Vector4d a(1.0, 1.0, 1.0, 0.5);
    const Eigen::Vector4d y(read[0], read[1], read[2], 0.09);
    const double precision = a.dot(v.inverse() * a) + 1.0 / 0.04;
    const double mean = (a.dot(v.inverse() * y) + 0.1 / 0.04) / precision;
    // The third lies four deviations off the first two.
    const Diagnosis d = diagnosis(reports, model, prior, diagnose::TheOdd::kept);
    CHECK(std::abs(belief(d, Fault::fence_bow).size - mean) < 1e-9);
    CHECK(std::abs(belief(d, Fault::fence_bow).u - 1.0 / std::sqrt(precision)) < 1e-9);
    // However often: never better than the error that lasts.
    for (int i = 0; i < 100; ++i) reports.push_back(report(Check::fence_straightedge, {{0.2, u}}));
    reports.erase(reports.begin());
    CHECK(belief(diagnosis(reports, model, prior), Fault::fence_bow).u >
          1.0 / std::sqrt(1.0 / (lasting * lasting) + 1.0 / 0.04));
}

TEST_CASE("is it there? One fault of three lobes, one reading, over every place that the reading may have") {
    Prior prior = nothing();
    prior[at(Fault::fence_bow)] = three(0.3, 0.3, 0.08, 0.02);
    const diagnose::Model model = straight({{Check::slot_ride, {{{Fault::fence_bow, 1.0}}}}});
    for (const double y : {-0.5, -0.12, 0.0, 0.06, 0.1, 0.14, 0.3, 0.7}) {
        const Diagnosis d = diagnosis({report(Check::slot_ride, {{y, 0.04}})}, model, prior, diagnose::TheOdd::kept);
        const Known k = by_grid(prior[at(Fault::fence_bow)], {{false, 1.0, 0.0, 0.3}},
                                [&](double a, double) { return normal(y, a, 0.04); });
        CAPTURE(y);
        same(belief(d, Fault::fence_bow), k);
        // Nothing else is touched: what stands there is the prior.
        CHECK_FALSE(belief(d, Fault::edge_bow).touched);
        CHECK(belief(d, Fault::edge_bow).probability == 0.0);
    }
}

TEST_CASE("two faults at once: a sum of both, then each by itself, against the grid") {
    Prior prior = nothing();
    prior[at(Fault::fence_bow)] = three(0.25, 0.25, 0.08, 0.015);
    prior[at(Fault::edge_bow)] = three(0.30, 0.40, 0.12, 0.03);
    const diagnose::Model model =
        straight({{Check::slot_ride, {{{Fault::fence_bow, 1.0}, {Fault::edge_bow, 0.7}}}},
                  {Check::rim_indicator, {{{Fault::fence_bow, 1.0}, {Fault::edge_bow, -0.5}}}},
                  {Check::jaws, {{{Fault::edge_bow, 1.0}}}}});
    // Both are there: 0.22 and 0.45.
    const std::vector<CheckReport> all{report(Check::slot_ride, {{0.22 + 0.315 + 0.02, 0.05}}),
                                       report(Check::rim_indicator, {{0.22 - 0.225 - 0.03, 0.06}}),
                                       report(Check::jaws, {{0.41, 0.1}})};
    for (std::size_t n = 1; n <= all.size(); ++n) {
        CAPTURE(n);
        const std::vector<CheckReport> some(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(n));
        const Diagnosis d = diagnosis(some, model, prior);
        const auto likelihood = [&](double bow, double edge) {
            double p = normal(some[0].readings[0].value, bow + 0.7 * edge, 0.05);
            if (n > 1) p *= normal(some[1].readings[0].value, bow - 0.5 * edge, 0.06);
            if (n > 2) p *= normal(some[2].readings[0].value, edge, 0.1);
            return p;
        };
        same(belief(d, Fault::fence_bow), by_grid(prior[at(Fault::fence_bow)], prior[at(Fault::edge_bow)], likelihood));
        same(belief(d, Fault::edge_bow), by_grid(prior[at(Fault::edge_bow)], prior[at(Fault::fence_bow)],
                                                 [&](double edge, double bow) { return likelihood(bow, edge); }));
        // After the first reading either may stand for the other; the second, of their difference, has told.
        const bool apart = d.unseparated.empty();
        CHECK(apart == (n > 1));
        if (n == 3) {
            CHECK(belief(d, Fault::fence_bow).probability > 0.95);
            CHECK(belief(d, Fault::edge_bow).probability > 0.95);
        }
    }
}

TEST_CASE("a reading without a side (a kerf): both sides stay, against the grid") {
    Prior prior = nothing();
    prior[at(Fault::fence_bow)] = three(0.4, 0.3, 0.05, 0.02);
    const diagnose::Model model = [](const measure::Occasion& occasion,
                                     const Sizes& sizes) -> std::optional<diagnose::Prediction> {
        const std::size_t n = diagnose::observables_of(occasion.check);
        const double x = sizes[at(Fault::fence_bow)];
        return diagnose::Prediction{std::vector<double>(n, occasion.check == Check::rim_indicator ? std::abs(x) : 0.0),
                                    std::vector<double>(n, 0.0), std::vector<double>(n, 1.0)};
    };
    const Diagnosis d = diagnosis({report(Check::rim_indicator, {{0.22, 0.05}})}, model, prior);
    const Known k = by_grid(prior[at(Fault::fence_bow)], {{false, 1.0, 0.0, 0.3}},
                            [](double x, double) { return normal(0.22, std::abs(x), 0.05); });
    // The absent lobe bends at zero, where the model is a straight line through both slopes: it weighs less than 1e-3
    // here.
    same(belief(d, Fault::fence_bow), k, 1e-3, 1e-3);
    CHECK(std::abs(belief(d, Fault::fence_bow).size) < 1e-9);
}

TEST_CASE("a bend inside a lobe: straightened over what the reading leaves, near to the grid") {
    // Second order: y = x + x^2, over lobes of 0.3 +- 0.1: from 0.1 to 0.5 the slope goes from 1.2 to 2, to the other
    // side from 0.8 to 0.
    Prior prior = nothing();
    prior[at(Fault::fence_bow)] = three(0.5, 0.3, 0.1, 0.02);
    const auto bent = [](double x) { return x + x * x; };
    const diagnose::Model model = [&](const measure::Occasion& occasion,
                                      const Sizes& sizes) -> std::optional<diagnose::Prediction> {
        const std::size_t n = diagnose::observables_of(occasion.check);
        return diagnose::Prediction{
            std::vector<double>(n, occasion.check == Check::rim_indicator ? bent(sizes[at(Fault::fence_bow)]) : 0.0),
            std::vector<double>(n, 0.0), std::vector<double>(n, 1.0)};
    };
    for (const double y : {0.03, 0.3, 0.5, 0.9}) {
        CAPTURE(y);
        const Diagnosis d = diagnosis({report(Check::rim_indicator, {{y, 0.05}})}, model, prior);
        const Known k = by_grid(prior[at(Fault::fence_bow)], {{false, 1.0, 0.0, 0.3}},
                                [&](double x, double) { return normal(y, bent(x), 0.05); });
        const diagnose::Belief& b = belief(d, Fault::fence_bow);
        // Not exact: what one straight line for each lobe can do, a point of a hundred and a fifth of what is not
        // known.
        CHECK(std::abs(b.probability - k.probability) < 0.01);
        CHECK(std::abs(b.size - k.mean) < 0.2 * k.sd);
        CHECK(std::abs(b.u - k.sd) < 0.2 * k.sd);
    }
}

TEST_CASE("scatter: five repeats tell whether a chip is there, against the grid over its size") {
    Prior prior = nothing();
    prior[at(Fault::dust)] = {{false, 0.8, 0.01, 0.002}, {true, 0.1, 0.1, 0.012}, {true, 0.1, 0.2, 0.024}};
    const diagnose::Model model = [](const measure::Occasion& occasion,
                                     const Sizes& sizes) -> std::optional<diagnose::Prediction> {
        const std::size_t n = diagnose::observables_of(occasion.check);
        const double d = occasion.check == Check::gauge_in_jaws ? sizes[at(Fault::dust)] : 0.0;
        return diagnose::Prediction{std::vector<double>(n, 0.0), std::vector<double>(n, d * d),
                                    std::vector<double>(n, 0.05)};
    };
    const std::vector<std::vector<double>> sets{
        {0.02, -0.05, 0.03, 0.01, -0.04}, {0.09, -0.13, 0.04, -0.08, 0.1}, {0.3, -0.1, -0.35, 0.2, 0.04}};
    for (const auto& y : sets) {
        CAPTURE(y[0]);
        const Diagnosis d = diagnosis(
            {report(Check::gauge_in_jaws, {{y[0], 0.05}, {y[1], 0.05}, {y[2], 0.05}, {y[3], 0.05}, {y[4], 0.05}})},
            model, prior);
        const Known k = by_grid(prior[at(Fault::dust)], {{false, 1.0, 0.0, 0.3}}, [&](double size, double) {
            double p = 1.0;
            for (const double x : y) p *= normal(x, 0.0, std::sqrt(size * size + 0.0025));
            return p;
        });
        // The size within a lobe is taken at its mean, 12 % of which one standard deviation is.
        CHECK(std::abs(belief(d, Fault::dust).probability - k.probability) < 0.01);
        CHECK(std::abs(belief(d, Fault::dust).size - k.mean) < 0.01);
    }
}

TEST_CASE("the order of the reports does not matter") {
    Prior prior = nothing();
    prior[at(Fault::fence_bow)] = three(0.25, 0.25, 0.08, 0.015);
    prior[at(Fault::edge_bow)] = three(0.30, 0.40, 0.12, 0.03);
    const diagnose::Model model = straight({{Check::slot_ride, {{{Fault::fence_bow, 1.0}, {Fault::edge_bow, 0.7}}}},
                                            {Check::jaws, {{{Fault::edge_bow, 1.0}}}},
                                            {Check::fence_straightedge, {{{Fault::fence_bow, 1.0}}}}});
    std::vector<CheckReport> reports{report(Check::slot_ride, {{0.3, 0.05}}), report(Check::jaws, {{0.1, 0.06}}),
                                     report(Check::fence_straightedge, {{0.1, 0.05}}),
                                     report(Check::fence_straightedge, {{0.12, 0.05}})};
    const Diagnosis one = diagnosis(reports, model, prior);
    std::reverse(reports.begin(), reports.end());
    const Diagnosis other = diagnosis(reports, model, prior);
    // Each reading may drop a few hypotheses of less than `lightest` (1e-7).
    for (std::size_t i = 0; i < shop::fault_count; ++i) {
        CHECK(std::abs(one.beliefs[i].probability - other.beliefs[i].probability) < 1e-6);
        CHECK(std::abs(one.beliefs[i].size - other.beliefs[i].size) < 1e-6);
    }
}

TEST_CASE(
    "contradictions: of readings that do not go together the wrong one is found, wherever it stands in the list") {
    Prior prior = nothing();
    prior[at(Fault::fence_bow)] = three(0.25, 0.25, 0.08, 0.015);
    prior[at(Fault::edge_bow)] = three(0.30, 0.40, 0.12, 0.03);
    const Row bow{{Fault::fence_bow, 1.0}};
    const diagnose::Model model = straight({{Check::slot_ride, {bow}},
                                            {Check::rim_indicator, {bow}},
                                            {Check::jaws, {bow}},
                                            {Check::cut_face, {bow}},
                                            {Check::wiggle, {{{Fault::edge_bow, 1.0}}}}});
    const std::vector<Check> checks{Check::slot_ride, Check::rim_indicator, Check::jaws, Check::cut_face};
    for (std::size_t wrong = 0; wrong < checks.size(); ++wrong) {
        std::vector<CheckReport> reports;
        for (std::size_t i = 0; i < checks.size(); ++i)
            reports.push_back(report(checks[i], {{i == wrong ? 0.02 : 0.26 + 0.005 * static_cast<double>(i), 0.02}}));
        reports.push_back(report(Check::wiggle, {{0.4, 0.05}, {0.1, 0.3}}));
        const Diagnosis d = diagnosis(reports, model, prior);
        CAPTURE(wrong);
        REQUIRE(d.contradictions.size() == 1);
        CHECK(d.contradictions[0].report == wrong);
        CHECK(d.contradictions[0].index == 0);
        // Three readings of the bow: its mean about 0.265 with u 0.0115, so that the wrong one, 0.245 off, is more than
        // ten deviations off.
        CHECK(d.contradictions[0].oddness < 1e-6);
    }
    // Two wrong ones, unlike each other, among five.
    std::vector<CheckReport> reports;
    for (const double y : {0.26, 0.02, 0.27, -0.3}) reports.push_back(report(checks[reports.size()], {{y, 0.02}}));
    reports.push_back(report(Check::slot_ride, {{0.25, 0.02}}));
    const Diagnosis two = diagnosis(reports, model, prior);
    REQUIRE(two.contradictions.size() == 2);
    CHECK(two.contradictions[0].report + two.contradictions[1].report == 4);
    CHECK(two.contradictions[0].report * two.contradictions[1].report == 3);
}

TEST_CASE("contradictions: none where chance alone is at work, but for the share that `odd` allows") {
    Prior prior = nothing();
    prior[at(Fault::fence_bow)] = three(0.25, 0.25, 0.08, 0.015);
    const Row bow{{Fault::fence_bow, 1.0}};
    const diagnose::Model model =
        straight({{Check::slot_ride, {bow}}, {Check::rim_indicator, {bow}}, {Check::jaws, {bow}}});
    std::mt19937_64 random(5);
    std::normal_distribution<double> draw;
    std::uniform_real_distribution<double> any(0.0, 1.0);
    int alarms = 0;
    constexpr int rounds = 1000;
    for (int round = 0; round < rounds; ++round) {
        const double kind = any(random);
        const double size = kind < 0.75 ? 0.015 * draw(random) : (kind < 0.875 ? 0.25 : -0.25) + 0.08 * draw(random);
        std::vector<CheckReport> reports;
        for (const Check check : {Check::slot_ride, Check::rim_indicator, Check::jaws})
            reports.push_back(report(check, {{size + 0.03 * draw(random), 0.03}}));
        alarms += diagnosis(reports, model, prior).contradictions.empty() ? 0 : 1;
    }
    // 3,000 readings of which 3 in 10,000 may seem odd: 0.9 in all, more than 6 once in 20,000 such tests (Poisson).
    CHECK(alarms <= 6);
}

TEST_CASE("a sticking caliper reads the same again: ten repeats tell of its steps as much as one") {
    // Five gauges, whose steps of s scatter by s/sqrt(12); u = 0.01 is new each time.
    Prior prior = nothing();
    prior[at(Fault::caliper_step)] = {{false, 0.8, 0.002, 0.0004}, {true, 0.2, 0.1, 0.012}};
    const diagnose::Model model = [](const measure::Occasion& occasion,
                                     const Sizes& sizes) -> std::optional<diagnose::Prediction> {
        const std::size_t n = diagnose::observables_of(occasion.check);
        const double s = occasion.check == Check::gauge_in_jaws ? sizes[at(Fault::caliper_step)] : 0.0;
        return diagnose::Prediction{std::vector<double>(n, 0.0), std::vector<double>(n, s * s / 12.0),
                                    std::vector<double>(n, 0.01)};
    };
    const std::vector<double> y{0.02, -0.012, 0.004, 0.018, -0.02};
    const auto once =
        report(Check::gauge_in_jaws, {{y[0], 0.01}, {y[1], 0.01}, {y[2], 0.01}, {y[3], 0.01}, {y[4], 0.01}});
    const Diagnosis d = diagnosis(std::vector<CheckReport>(10, once), model, prior);
    // Bayes by hand: the mean of ten, of which only the fresh part is a tenth.
    double odds = 0.2 / 0.8;
    for (const double x : y)
        odds *=
            normal(x, 0.0, std::sqrt(0.1 * 0.1 / 12.0 + 1e-5)) / normal(x, 0.0, std::sqrt(0.002 * 0.002 / 12.0 + 1e-5));
    CHECK(std::abs(belief(d, Fault::caliper_step).probability - odds / (1.0 + odds)) < 1e-6);
}

TEST_CASE(
    "what contradicts is left out, however wrong it is; kept, it drags the belief beyond all that goes together") {
    Prior prior = nothing();
    prior[at(Fault::fence_bow)] = three(0.3, 0.25, 0.05, 0.02);
    const diagnose::Model model = straight(
        {{Check::slot_ride, {{{Fault::fence_bow, 1.0}}}}, {Check::rim_indicator, {{{Fault::fence_bow, 1.0}}}}});
    const CheckReport sound = report(Check::slot_ride, {{0.24, 0.02}});
    const Diagnosis alone = diagnosis({sound}, model, prior);
    for (const double wrong : {3.0, -3.0, 30.0, 3000.0}) {
        CAPTURE(wrong);
        const std::vector<CheckReport> both{sound, report(Check::rim_indicator, {{wrong, 0.02}})};
        const Diagnosis d = diagnosis(both, model, prior);
        REQUIRE(d.contradictions.size() == 1);
        CHECK(d.contradictions[0].report == 1);
        CHECK(d.contradictions[0].unexplained);
        CHECK(d.contradictions[0].to_read_again);
        const diagnose::Belief& b = belief(d, Fault::fence_bow);
        CHECK(b.disputed);
        CHECK(b.size == belief(alone, Fault::fence_bow).size);
        CHECK(b.u == belief(alone, Fault::fence_bow).u);
        // Kept, the mean of the two would stand where neither was read, or where the model ends.
        const Diagnosis kept = diagnosis(both, model, prior, diagnose::TheOdd::kept);
        CHECK(std::abs(belief(kept, Fault::fence_bow).size - 0.24) > 1.0);
        const base::Interval c = belief(kept, Fault::fence_bow).coverage95;
        CHECK(c.lo <= c.hi);
        CHECK(c.lo >= shop::info(Fault::fence_bow).min);
        CHECK(c.hi <= shop::info(Fault::fence_bow).max);
    }
    // Made again, it fits: what was odd is settled, and nothing is in dispute.
    const Diagnosis settled =
        diagnosis({sound, report(Check::rim_indicator, {{3.0, 0.02}}), report(Check::rim_indicator, {{0.26, 0.02}})},
                  model, prior);
    REQUIRE(settled.contradictions.size() == 1);
    CHECK(settled.contradictions[0].settled);
    CHECK_FALSE(settled.contradictions[0].to_read_again);
    CHECK_FALSE(belief(settled, Fault::fence_bow).disputed);
    // So far out that the belief, drawn back by the prior, finds even the repeat odd: read twice it is the saw.
    const CheckReport far = report(Check::slot_ride, {{1.9, 0.02}});
    CHECK(diagnosis({far}, model, prior).contradictions.size() == 1);
    CHECK(diagnosis({far, far}, model, prior).contradictions.empty());
    // Two that say the same: the saw is odd, and the first of them is explained by the second.
    const Diagnosis odd_saw =
        diagnosis({report(Check::slot_ride, {{0.9, 0.02}}), report(Check::rim_indicator, {{0.9, 0.02}})}, model, prior);
    CHECK(odd_saw.contradictions.empty());
    CHECK(std::abs(belief(odd_saw, Fault::fence_bow).size - 0.9) < 0.1);
}
