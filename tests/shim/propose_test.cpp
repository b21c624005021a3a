// The proposal against the simulation: the shim is put in, the fence is looked at, and the test is cut again.
#include "shim/propose.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <vector>

#include "contact/seating.h"
#include "cut/five_cut.h"
#include "shim/stacks.h"
#include "shop/truth.h"

using namespace offsquare;
using base::Uncertain;
using shim::At;

namespace {

constexpr double u_small = 2e-5;

shop::Drawing saw() {
    shop::Drawing d;
    d.drawer = {
        {"foil", 0.015, 0.001, 4}, {"brass", 0.05, 0.002, 2}, {"brass", 0.1, 0.003, 2}, {"card", 0.18, 0.01, 2}};
    d.tolerance_rad = 2.5e-4;
    return d;
}

std::vector<int> all_of(const shop::Drawing& d) {
    std::vector<int> counts;
    for (const shop::Shim& s : d.drawer) counts.push_back(s.count);
    return counts;
}

double sum_of(const std::vector<shim::PickedShim>& pieces) {
    double sum = 0.0;
    for (const shim::PickedShim& p : pieces) sum += p.thickness_mm;
    return sum;
}

double squares_of(const std::vector<shim::PickedShim>& pieces) {
    double sum = 0.0;
    for (const shim::PickedShim& p : pieces) sum += p.u_mm * p.u_mm;
    return sum;
}

/// The skew that the simulated fence has with these shims in: looked at, and told by the corners of five real cuts.
double simulated(const shop::Drawing& d, double skew_rad, double left_mm, double right_mm) {
    shop::Truth truth;
    truth.fence_skew_rad = skew_rad;
    const double looked_at = std::atan(contact::fence_face(d, truth, {left_mm, right_mm}).slope);
    const cut::FiveCut five = cut::five_cut(d, truth, {left_mm, right_mm});
    REQUIRE(five.outcome == cut::Outcome::done);
    for (std::size_t i = 1; i < 5; ++i)
        REQUIRE(std::abs(five.cuts[i].corner_rad - (d.board.kept == shop::Side::left ? looked_at : -looked_at)) <
                1e-12);
    return looked_at;
}

}  // namespace

TEST_CASE("the ideal shim of the worked case (common practice, no source): 0.0157 in over 32.75 in") {
    const double skew = std::atan((0.617 - 0.587) / 15.625) / 4.0;
    const Uncertain ideal = shim::ideal_shim({skew, 2e-5}, 32.75 * 25.4);
    CHECK(std::abs(ideal.value / 25.4 - 0.0157) < 0.00005);
    CHECK(shim::ideal_shim({-skew, 2e-5}, 32.75 * 25.4).value == ideal.value);
    CHECK(ideal.u == doctest::Approx(32.75 * 25.4 * 2e-5).epsilon(1e-6));  // first order; tan's curve is skew^2 = 2e-7
    CHECK(ideal.dof == std::numeric_limits<double>::infinity());
    CHECK(shim::ideal_shim({skew, 2e-5, 6.0}, 800.0).dof == doctest::Approx(6.0));
}

TEST_CASE("the ideal shim behind the proposed end squares the simulated fence, whichever way it is off") {
    for (const double skew : {-0.004, -0.0011, -0.0006, 0.0006, 0.0013, 0.004}) {
        for (const shop::Side kept : {shop::Side::left, shop::Side::right}) {
            shop::Drawing d = saw();
            d.board.kept = kept;
            d.fence.shim_left_x_mm = -180.0;  // points need not lie evenly about the blade
            d.fence.shim_right_x_mm = 270.0;
            const shim::Proposal p = shim::propose({skew, u_small}, d, all_of(d));
            REQUIRE(p.at == (skew > 0.0 ? At::left : At::right));
            REQUIRE(p.best.at == p.at);
            REQUIRE(p.tells_end);
            const double t = p.ideal_mm.value;
            CHECK(t > 0.0);
            CHECK(std::abs(simulated(d, skew, p.at == At::left ? t : 0.0, p.at == At::right ? t : 0.0)) < 1e-14);
            // The other end makes it twice as bad: the proposal's end is not a matter of taste.
            CHECK(std::abs(simulated(d, skew, p.at == At::left ? 0.0 : t, p.at == At::right ? 0.0 : t)) >
                  1.9 * std::abs(skew));
        }
    }
}

