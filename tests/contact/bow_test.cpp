// A bowed fence, a true parabola, against one law: the chord of a parabola between two places is as steep as the
// parabola in the middle between them. So a board whose edge reaches from x1 to x2 is turned alike whether it rides on
// its ends (hollow) or on the belly under the push, but for the sign.
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "contact/draws.h"
#include "contact/seating.h"
#include "shop/truth.h"

using namespace offsquare;
using base::Vec2;
using shop::Side;

namespace {

constexpr double fence_mm = 560.0;

double direction_on(const shop::Truth& truth, double from, double to) {
    const std::vector<Vec2> edge{{0, 0}, {to - from, 0}};
    const auto seat = contact::seat_on_fence(contact::fence_face({}, truth, {}), edge, Side::right, to);
    REQUIRE(seat);
    const Vec2 a = seat->X_SW * edge[0], b = seat->X_SW * edge[1];
    return std::atan2(b.y - a.y, b.x - a.x);
}

/// f = s*(1 - (2x/F)^2): slope between x1 and x2, or in their middle.
double parabola(double sagitta, double x1, double x2) {
    return std::atan(-4 * sagitta * (x1 + x2) / (fence_mm * fence_mm));
}

}  // namespace

TEST_CASE("boards of every length on a bellied fence turn with the parabola, without jumps") {
    for (const double s : {0.02, 0.1, 0.5, 2.0}) {
        shop::Truth t;
        t.fence_bow_mm = s;
        double before = parabola(s, -279, 0);
        for (double from = -279.0; from < -20.0; from += 0.173) {
            const double direction = direction_on(t, from, 9.6);
            // The bow goes by x along the fence's line, the board by its own length: cosines of less than 0.015.
            CHECK(std::abs(direction - parabola(s, from, 9.6)) < 1e-4 * std::abs(parabola(s, from, 9.6)) + 1e-12);
            if (from > -279.0) CHECK(std::abs(direction - before) < 1.01 * 4 * s * 0.173 / (fence_mm * fence_mm));
            before = direction;
        }
    }
}

TEST_CASE("hollow, and hanging over the fence's end") {
    for (const double s : {-0.02, -0.1, -0.5, -2.0}) {
        shop::Truth t;
        t.fence_bow_mm = s;
        for (double from = -330.0; from < -40.0; from += 1.37) {
            // Between two of its 33 points the bow is up to s/1024 too low; over the length that it bears on, that is
            // the whole error.
            const double bears = 9.6 - std::max(from, -280.0);
            CHECK(std::abs(direction_on(t, from, 9.6) - parabola(s, std::max(from, -280.0), 9.6)) <
                  std::abs(s) / 1024 / bears + 1e-7 * std::abs(s));
        }
    }
}

TEST_CASE("bellied boards hanging over the fence's end") {
    shop::Truth t;
    t.fence_bow_mm = 0.3;
    for (double from = -380.0; from < -280.0; from += 3.1)
        CHECK(direction_on(t, from, 9.6) == doctest::Approx(parabola(0.3, -280, 9.6)).epsilon(1e-6));
}

TEST_CASE(
    "the belly of a fence with a dent and a board with a bent edge: never steeper than the points beside the push "
    "allow") {
    // Brute force: a thousand points of the true parabola, handed in as a profile of its own.
    Draws r(901);
    double worst = 0;
    for (int round = 0; round < 300; ++round) {
        const double s = r.between(0.02, 0.5);
        shop::Truth smooth, fine;
        smooth.fence_profile = r.wavy(-280, 280, 0.03, 9);
        smooth.fence_bow_mm = s;
        fine.fence_profile = base::sum(smooth.fence_profile, base::Profile::bow(-280, 280, s, 2001));
        const base::Profile bent = r.wavy(0, 200, 0.01, 7);
        const std::vector<Vec2> edge(bent.points().begin(), bent.points().end());
        const double corner = r.between(-60, 200);
        const auto direction = [&](const shop::Truth& t) {
            const auto seat = contact::seat_on_fence(contact::fence_face({}, t, {}), edge, Side::right, corner);
            const Vec2 a = seat->X_SW * edge.front(), b = seat->X_SW * edge.back();
            return std::atan2(b.y - a.y, b.x - a.x);
        };
        worst = std::max(worst, std::abs(direction(smooth) - direction(fine)));
    }
    // Where a dent's or the edge's corner touches beside the belly the belly's 33 points decide: half a part's change
    // of slope, 4*s/(32*560), is the most.
    CHECK(worst < 4 * 0.5 / (32 * 560.0));
    CHECK(worst > 0);
}
