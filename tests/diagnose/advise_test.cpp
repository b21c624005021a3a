// What a check tells, against published numbers and quadrature.
#include <doctest/doctest.h>

#include <array>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "diagnose/advise.h"
#include "diagnose/bench_model.h"

using namespace offsquare;
using diagnose::Foreseen;
using diagnose::information_bits;

namespace {

/// Twelve balls after some weighings: how many may be either, may only be heavy, may only be light, and are known to be
/// good.
struct Balls {
    int either = 12;
    int heavy = 0;
    int light = 0;
    int good = 0;
    int hypotheses() const { return 2 * either + heavy + light; }
};
/// How many of each kind lie in one pan.
struct Pan {
    int either = 0;
    int heavy = 0;
    int light = 0;
    int good = 0;
    int balls() const { return either + heavy + light + good; }
};
/// How many hypotheses make the left pan sink, the right one, neither.
std::array<int, 3> outcomes(const Balls& b, const Pan& l, const Pan& r) {
    const int left = l.either + l.heavy + r.either + r.light;
    const int right = r.either + r.heavy + l.either + l.light;
    return {left, right, b.hypotheses() - left - right};
}

double bits(const Balls& b, const Pan& l, const Pan& r) {
    std::vector<std::vector<double>> given;
    const auto counts = outcomes(b, l, r);
    for (std::size_t k = 0; k < 3; ++k) {
        std::vector<double> row(3, 0.0);
        row[k] = 1.0;
        given.insert(given.end(), static_cast<std::size_t>(counts[k]), row);
    }
    return information_bits(std::vector<double>(given.size(), 1.0 / static_cast<double>(given.size())), given);
}

/// What is known after each outcome.
std::array<Balls, 3> after(const Balls& b, const Pan& l, const Pan& r) {
    const Balls left{0, l.either + l.heavy, r.either + r.light, 0};
    const Balls right{0, r.either + r.heavy, l.either + l.light, 0};
    const Balls none{b.either - l.either - r.either, b.heavy - l.heavy - r.heavy, b.light - l.light - r.light, 0};
    std::array<Balls, 3> all{left, right, none};
    for (Balls& x : all) x.good = 12 - x.either - x.heavy - x.light;
    return all;
}

std::vector<Pan> pans(const Balls& b) {
    std::vector<Pan> all;
    for (int e = 0; e <= b.either; ++e)
        for (int h = 0; h <= b.heavy; ++h)
            for (int l = 0; l <= b.light; ++l)
                for (int g = 0; g <= b.good; ++g)
                    if (const Pan p{e, h, l, g}; p.balls() > 0 && p.balls() <= 6) all.push_back(p);
    return all;
}

bool fits(const Balls& b, const Pan& l, const Pan& r) {
    return l.balls() == r.balls() && l.either + r.either <= b.either && l.heavy + r.heavy <= b.heavy &&
           l.light + r.light <= b.light && l.good + r.good <= b.good;
}

/// Weighings that the worst case needs when each is the one that tells most.
int greedy(const Balls& b) {
    if (b.hypotheses() <= 1) return 0;
    double most = -1.0;
    std::pair<Pan, Pan> best;
    const auto all = pans(b);
    for (const Pan& l : all) {
        for (const Pan& r : all) {
            if (!fits(b, l, r)) continue;
            const double told = bits(b, l, r);
            if (told > most + 1e-12) {
                most = told;
                best = {l, r};
            }
        }
    }
    int worst = 0;
    for (const Balls& next : after(b, best.first, best.second)) worst = std::max(worst, greedy(next));
    return 1 + worst;
}

double normal(double x, double mean, double sd) {
    return std::exp(-0.5 * (x - mean) * (x - mean) / (sd * sd)) / (sd * std::sqrt(2.0 * std::numbers::pi));
}

/// Entropy of the mixture less that of its parts, by Gauss-Kronrod over the line [bits].
double by_quadrature(const std::vector<Foreseen>& list) {
    using boost::math::quadrature::gauss_kronrod;
    double lo = std::numeric_limits<double>::infinity();
    double hi = -lo;
    double parts = 0.0;
    for (const Foreseen& f : list) {
        const double sd = std::sqrt(f.covariance[0]);
        lo = std::min(lo, f.mean[0] - 12.0 * sd);
        hi = std::max(hi, f.mean[0] + 12.0 * sd);
        parts += f.weight * std::log2(sd * std::sqrt(2.0 * std::numbers::pi * std::numbers::e));
    }
    const auto integrand = [&](double y) {
        double p = 0.0;
        for (const Foreseen& f : list) p += f.weight * normal(y, f.mean[0], std::sqrt(f.covariance[0]));
        return p > 0.0 ? -p * std::log2(p) : 0.0;
    };
    double sum = 0.0;
    for (int i = 0; i < 64; ++i)
        sum += gauss_kronrod<double, 31>::integrate(integrand, lo + (hi - lo) * i / 64.0,
                                                    lo + (hi - lo) * (i + 1) / 64.0, 5, 1e-10);
    return sum - parts;
}

}  // namespace