TEST_CASE("the plain reason names the end") {
    const shop::Drawing d = saw();
    CHECK(shim::propose({6e-4, u_small}, d, all_of(d)).why.find("The left end") == 0);
    CHECK(shim::propose({-6e-4, u_small}, d, all_of(d)).why.find("The right end") == 0);
    CHECK(shim::name_of(At::left) == "left");
    CHECK(shim::name_of(At::right) == "right");
    CHECK(shim::name_of(At::none) == "none");
}

TEST_CASE("no shim where the error is within the tolerance, its uncertainty counted") {
    const shop::Drawing d = saw();
    for (const double sign : {-1.0, 1.0}) {
        const shim::Proposal inside = shim::propose({sign * (2.5e-4 - 1.97 * u_small), u_small}, d, all_of(d));
        CHECK(inside.at == At::none);
        CHECK(inside.best.pieces.empty());
        CHECK(inside.best.remainder_rad.value == sign * (2.5e-4 - 1.97 * u_small));
        CHECK(inside.why.find("No shim:") == 0);
        CHECK_FALSE(inside.other_way);
        CHECK(shim::propose({sign * (2.5e-4 - 1.95 * u_small), u_small}, d, all_of(d)).at != At::none);
    }
}

TEST_CASE("no shim where the readings cannot tell the error from zero") {
    const shop::Drawing d = saw();
    for (const double sign : {-1.0, 1.0}) {
        const double u = 4e-4;
        const shim::Proposal p = shim::propose({sign * 1.95 * u, u}, d, all_of(d));
        CHECK(p.at == At::none);
        CHECK_FALSE(p.tells_end);
        CHECK(p.best.pieces.empty());
        CHECK(p.why.find("No shim yet") == 0);
        CHECK(shim::propose({sign * 1.97 * u, u}, d, all_of(d)).at == (sign > 0.0 ? At::left : At::right));
    }
}

TEST_CASE("the remainder is what the simulation shows with the marked thicknesses in") {
    std::mt19937_64 engine(21);
    std::uniform_real_distribution<double> skew(-2e-3, 2e-3);
    int told = 0;
    for (int i = 0; i < 200; ++i) {
        const shop::Drawing d = saw();
        const double e = skew(engine);
        const shim::Proposal p = shim::propose({e, u_small}, d, all_of(d));
        if (p.at == At::none) continue;
        ++told;
        const double t = sum_of(p.best.pieces);
        REQUIRE(p.best.thickness_mm == doctest::Approx(t).epsilon(1e-13));
        REQUIRE(std::abs(p.best.remainder_rad.value -
                         simulated(d, e, p.at == At::left ? t : 0.0, p.at == At::right ? t : 0.0)) < 1e-14);
        for (std::size_t k = 1; k < p.best.pieces.size(); ++k)
            REQUIRE(p.best.pieces[k - 1].thickness_mm >= p.best.pieces[k].thickness_mm);
        for (const shim::PickedShim& s : p.best.pieces) {
            REQUIRE(d.drawer[static_cast<std::size_t>(s.drawer_row)].thickness_mm == s.thickness_mm);
            REQUIRE(d.drawer[static_cast<std::size_t>(s.drawer_row)].name == s.name);
            REQUIRE(d.drawer[static_cast<std::size_t>(s.drawer_row)].u_mm == s.u_mm);
        }
    }
    CHECK(told > 120);
}

