// What counts how much: hypotheses by their weight, an instrument's lasting error by the surest thing that was read
// with it.
#include <doctest/doctest.h>

#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <eigen3/Eigen/Dense>
#include <vector>

#include "diagnose/advise.h"
#include "diagnose/bench_model.h"

using namespace bench_model;
using measure::Check;
using measure::CheckReport;

namespace {

/// Probability of a reading at least so many deviations off, on either side (Boost.Math).
double tails(double deviations) {
    return 2.0 * boost::math::cdf(boost::math::complement(boost::math::normal(), std::abs(deviations)));
}

}  // namespace

TEST_CASE("how odd a reading is: under each hypothesis, and each by its weight") {
    diagnose::Prior prior = nothing();
    prior[at(Fault::fence_bow)] = {{false, 0.9, 0.0, 0.015}, {true, 0.0001, -0.25, 0.08}, {true, 0.0999, 0.25, 0.08}};
    const diagnose::Model model = straight({{Check::slot_ride, {{{Fault::fence_bow, 1.0}}}}});
    constexpr double u = 0.02;
    for (const double y : {0.0, 0.05, 0.1, -0.06, -0.25, 0.3}) {
        CAPTURE(y);
        diagnose::Mixture m = diagnose::start(prior, {});
        diagnose::touch(m, prior, {Fault::fence_bow}, model);
        const auto fit = diagnose::assimilate(m, {{Check::slot_ride}, 0, {y, u, 0.0}, std::nullopt, {Fault::fence_bow}},
                                              model, prior);
        // Each lobe expects its mean, with its own spread and the reading's noise.
        double odd = 0.0;
        for (const diagnose::Lobe& l : prior[at(Fault::fence_bow)])
            odd += l.weight * tails((y - l.mean) / std::hypot(l.sd, u));
        // normal_tails is rounded to ten digits, and what lies nine deviations off (1e-19) is left out.
        CHECK(fit.oddness == doctest::Approx(odd).epsilon(1e-8));
    }
    // A fault that hardly any saw has does not make a reading fit: 0.25 below the line is the size of a lobe that one
    // saw of 10,000 has, and less likely than what counts as a contradiction.
    const auto d =
        diagnose::infer(std::vector{report(Check::slot_ride, {{-0.25, u}})}, bench_model::drawing(), model, prior);
    REQUIRE(d.has_value());
    REQUIRE(d->contradictions.size() == 1);
    CHECK(d->contradictions[0].oddness == doctest::Approx(1e-4).epsilon(0.01).scale(0));
}

TEST_CASE("one instrument, read with unlike care: its lasting error is no larger than the surest reading allows") {
    // Feelers: half of their limit of 12 um lasts. Who says that a reading is sure to 4 um says that no more than 4 um
    // of it last; the other reading was made with the same feelers. Generalised least squares (Eigen) with 4 um in
    // common.
    diagnose::Prior prior = nothing();
    prior[at(Fault::fence_bow)] = {{true, 1.0, 0.1, 0.2}};
    const diagnose::Model model = straight({{Check::fence_straightedge, {{{Fault::fence_bow, 1.0}}}}});
    constexpr double careful = 0.004;
    constexpr double hasty = 0.020;
    REQUIRE(careful < 0.5 * measure::feeler.limit_mm);
    REQUIRE(hasty > 0.5 * measure::feeler.limit_mm);
    Eigen::Matrix2d v = Eigen::Matrix2d::Constant(careful * careful);
    v(1, 1) = hasty * hasty;
    const Eigen::Vector2d a(1.0, 1.0);
    const Eigen::Vector2d y(0.21, 0.24);
    const double precision = a.dot(v.inverse() * a) + 1.0 / 0.04;
    const double mean = (a.dot(v.inverse() * y) + 0.1 / 0.04) / precision;
    std::vector<CheckReport> reports{report(Check::fence_straightedge, {{y(0), careful}}),
                                     report(Check::fence_straightedge, {{y(1), hasty}})};
    for (int order = 0; order < 2; ++order) {
        CAPTURE(order);
        const auto d = diagnose::infer(reports, bench_model::drawing(), model, prior);
        REQUIRE(d.has_value());
        const diagnose::Belief& bow = d->beliefs[at(Fault::fence_bow)];
        // Nothing of the careful reading is new: meet() leaves it a variance of 1e-18 mm2, which is as good as none.
        CHECK(bow.size == doctest::Approx(mean).epsilon(1e-9));
        CHECK(bow.u == doctest::Approx(1.0 / std::sqrt(precision)).epsilon(1e-9));
        std::swap(reports[0], reports[1]);
    }
}