TEST_CASE("twelve balls, one odd (MacKay, Information Theory, Inference, and Learning Algorithms, exercise 4.1)") {
    CHECK(diagnose::entropy_bits(std::vector<double>(24, 1.0 / 24.0)) == doctest::Approx(4.584963).epsilon(1e-7));
    // Numbers of check-values.md, to their six digits.
    const std::array<double, 6> told{0.816689, 1.251629, 1.5, 1.584963, 1.483356, 1.0};
    for (int n = 1; n <= 6; ++n)
        CHECK(std::abs(bits(Balls{}, Pan{n, 0, 0, 0}, Pan{n, 0, 0, 0}) - told[static_cast<std::size_t>(n - 1)]) < 1e-6);
    CHECK(greedy(Balls{}) == 3);
}

TEST_CASE("a chain of eight, one broken: half-split tells most (arithmetic)") {
    const std::array<double, 4> told{0.543564, 0.811278, 0.954434, 1.0};
    const std::vector<double> weights(8, 0.125);
    for (std::size_t probe = 1; probe <= 4; ++probe) {
        std::vector<std::vector<double>> given;
        for (std::size_t broken = 0; broken < 8; ++broken)
            given.push_back(broken < probe ? std::vector{1.0, 0.0} : std::vector{0.0, 1.0});
        CHECK(std::abs(information_bits(weights, given) - told[probe - 1]) < 1e-6);
    }
}

TEST_CASE(
    "a yes-or-no test of 90 % sensitivity and 80 or 90 % specificity: 1 bit less its doubts (arithmetic, 1 - H2)") {
    const std::vector<double> even{0.5, 0.5};
    const std::vector<std::vector<double>> usual{{0.9, 0.1}, {0.2, 0.8}};
    const std::vector<std::vector<double>> sharp{{0.9, 0.1}, {0.1, 0.9}};
    CHECK(std::abs(information_bits(even, usual) - 0.397313) < 1e-6);
    CHECK(std::abs(information_bits(even, sharp) - 0.531004) < 1e-6);
    // A test that says the same whatever is so tells nothing.
    const std::vector<std::vector<double>> blind{{0.7, 0.3}, {0.7, 0.3}};
    CHECK(std::abs(information_bits(even, blind)) < 1e-12);
}

TEST_CASE("two faults that move a reading by a sigma either way (check-values.md, by quadrature)") {
    const std::array<std::pair<double, double>, 5> told{
        {{0.25, 0.043730}, {0.5, 0.160747}, {1.0, 0.485944}, {2.0, 0.912822}, {3.0, 0.994447}}};
    for (const auto& [a, expected] : told) {
        const std::vector<Foreseen> two{{0.5, {a}, {1.0}}, {0.5, {-a}, {1.0}}};
        CHECK(std::abs(by_quadrature(two) - expected) < 1e-6);  // the test's own road first
        // Two bells of the same width: far nearer than advise.h promises for any.
        CHECK(std::abs(information_bits(two) - expected) < 1e-6);
    }
}

TEST_CASE("unlike weights and spreads, against quadrature") {
    const std::vector<std::vector<Foreseen>> lists{
        {{0.9, {0.0}, {1.0}}, {0.1, {0.0}, {9.0}}},
        {{0.6, {0.0}, {0.25}}, {0.3, {1.5}, {1.0}}, {0.1, {-4.0}, {0.01}}},
        {{0.999, {0.0}, {1.0}}, {0.001, {8.0}, {1.0}}},
    };
    for (const auto& list : lists) CHECK(std::abs(information_bits(list) - by_quadrature(list)) < 0.001);
}

TEST_CASE("linear Gaussian: a size of spread 3 read with noise 1 tells half of log2 10 bits") {
    // The size as 421 exact ones, a tenth of the noise apart: finer than the noise lets anyone see.
    std::vector<Foreseen> sizes;
    double total = 0.0;
    for (int i = -210; i <= 210; ++i) {
        const double size = 0.1 * i;
        sizes.push_back({normal(size, 0.0, 3.0), {size}, {1.0}});
        total += sizes.back().weight;
    }
    for (Foreseen& s : sizes) s.weight /= total;
    // 7 sigma at the ends leave out 3e-12 of the prior. The expected value has six digits (check-values.md).
    CHECK(std::abs(information_bits(sizes) - 1.660964) < 1e-6);
}