TEST_CASE("the spread of the remainder by Monte Carlo: the estimate and each piece vary by themselves") {
    shop::Drawing d = saw();
    for (shop::Shim& s : d.drawer) s.u_mm *= 4.0;  // so that the shims count beside the estimate
    const double e = -0.00071;
    const double u = 3e-5;
    const shim::Proposal p = shim::propose({e, u}, d, all_of(d));
    REQUIRE(p.at == At::right);
    REQUIRE(p.best.pieces.size() >= 2);
    std::mt19937_64 engine(22);
    std::normal_distribution<double> normal;
    constexpr int trials = 40000;
    double sum = 0.0;
    double squares = 0.0;
    for (int i = 0; i < trials; ++i) {
        shop::Truth truth;
        truth.fence_skew_rad = e + u * normal(engine);
        double thickness = 0.0;
        for (const shim::PickedShim& s : p.best.pieces) thickness += s.thickness_mm + s.u_mm * normal(engine);
        const double left =
            std::atan(contact::fence_face(d, truth, {0.0, thickness}).slope) - p.best.remainder_rad.value;
        sum += left;
        squares += left * left;
    }
    // Relative standard deviation of a sample's standard deviation: 1/sqrt(2n) = 0.0035. The mean: u/200.
    CHECK(std::sqrt(squares / trials) / p.best.remainder_rad.u == doctest::Approx(1.0).epsilon(4.5 * 0.0035));
    CHECK(std::abs(sum / trials) < 4.5 * p.best.remainder_rad.u / 200.0);
    CHECK(p.best.remainder_rad.u > 1.05 * u);  // the shims do count
}

TEST_CASE("pieces of one line are independent pieces: two of u make u*sqrt(2), not 2u") {
    shop::Drawing d = saw();
    d.drawer = {{"brass", 0.2, 0.05, 2}};
    const shim::Proposal p = shim::propose({8e-4, 1e-9}, d, {2});  // 0.4 mm wanted
    REQUIRE(p.best.pieces.size() == 2);
    CHECK(p.best.remainder_rad.u * 500.0 == doctest::Approx(0.05 * std::sqrt(2.0)).epsilon(1e-6));
}

TEST_CASE("only what is left in the drawer is proposed") {
    const shop::Drawing d = saw();
    const shim::Proposal p = shim::propose({6.2e-4, u_small}, d, {0, 1, 0, 0});
    REQUIRE(p.best.pieces.size() == 1);
    CHECK(p.best.pieces.front().drawer_row == 1);
    const shim::Proposal none = shim::propose({6.2e-4, u_small}, d, {0, 0, 0, 0});
    CHECK(none.at == At::left);
    CHECK(none.best.pieces.empty());
    CHECK(none.best.remainder_rad.value == doctest::Approx(6.2e-4).epsilon(1e-12));
    CHECK_FALSE(none.other_way);
}

TEST_CASE("an empty drawer: the end and the thickness are still told") {
    shop::Drawing d = saw();
    d.drawer.clear();
    const shim::Proposal p = shim::propose({-6e-4, u_small}, d, {});
    CHECK(p.at == At::right);
    CHECK(p.ideal_mm.value == doctest::Approx(0.3).epsilon(1e-6));
    CHECK(p.best.pieces.empty());
    CHECK_FALSE(p.other_way);
}

namespace {

/// The least that any use of both ends leaves: at most two new pieces an end, at most one of the far end's pieces taken
/// out. By trying all.
double least_with_both_ends(const shop::Drawing& d, double skew, const std::vector<int>& left,
                            const shim::Behind& behind) {
    std::vector<double> pieces;  // every single piece there is
    for (std::size_t i = 0; i < d.drawer.size(); ++i)
        pieces.insert(pieces.end(), static_cast<std::size_t>(left[i]), d.drawer[i].thickness_mm);
    std::vector<double> take{0.0};
    for (const shim::PickedShim& p : skew > 0.0 ? behind.right : behind.left) take.push_back(p.thickness_mm);
    const int n = static_cast<int>(pieces.size());
    double least = 1e9;
    int ways = 1;
    for (int i = 0; i < n; ++i) ways *= 3;
    for (int code = 0; code < ways; ++code) {
        int near = 0;
        int far = 0;
        double difference = 0.0;
        for (int i = 0, rest = code; i < n; ++i, rest /= 3) {
            near += rest % 3 == 1;
            far += rest % 3 == 2;
            difference += rest % 3 == 1   ? pieces[static_cast<std::size_t>(i)]
                          : rest % 3 == 2 ? -pieces[static_cast<std::size_t>(i)]
                                          : 0.0;
        }
        if (near > 2 || far > 2) continue;
        for (std::size_t k = 0; k < take.size(); ++k) {
            if (far == 0 && k == 0) continue;
            least = std::min(
                least, std::abs(std::atan(std::tan(std::abs(skew)) - (difference + take[k]) / d.fence.span_mm())));
        }
    }
    return least;
}

}  // namespace

