// Pass, fail, or not yet decidable; and how many tests would decide it.
#include <doctest/doctest.h>

#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <random>

#include "diagnose/five_cut.h"

using namespace offsquare;
using base::Uncertain;
using diagnose::State;

namespace {

constexpr double z975 = 1.959963984540054;  // normal distribution, e-Handbook 1.3.6.7.1 to more digits
constexpr double tol = 3.5e-4;

double factor(double dof) {
    return std::isinf(dof) ? z975 : boost::math::quantile(boost::math::students_t(dof), 0.975);
}

State state_of(double value, double half) {
    if (std::abs(value) + half <= tol) return State::pass;
    if (std::abs(value) - half > tol) return State::fail;
    return State::undecided;
}

}  // namespace

TEST_CASE("borders: the interval just inside, just across, just outside the tolerance, on both sides of zero") {
    const double u = 5e-5;
    const double half = z975 * u;
    const double hair = 1e-12;
    for (const double sign : {1.0, -1.0}) {
        CHECK(diagnose::judge({sign * (tol - half - hair), u}, tol).state == State::pass);
        CHECK(diagnose::judge({sign * (tol - half + hair), u}, tol).state == State::undecided);
        CHECK(diagnose::judge({sign * (tol + half - hair), u}, tol).state == State::undecided);
        CHECK(diagnose::judge({sign * (tol + half + hair), u}, tol).state == State::fail);
    }
    CHECK(diagnose::judge({0.0, u}, tol).state == State::pass);
    CHECK(diagnose::judge({0.0, 10.0 * tol}, tol).state == State::undecided);  // wider than the tolerance on both sides
}

TEST_CASE("the rule itself: an interval on the border is within; one that ends there from outside is not out") {
    using base::Interval;
    CHECK(diagnose::state_of(Interval{-tol, tol}, tol) == State::pass);
    CHECK(diagnose::state_of(Interval{-tol, std::nextafter(tol, 1.0)}, tol) == State::undecided);
    CHECK(diagnose::state_of(Interval{std::nextafter(-tol, -1.0), tol}, tol) == State::undecided);
    CHECK(diagnose::state_of(Interval{tol, 2.0 * tol}, tol) == State::undecided);
    CHECK(diagnose::state_of(Interval{std::nextafter(tol, 1.0), 2.0 * tol}, tol) == State::fail);
    CHECK(diagnose::state_of(Interval{-2.0 * tol, std::nextafter(-tol, -1.0)}, tol) == State::fail);
    CHECK(diagnose::state_of(Interval{-2.0 * tol, 2.0 * tol}, tol) == State::undecided);
    // Of a value: its 95 % interval.
    const Uncertain x{2e-4, 5e-5, 4.0};
    CHECK(diagnose::state_of(x, tol) == state_of(x.value, factor(x.dof) * x.u));
}

TEST_CASE("an exact skew is decided at once: on the tolerance still counts as square") {
    CHECK(diagnose::judge({tol, 0.0}, tol).state == State::pass);
    CHECK(diagnose::judge({-tol, 0.0}, tol).state == State::pass);
    CHECK(diagnose::judge({std::nextafter(tol, 1.0), 0.0}, tol).state == State::fail);
}

TEST_CASE(
    "the verdict carries the tolerance and the interval; few degrees of freedom widen it (t table, e-Handbook "
    "1.3.6.7.2)") {
    const auto v = diagnose::judge({1e-4, 1e-4, 3.0}, tol);
    CHECK(v.tolerance_rad == tol);
    // The table prints three digits after the point: half of the last is 0.0005 of u.
    CHECK(std::abs(v.coverage95.hi - (1e-4 + 3.182e-4)) < 0.0005 * 1e-4);
    CHECK(std::abs(v.coverage95.lo - (1e-4 - 3.182e-4)) < 0.0005 * 1e-4);
    CHECK(v.state == State::undecided);
    CHECK(diagnose::judge({1e-4, 1e-4}, tol).state == State::pass);  // the same u, well known
}

TEST_CASE("tests that would decide it: by trying every number") {
    std::mt19937_64 engine(31);
    std::uniform_real_distribution<double> value(-8e-4, 8e-4);
    std::uniform_real_distribution<double> spread(1e-5, 4e-4);
    std::uniform_int_distribution<int> so_far(1, 6);
    const double infinite = std::numeric_limits<double>::infinity();
    int undecided = 0;
    int never = 0;
    for (int i = 0; i < 2000; ++i) {
        const Uncertain skew{value(engine), spread(engine), infinite};
        const int done = so_far(engine);
        int expected = 0;
        if (state_of(skew.value, z975 * skew.u) == State::undecided) {
            ++undecided;
            // One test alone has u*sqrt(done); n of them u*sqrt(done/n).
            for (int n = 100; n > done; --n) {
                if (state_of(skew.value, z975 * skew.u * std::sqrt(static_cast<double>(done)) /
                                             std::sqrt(static_cast<double>(n))) != State::undecided)
                    expected = n;
            }
            never += expected == 0 ? 1 : 0;
        }
        CAPTURE(skew.value);
        CAPTURE(skew.u);
        CAPTURE(done);
        REQUIRE(diagnose::judge(skew, tol, done).tests_to_decide == expected);
    }
    CHECK(undecided > 200);  // the trial met both kinds
    CHECK(never > 5);
}

TEST_CASE("with few degrees of freedom each further test brings its own") {
    // n tests of nu each: n*nu altogether (equal parts of Welch-Satterthwaite).
    const Uncertain skew{2e-4, 9e-5, 4.0};
    int expected = 0;
    for (int n = 100; n > 1; --n) {
        if (state_of(skew.value, factor(4.0 * n) * skew.u / std::sqrt(static_cast<double>(n))) != State::undecided)
            expected = n;
    }
    CHECK(expected == 2);
    CHECK(diagnose::judge(skew, tol).tests_to_decide == expected);
}