TEST_CASE("several readings: as much as one reading of their best sum, within what 64 draws tell") {
    // Two readings of the same thing with noise 1 are one of noise 1/sqrt(2): a = 1 becomes a = sqrt(2).
    const std::vector<Foreseen> both{{0.5, {1.0, 1.0}, {1.0, 0.0, 0.0, 1.0}},
                                     {0.5, {-1.0, -1.0}, {1.0, 0.0, 0.0, 1.0}}};
    const std::vector<Foreseen> sum{{0.5, {std::numbers::sqrt2}, {1.0}}, {0.5, {-std::numbers::sqrt2}, {1.0}}};
    CHECK(std::abs(information_bits(both) - by_quadrature(sum)) < 0.05);
    // A second reading that shares all noise of the first adds nothing.
    const double r = 1.0 - 1e-9;
    const std::vector<Foreseen> twice{{0.5, {1.0, 1.0}, {1.0, r, r, 1.0}}, {0.5, {-1.0, -1.0}, {1.0, r, r, 1.0}}};
    const std::vector<Foreseen> once{{0.5, {1.0}, {1.0}}, {0.5, {-1.0}, {1.0}}};
    CHECK(std::abs(information_bits(twice) - by_quadrature(once)) < 0.05);
}

TEST_CASE(
    "groups: what a reading tells about the group and, the group known, about the rest, adds up (chain rule, Shannon "
    "1948)") {
    const std::vector<Foreseen> list{
        {0.4, {0.0}, {1.0}}, {0.2, {1.0}, {1.0}}, {0.3, {2.5}, {0.5}}, {0.1, {-3.0}, {2.0}}};
    const std::vector<int> groups{7, 7, 1, 1};
    double within = 0.0;
    for (const int group : {7, 1}) {
        std::vector<Foreseen> part;
        double weight = 0.0;
        for (std::size_t i = 0; i < list.size(); ++i) {
            if (groups[i] == group) {
                part.push_back(list[i]);
                weight += list[i].weight;
            }
        }
        for (Foreseen& f : part) f.weight /= weight;
        within += weight * by_quadrature(part);
    }
    CHECK(std::abs(information_bits(list, groups) - (by_quadrature(list) - within)) < 0.002);
    // All in one group: nothing is asked.
    CHECK(information_bits(list, std::vector<int>(4, 3)) == 0.0);
}

namespace {

double bits_for(const std::vector<diagnose::Advice>& all, measure::Check check) {
    for (const diagnose::Advice& a : all) {
        if (a.check == check) return a.bits;
    }
    return -1.0;
}

}  // namespace

TEST_CASE("a check that was just made, and whose error lasts, is not proposed again; another instrument is") {
    using bench_model::Fault;
    using measure::Check;
    diagnose::Prior prior = bench_model::nothing();
    prior[bench_model::at(Fault::fence_bow)] = {
        {false, 0.5, 0.0, 0.002}, {true, 0.25, -0.012, 0.002}, {true, 0.25, 0.012, 0.002}};
    // Half of the feeler's limit lasts, and hardly anything is new each time.
    const double u = 0.5 * measure::feeler.limit_mm * 1.01;
    const bench_model::Row bow{{Fault::fence_bow, 1.0}};
    const diagnose::Model model =
        bench_model::straight({{Check::fence_straightedge, {bow}}, {Check::slot_ride, {bow}}}, u);
    const auto infer = [&](const std::vector<measure::CheckReport>& reports) {
        return *diagnose::infer(reports, bench_model::drawing(), model, prior);
    };
    const auto straightedge = bench_model::report(Check::fence_straightedge, {{0.006, u}});
    const auto ride = bench_model::report(Check::slot_ride, {{0.006, u}});
    // Nothing read: the two instruments tell the same.
    const auto before = diagnose::advise(infer({}), {}, model, prior);
    CHECK(std::abs(bits_for(before, Check::fence_straightedge) - bits_for(before, Check::slot_ride)) < 1e-9);
    // Read in the very middle between there and not there: the same again adds nothing, the other does, however often
    // the first was made.
    for (const std::size_t times : {std::size_t{1}, std::size_t{5}}) {
        const auto after =
            diagnose::advise(infer(std::vector<measure::CheckReport>(times, straightedge)), {}, model, prior);
        CAPTURE(times);
        CHECK(bits_for(after, Check::fence_straightedge) < 0.03);
        CHECK(bits_for(after, Check::slot_ride) > 0.2);
    }
    // An error that is new each time: a repeat is as good as new.
    const auto fresh = diagnose::advise(infer({ride}), {}, model, prior);
    CHECK(bits_for(fresh, Check::slot_ride) > 0.2);
}