TEST_CASE("the other way is offered exactly when both ends leave less than half, and that matters") {
    std::mt19937_64 engine(23);
    std::uniform_int_distribution<int> hundredths(4, 60);
    std::uniform_int_distribution<int> count(0, 2);
    std::uniform_real_distribution<double> size(3e-4, 1.5e-3);
    int offered = 0;
    int with_take = 0;
    for (int i = 0; i < 300; ++i) {
        shop::Drawing d = saw();
        d.tolerance_rad = 2e-4;
        d.drawer.clear();
        std::vector<int> left;
        for (int k = 0; k < 4; ++k) {
            d.drawer.push_back({"piece", 0.01 * hundredths(engine), 0.002, 2});
            left.push_back(count(engine));
        }
        shim::Behind behind;
        for (auto* end : {&behind.left, &behind.right}) {
            for (int k = count(engine); k > 0; --k) end->push_back({"old", 0.01 * hundredths(engine), 0.006, 0});
        }
        const double skew = size(engine) * (i % 2 == 0 ? 1.0 : -1.0);
        const shim::Proposal p = shim::propose({skew, u_small}, d, left, behind);
        REQUIRE(p.at == (skew > 0.0 ? At::left : At::right));
        const double leaves = std::abs(p.best.remainder_rad.value);
        const double least = least_with_both_ends(d, skew, left, behind);
        const bool expected = leaves > 0.1 * d.tolerance_rad && least < 0.5 * leaves;
        CAPTURE(i);
        REQUIRE(p.other_way.has_value() == expected);
        if (!p.other_way) continue;
        ++offered;
        const shim::OtherWay& w = *p.other_way;
        with_take += !w.take_left.empty() || !w.take_right.empty();
        REQUIRE(w.take_left.size() + w.take_right.size() <= 1);
        REQUIRE(w.add_left.size() <= 2);
        REQUIRE(w.add_right.size() <= 2);
        REQUIRE(std::abs(w.remainder_rad.value) == doctest::Approx(least).epsilon(1e-9));
        // Simulated: from the skew as it is now, what is put in and taken out moves the ends.
        const double moved =
            simulated(d, skew, sum_of(w.add_left) - sum_of(w.take_left), sum_of(w.add_right) - sum_of(w.take_right));
        REQUIRE(std::abs(w.remainder_rad.value - moved) < 1e-13);
        // Every piece that moves is a piece of uncertain thickness, the one taken out as well.
        const double shims2 =
            squares_of(w.add_left) + squares_of(w.add_right) + squares_of(w.take_left) + squares_of(w.take_right);
        REQUIRE(w.remainder_rad.u ==
                doctest::Approx(std::sqrt(u_small * u_small + shims2 / (500.0 * 500.0))).epsilon(1e-6));
    }
    CHECK(offered > 20);
    CHECK(with_take > 5);
}

TEST_CASE("the other way in words") {
    shim::OtherWay w;
    w.add_left = {{"brass", 0.4, 0.004, 0}};
    w.add_right = {{"brass", 0.3, 0.004, 1}};
    CHECK(
        shim::words_of(w, base::Units::metric) ==
        "put brass 0.400 mm behind the left end, and put brass 0.300 mm behind the right end (the difference counts)");
    w.add_right.clear();
    w.take_right = {{"card", 0.18, 0.01, 2}};
    CHECK(shim::words_of(w, base::Units::metric) ==
          "take card 0.180 mm out from behind the right end, and put brass 0.400 mm behind the left end");
    w.add_left.push_back({"foil", 0.0127, 0.001, 3});
    w.take_right.clear();
    CHECK(shim::words_of(w, base::Units::imperial) == "put brass 0.0157 in and foil 0.0005 in behind the left end");
}
