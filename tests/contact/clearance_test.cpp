// press() against every corner of the feasible polygon, tried one by one, and against laws that need no solver.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/property.h"
#include "contact/clearance.h"
#include "contact/draws.h"

using namespace offsquare::contact;

namespace {

/// A half plane a*x + b*t <= c.
struct Half {
    double a, b, c;
};

std::vector<Half> halves_of(const Clearance& clearance) {
    std::vector<Half> all{{0, 1, widest_yaw}, {0, -1, widest_yaw}};
    for (const Gate& g : clearance) {
        all.push_back({1, -g.y, g.hi});
        all.push_back({-1, g.y, -g.lo});
    }
    return all;
}

/// How far a place is outside, in mm (a yaw outside its bound counts a metre per radian).
double outside(const Clearance& clearance, const SlotPose& p) {
    double worst = 1000.0 * (std::abs(p.yaw) - widest_yaw);
    for (const Gate& g : clearance) {
        const double v = p.x - p.yaw * g.y;
        worst = std::max({worst, g.lo - v, v - g.hi});
    }
    return worst;
}

std::vector<SlotPose> corners_of(const Clearance& clearance, double tolerance) {
    const std::vector<Half> h = halves_of(clearance);
    std::vector<SlotPose> corners;
    for (std::size_t i = 0; i < h.size(); ++i) {
        for (std::size_t k = i + 1; k < h.size(); ++k) {
            const double det = h[i].a * h[k].b - h[k].a * h[i].b;
            if (det == 0.0) continue;
            const SlotPose p{(h[i].c * h[k].b - h[k].c * h[i].b) / det, (h[i].a * h[k].c - h[k].a * h[i].c) / det};
            if (outside(clearance, p) <= tolerance) corners.push_back(p);
        }
    }
    return corners;
}

Clearance random_clearance(Draws& d) {
    Clearance clearance;
    const int n = d.whole(1, 33);
    const double x = d.between(-1, 1), yaw = d.between(-0.02, 0.02);
    const double room = d.coin() ? 0.0 : d.between(-0.05, 0.2);  // below zero: mostly closed
    const double first = d.between(-500, 100), step = d.between(5, 40);
    for (int i = 0; i < n; ++i) {
        const double y = first + i * step;
        const double middle = x - yaw * y + d.between(-0.05, 0.05) * d.whole(0, 1);
        clearance.push_back(
            {y, middle - room - d.between(0, 0.1) * d.whole(0, 1), middle + room + d.between(0, 0.1) * d.whole(0, 1)});
    }
    return clearance;
}

Clearance mirrored(const Clearance& clearance) {
    Clearance result;
    for (const Gate& g : clearance) result.push_back({g.y, -g.hi, -g.lo});
    return result;
}

}  // namespace

TEST_CASE("pressed places are the best of all corners of the polygon, for 2,000 clearances and 9 pushes each") {
    Draws d(11);
    int open = 0, closed = 0;
    for (int round = 0; round < 2000; ++round) {
        const Clearance c = random_clearance(d);
        // Open or closed must be plain: a hair's breadth is left out, both sides of the solver's own nanometre.
        const auto surely = corners_of(c, 1e-10);
        const auto perhaps = corners_of(c, 1e-7);
        if (surely.empty() != perhaps.empty()) continue;
        (perhaps.empty() ? closed : open)++;
        const double pushes[9][2] = {{1, 0},
                                     {-1, 0},
                                     {0, 1},
                                     {0, -1},
                                     {0, 0},
                                     {1, d.between(-900, 900)},
                                     {-1, d.between(-900, 900)},
                                     {d.between(0, 1e-3), 1},
                                     {-1e-3, -1}};
        for (const auto& push : pushes) {
            const auto place = press(c, push[0], push[1]);
            REQUIRE(place.has_value() == !perhaps.empty());
            if (!place) continue;
            // Rounding: values of some mm times yaws; 1e-10 mm is 1000 units in the last place of 500 mm * 0.1.
            CHECK(outside(c, *place) < 1e-9 + 1e-10);
            double best = -1e300;
            for (const SlotPose& p : surely) best = std::max(best, push[0] * p.x + push[1] * p.yaw);
            const double mine = push[0] * place->x + push[1] * place->yaw;
            // A corner may stand out by 1e-10 mm, which a narrow clearance turns into at most 1e-10/5 rad times an arm
            // of 900 mm.
            CHECK(mine == doctest::Approx(best).epsilon(0).scale(1).epsilon(5e-8));
        }
    }
    CHECK(open > 700);
    CHECK(closed > 300);
}