TEST_CASE("how large a fault is does not count as news: what matters is whether it is there") {
    using bench_model::Fault;
    using measure::Check;
    diagnose::Prior prior = bench_model::nothing();
    // Surely there, small or large: a check tells the size and nothing that anyone would do otherwise.
    prior[bench_model::at(Fault::left_play)] = {{true, 0.5, 0.2, 0.01}, {true, 0.5, 0.5, 0.01}};
    prior[bench_model::at(Fault::right_play)] = {{false, 0.5, 0.05, 0.01}, {true, 0.5, 0.3, 0.01}};
    const diagnose::Model model = bench_model::straight(
        {{Check::slot_ride, {{{Fault::left_play, 1.0}}}}, {Check::rim_indicator, {{{Fault::right_play, 1.0}}}}}, 0.01);
    const auto d = *diagnose::infer({}, bench_model::drawing(), model, prior);
    const auto all = diagnose::advise(d, {}, model, prior);
    CHECK(bits_for(all, Check::slot_ride) == 0.0);
    // There or not, read without doubt: one bit (0.25 apart, noise 0.017).
    CHECK(std::abs(bits_for(all, Check::rim_indicator) - 1.0) < 1e-3);
}

TEST_CASE("a question has a ceiling: another instrument before a repeat, and the same check three times at most") {
    using bench_model::Fault;
    using measure::Check;
    diagnose::Prior prior = bench_model::nothing();
    prior[bench_model::at(Fault::blade_runout)] = {{false, 0.5, 0.0, 1e-4}, {true, 0.5, 0.012, 1e-4}};
    // Neither errs the same again, so that a repeat of either is as good as new. 4 and 8 minutes.
    const double u = 0.006;
    const bench_model::Row runout{{Fault::blade_runout, 1.0}};
    const diagnose::Model model =
        bench_model::straight({{Check::rim_indicator, {runout}}, {Check::slot_ride, {runout}}}, u);
    const auto best = [&](std::size_t rims, std::size_t rides) {
        // Every reading in the very middle: the question stays as open as it was.
        std::vector<measure::CheckReport> reports(rims, bench_model::report(Check::rim_indicator, {{0.006, u}}));
        reports.insert(reports.end(), rides, bench_model::report(Check::slot_ride, {{0.006, u}}));
        const auto d = *diagnose::infer(reports, bench_model::drawing(), model, prior);
        // Two bells two deviations apart, one bit open: 0.486 bits (MacKay's channel with Gaussian noise, by our own
        // quadrature above to 0.002).
        CHECK(std::abs(bits_for(diagnose::advise(d, {}, model, prior), Check::rim_indicator) -
                       by_quadrature({{0.5, {0.0}, {u * u}}, {0.5, {0.012}, {u * u}}})) < 0.01);
        const auto proposal = diagnose::Adviser(d, {}, model, prior).best({});
        return proposal ? std::optional(proposal->check) : std::nullopt;
    };
    CHECK(best(0, 0) == Check::rim_indicator);  // 1/4 against 1/8 of the bits a minute
    CHECK(best(2, 0) == Check::slot_ride);      // 1/16 against 1/8
    CHECK(best(2, 1) == Check::rim_indicator);  // 1/16 against 1/16: the one that costs less
    CHECK(best(3, 0) == Check::slot_ride);
    CHECK(best(3, 2) == Check::slot_ride);  // three times the same is the most
    CHECK(best(3, 3) == std::nullopt);
}

TEST_CASE("board counts as minutes, and a square needs none while a corner of the board that was cut is free") {
    using measure::Check;
    using measure::Occasion;
    // 60 and 40 mm at 20 mm a minute, upon 12 and 3 minutes.
    CHECK(diagnose::cost_minutes(Check::five_cut, false) == 15.0);
    CHECK(diagnose::cost_minutes(Check::square_on_cut, false) == 5.0);
    CHECK(diagnose::cost_minutes(Check::square_on_cut, true) == 3.0);
    const auto free = [](const std::vector<Occasion>& made, const Occasion& now = {}) {
        return measure::corner_is_free(made, now);
    };
    CHECK_FALSE(free({}));
    CHECK_FALSE(free({{Check::wiggle}}));
    CHECK(free({{Check::five_cut}}));
    CHECK(free({{Check::five_cut}, {Check::wiggle}}));
    CHECK_FALSE(free({{Check::five_cut}, {Check::square_on_cut}}));
    CHECK(free({{Check::five_cut}, {Check::square_on_cut}, {Check::brushed}}));
    // Cut with other shims, or before the fence was clamped anew, it tells of another saw.
    CHECK_FALSE(free({{Check::five_cut, 0.1}}));
    CHECK(free({{Check::five_cut, 0.1}}, {Check::wiggle, 0.1}));
    CHECK_FALSE(free({{Check::five_cut}}, {Check::five_cut, 0.0, 0.0, 1}));
}