TEST_CASE("a clamping turns the fence as far as it creeps: one state for all that was read after it (Eigen)") {
    // The fence was set somewhere within 0.2, a clamping turns it by a normal draw whose deviation, the creep, is 0.3
    // give or take 0.04: a variance of 0.3^2 + 0.04^2 (the law of total variance; the mean of the turn is 0). Read
    // before the clamping once, after it twice.
    diagnose::Prior prior = nothing();
    prior[at(Fault::fence_skew)] = {{true, 1.0, 0.0, 0.2}};
    prior[at(Fault::clamp_creep)] = {{true, 1.0, 0.3, 0.04}};
    const diagnose::Model model = straight({{Check::slot_ride, {{{Fault::fence_skew, 1.0}}}}});
    struct Read {
        int clamped;
        double y;
        double u;
    };
    const std::vector<Read> all{{0, 0.11, 0.06}, {1, 0.52, 0.05}, {1, 0.40, 0.08}};
    Eigen::Matrix2d precision = Eigen::Matrix2d::Zero();
    precision(0, 0) = 1.0 / 0.04;
    precision(1, 1) = 1.0 / (0.3 * 0.3 + 0.04 * 0.04);
    Eigen::Vector2d right = Eigen::Vector2d::Zero();
    std::vector<CheckReport> reports;
    for (const Read& r : all) {
        const Eigen::Vector2d a(1.0, r.clamped == 0 ? 0.0 : 1.0);
        precision += a * a.transpose() / (r.u * r.u);
        right += a * r.y / (r.u * r.u);
        reports.push_back(report(Check::slot_ride, {{r.y, r.u}}));
        reports.back().occasion.clamped_again = r.clamped;
        CAPTURE(reports.size());
        const auto d = diagnose::infer(reports, bench_model::drawing(), model, prior);
        REQUIRE(d.has_value());
        const diagnose::Belief& skew = d->beliefs[at(Fault::fence_skew)];
        const Eigen::Matrix2d covariance = precision.inverse();
        CHECK(skew.size == doctest::Approx((covariance * right)(0)).epsilon(1e-9));
        CHECK(skew.u == doctest::Approx(std::sqrt(covariance(0, 0))).epsilon(1e-9));
    }
    // After the clamping alone: nearly all of what is read may be the turn.
    const auto after = diagnose::infer(std::vector{reports[1]}, bench_model::drawing(), model, prior);
    REQUIRE(after.has_value());
    const double v = 0.3 * 0.3 + 0.04 * 0.04;
    CHECK(after->beliefs[at(Fault::fence_skew)].size ==
          doctest::Approx(0.04 / (0.04 + v + 0.0025) * 0.52).epsilon(1e-9));
}

TEST_CASE("what an answer tells: H(hypothesis) + H(answer) - H(both), each hypothesis by its weight") {
    // Three unlike hypotheses, two answers neither of which any of them is sure to give.
    const std::vector<double> weights{0.7, 0.2, 0.1};
    const std::vector<std::vector<double>> given{{0.9, 0.1}, {0.4, 0.6}, {0.05, 0.95}};
    const auto entropy = [](const std::vector<double>& p) {
        double bits = 0.0;
        for (const double x : p) bits -= x * std::log2(x);
        return bits;
    };
    std::vector<double> both;
    std::vector<double> answer(2, 0.0);
    for (std::size_t i = 0; i < weights.size(); ++i) {
        for (std::size_t k = 0; k < answer.size(); ++k) {
            both.push_back(weights[i] * given[i][k]);
            answer[k] += both.back();
        }
    }
    CHECK(diagnose::information_bits(weights, given) ==
          doctest::Approx(entropy(weights) + entropy(answer) - entropy(both)).epsilon(1e-12));
}