TEST_CASE("a clearance without any play has one place, whatever the push") {
    Draws d(12);
    for (int round = 0; round < 500; ++round) {
        const double x = d.between(-300, 300), yaw = d.between(-0.03, 0.03);
        Clearance c;
        const int n = d.whole(2, 33);
        for (int i = 0; i < n; ++i) {
            const double y = -200.0 + 400.0 * i / (n - 1);
            c.push_back({y, x - yaw * y, x - yaw * y});
        }
        for (const auto& [side, moment] :
             {std::pair{1.0, 0.0}, {-1.0, 0.0}, {0.0, 1.0}, {0.0, -1.0}, {0.0, 0.0}, {1.0, 300.0}, {-1.0, 300.0}}) {
            const auto place = press(c, side, moment);
            REQUIRE(place);
            CHECK(std::abs(place->x - x) < 1e-9);
            CHECK(std::abs(place->yaw - yaw) < 1e-9 / 100);  // a nanometre of overlap allowed, over half the guide
        }
    }
}

TEST_CASE("closed means closed by more than a nanometre") {
    // Two gates with room, a third that wants the middle 0.1 mm aside: closed by 0.1 mm, or by what is stated.
    const auto with_step = [](double step) { return Clearance{{-100, 0, 0}, {0, step, step}, {100, 0, 0}}; };
    CHECK_FALSE(press(with_step(0.1), 1, 0));
    CHECK_FALSE(press(with_step(-0.1), 1, 0));
    CHECK_FALSE(press(with_step(2e-9), 1, 0));
    CHECK(press(with_step(1e-10), 1, 0));
}

TEST_CASE("without any push the place is the middle of what is free: of all corners' yaws, and midway across there") {
    Draws d(13);
    int found = 0;
    int not_square = 0;
    int turned_too = 0;
    for (int round = 0; round < 1000; ++round) {
        const Clearance c = random_clearance(d);
        const auto corners = corners_of(c, 1e-10);
        if (corners.empty() || corners_of(c, 1e-7).size() != corners.size()) continue;
        double least = 1.0;
        double greatest = -1.0;
        for (const SlotPose& p : corners) {
            least = std::min(least, p.yaw);
            greatest = std::max(greatest, p.yaw);
        }
        const auto place = press(c, 0, 0);
        REQUIRE(place);
        ++found;
        // A nanometre of overlap is allowed, over gates that are 5 mm apart at least.
        CHECK(std::abs(place->yaw - 0.5 * (least + greatest)) < 1e-9);
        not_square += std::abs(place->yaw) > 1e-6 ? 1 : 0;
        double hi = 1e300;
        double lo = -1e300;
        for (const Gate& g : c) {
            hi = std::min(hi, g.hi + place->yaw * g.y);
            lo = std::max(lo, g.lo + place->yaw * g.y);
        }
        CHECK(std::abs(place->x - 0.5 * (hi + lo)) < 1e-12);
        // What it knows of left and right, or of how the table lies, is nothing: mirrored it is mirrored, turned it is
        // turned (a small turn moves each wall by its height along the runner).
        const auto other = press(mirrored(c), 0, 0);
        REQUIRE(other);
        CHECK(std::abs(other->yaw + place->yaw) < 1e-9);
        CHECK(std::abs(other->x + place->x) < 1e-6);
        if (std::max(-least, greatest) > 0.9 * contact::widest_yaw - 0.02) continue;  // where it stops to look
        ++turned_too;
        const double turn = d.between(-0.02, 0.02);
        Clearance turned = c;
        for (Gate& g : turned) {
            g.lo -= turn * g.y;
            g.hi -= turn * g.y;
        }
        const auto there = press(turned, 0, 0);
        REQUIRE(there);
        CHECK(std::abs(there->yaw - (place->yaw + turn)) < 1e-9);
        CHECK(std::abs(there->x - place->x) < 1e-6);
    }
    CHECK(found > 300);
    CHECK(not_square > 100);
    CHECK(turned_too > 200);
}

TEST_CASE("without a side force the place is midway across, with a moment at the corner that the moment seeks") {
    // A parallelogram by hand: at y = +-100 the room is +-1, so yaw goes to +-0.01 and x is 0 there; in the middle of
    // the yaw x is free by +-1.
    const Clearance c{{-100, -1, 1}, {100, -1, 1}};
    CHECK(press(c, 0, 0)->x == doctest::Approx(0));
    CHECK(press(c, 0, 0)->yaw == 0.0);
    CHECK(press(c, 0, 1)->yaw == doctest::Approx(0.01));
    CHECK(press(c, 0, -1)->yaw == doctest::Approx(-0.01));
    CHECK(press(c, 0, 1)->x == doctest::Approx(0));
    CHECK(press(c, 1, 0)->x == doctest::Approx(1));
    CHECK(press(c, 1, 0)->yaw == 0.0);
    CHECK(press(c, -1, 0)->x == doctest::Approx(-1));
}

TEST_CASE("among equally good yaws the one nearest to zero is taken, also when zero itself is not among them") {
    // Pressed right, the gate at y = 0 stops the sled at x = 0. The other two let it turn: hi_-100 - 100 t >= 0 and
    // hi_100 + 100 t >= 0.
    const auto between = [](double t_from, double t_to) {
        return Clearance{{-100, -50, 100 * t_to}, {0, -50, 0}, {100, -50, -100 * t_from}};
    };
    CHECK(press(between(0.01, 0.03), 1, 0)->yaw == doctest::Approx(0.01));
    CHECK(press(between(-0.03, -0.01), 1, 0)->yaw == doctest::Approx(-0.01));
    CHECK(press(between(-0.03, 0.01), 1, 0)->yaw == 0.0);
    CHECK(press(mirrored(between(0.01, 0.03)), -1, 0)->yaw == doctest::Approx(-0.01));
    for (const double from : {0.01, -0.03, -0.02})
        CHECK(press(between(from, from + 0.02), 1, 0)->x == doctest::Approx(0));
}

TEST_CASE("many gates in one line, tilted so that rounding sees a corner at each: the peak is found all the same") {
    // All upper bounds pass through x = -0.2 at yaw = -1/150 but for rounding, so every pair of them looks like the
    // peak.
    Draws d(13);
    for (int round = 0; round < 300; ++round) {
        const double first = -d.between(10, 200), step = d.between(20, 40), x = d.between(-1, 1),
                     yaw = d.between(-0.02, 0.02);
        Clearance c;
        for (int i = 0; i < 12; ++i)
            c.push_back({first + i * step, x - 0.3 - yaw * (first + i * step), x - yaw * (first + i * step)});
        const auto place = press(c, 1, 0);
        REQUIRE(place);
        CHECK(std::abs(place->x - x) < 1e-12);
        CHECK(std::abs(place->yaw - yaw) < 1e-13);
    }
}

TEST_CASE("mirror law: the clearance mirrored and pressed the other way gives the mirrored place") {
    CHECK(holds("x and yaw change sign, nothing else", [] {
        Draws d(*rc::gen::inRange<unsigned long long>(0, 1ULL << 40));
        const Clearance c = random_clearance(d);
        const double side = d.between(-1, 1) * d.whole(0, 1), moment = d.between(-500, 500) * d.whole(0, 1);
        const auto one = press(c, side, moment);
        const auto other = press(mirrored(c), -side, -moment);
        RC_ASSERT(one.has_value() == other.has_value());
        if (!one) return;
        RC_ASSERT(std::abs(one->x + other->x) < 1e-10);
        RC_ASSERT(std::abs(one->yaw + other->yaw) < 1e-12);
    }));
}