TEST_CASE("advice goes by bits for a minute: a short check that tells little before a long one that tells nearly all") {
    // The slot's ride takes 8 minutes and reads the bow itself, the jaws take one and read a fifth of it; half of all
    // saws have a bow of 12 um, to either side. With 2 um of noise the first tells nearly the one and a half bits that
    // there are (absent, left or right: 1/2, 1/4, 1/4), the other some tenths.
    diagnose::Prior prior = nothing();
    prior[at(Fault::fence_bow)] = {{false, 0.5, 0.0, 0.002}, {true, 0.25, -0.012, 0.002}, {true, 0.25, 0.012, 0.002}};
    const diagnose::Model model =
        straight({{Check::slot_ride, {{{Fault::fence_bow, 1.0}}}}, {Check::jaws, {{{Fault::fence_bow, 0.2}}}}}, 0.002);
    const auto nothing_read = diagnose::infer({}, bench_model::drawing(), model, prior);
    REQUIRE(nothing_read.has_value());
    const auto all = diagnose::advise(*nothing_read, {}, model, prior);
    REQUIRE(all.size() == measure::check_count);
    CHECK(all[0].check == Check::jaws);
    CHECK(all[1].check == Check::slot_ride);
    CHECK(all[1].bits > 1.3);
    CHECK(all[1].bits < 1.5);
    CHECK(all[0].bits > all[1].bits / 8.0);
    CHECK(all[0].bits < all[1].bits / 2.0);
    for (const diagnose::Advice& a : all)
        CHECK(a.bits_per_minute * measure::info(a.check).minutes == doctest::Approx(a.bits).epsilon(1e-12));
}

TEST_CASE("two small faults of which just one is there are look-alikes; two that come together are not") {
    // Half of all saws have either, of 40 um: too small for a vague size, so that only whether it is there counts.
    diagnose::Prior prior = nothing();
    const diagnose::Lobes half{{false, 0.5, 0.0, 0.001}, {true, 0.5, 0.040, 0.001}};
    prior[at(Fault::fence_bow)] = prior[at(Fault::edge_bow)] = half;
    REQUIRE(0.040 < 0.5 * shop::info(Fault::fence_bow).teachable);
    REQUIRE(0.040 < 0.5 * shop::info(Fault::edge_bow).teachable);
    const diagnose::Model model =
        straight({{Check::slot_ride, {{{Fault::fence_bow, 1.0}, {Fault::edge_bow, 1.0}}}},
                  {Check::rim_indicator, {{{Fault::fence_bow, 1.0}, {Fault::edge_bow, -1.0}}}}});
    // Their sum is 40 um: one of them, and nobody knows which.
    const auto one =
        diagnose::infer(std::vector{report(Check::slot_ride, {{0.040, 0.001}})}, bench_model::drawing(), model, prior);
    REQUIRE(one.has_value());
    REQUIRE(one->unseparated.size() == 1);
    CHECK(one->unseparated[0].first == Fault::fence_bow);
    CHECK(one->unseparated[0].second == Fault::edge_bow);
    // Their difference is nothing: both or neither, and what would tell of the one would tell of the other.
    const auto both = diagnose::infer(std::vector{report(Check::rim_indicator, {{0.0, 0.001}})}, bench_model::drawing(),
                                      model, prior);
    REQUIRE(both.has_value());
    for (const Fault f : {Fault::fence_bow, Fault::edge_bow})
        CHECK(both->beliefs[at(f)].probability == doctest::Approx(0.5).epsilon(1e-6));
    CHECK(both->unseparated.empty());
}
