// Each scenario teaches something. Here the lesson is worked out from the scenario's own numbers by short formulas of
// the test, so that a change of a number cannot quietly take the lesson away. One place of one piece errs within the
// caliper's limits (rectangle, GUM 4.3.7), scatters, and is rounded (GUM F.2.2.1).
#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>

#include "scenario/scenario.h"
#include "shop/truth.h"

using namespace offsquare;

namespace {

scenario::Scenario lesson(const std::string& name) {
    return scenario::load(OFFSQUARE_SOURCE_DIR "/scenarios/" + name + ".toml").value().scenario;
}

double skew(const scenario::Scenario& s) { return s.truth->fence_skew_rad; }
double tolerance(const scenario::Scenario& s) { return s.drawing.tolerance_rad; }

/// Standard uncertainty of the skew from one test, the strip read once at both ends: u*sqrt(2)/(4L).
double u_skew(const scenario::Scenario& s) {
    const auto& c = s.drawing.caliper;
    const double u =
        std::sqrt(c.limit_mm * c.limit_mm / 3.0 + c.repeat_mm * c.repeat_mm + c.step_mm * c.step_mm / 12.0);
    const auto& b = s.drawing.board;
    const double length =
        b.length_mm - 2.0 * (b.trim_mm + s.drawing.blade.kerf_mm);  // what cuts 2 and 4 leave of the old edge
    return u * std::sqrt(2.0) / (4.0 * length);
}

/// What is left of the skew with this much behind the right end.
double left_over(const scenario::Scenario& s, double thickness) {
    return std::fabs(std::fabs(skew(s)) - thickness / s.drawing.fence.span_mm());
}

/// Which sums the drawer can make, tried piece by piece.
std::vector<double> sums(const scenario::Scenario& s) {
    std::vector<double> all = {0.0};
    for (const shop::Shim& row : s.drawing.drawer) {
        const std::size_t before = all.size();
        for (int n = 1; n <= row.count; ++n) {
            for (std::size_t i = 0; i < before; ++i) all.push_back(all[i] + n * row.thickness_mm);
        }
    }
    return all;
}

double best_stack_leaves(const scenario::Scenario& s) {
    double best = std::fabs(skew(s));
    for (const double t : sums(s)) best = std::min(best, left_over(s, t));
    return best;
}

double best_piece_leaves(const scenario::Scenario& s) {
    double best = std::fabs(skew(s));
    for (const shop::Shim& row : s.drawing.drawer) best = std::min(best, left_over(s, row.thickness_mm));
    return best;
}

}  // namespace

TEST_CASE("teaching saw: clearly off, no single piece will do, a stack will") {
    const auto s = lesson("teaching-saw");
    CHECK(skew(s) > tolerance(s) + 4.0 * u_skew(s));  // one test shows it
    CHECK(s.drawing.fence.span_mm() == 500.0);
    CHECK(best_piece_leaves(s) + 2.0 * u_skew(s) > tolerance(s));  // one piece cannot be proved good enough
    CHECK(best_stack_leaves(s) < 0.1 * tolerance(s));
}

TEST_CASE("inch shop: the other end, and a stack of thousandths") {
    const auto s = lesson("inch-shop-sled");
    CHECK(s.units == base::Units::imperial);
    CHECK(skew(s) < -tolerance(s) - 4.0 * u_skew(s));
    CHECK(best_piece_leaves(s) > 2.0 * best_stack_leaves(s));
    CHECK(best_stack_leaves(s) < 0.2 * tolerance(s));
}

TEST_CASE("already square: less than the caliper can tell, and far inside the tolerance") {
    const auto s = lesson("new-apprentice");
    CHECK(std::fabs(skew(s)) < u_skew(s));
    CHECK(std::fabs(skew(s)) + 4.0 * u_skew(s) < tolerance(s));
    CHECK(s.truth->caliper_zero_mm != 0.0);
}

TEST_CASE("panel sled: the mirror image, a long fence, a toed blade") {
    const auto s = lesson("panel-sled");
    CHECK(s.drawing.board.kept == shop::Side::right);
    CHECK(s.drawing.fence.span_mm() > 1000.0);
    CHECK(std::fabs(skew(s)) > tolerance(s) + 4.0 * u_skew(s));
    CHECK(s.truth->blade_toe_rad != 0.0);
    CHECK(best_stack_leaves(s) < 0.1 * tolerance(s));
}

TEST_CASE("old vernier: inside the tolerance, but one test cannot tell") {
    const auto s = lesson("old-vernier");
    CHECK(std::fabs(skew(s)) < tolerance(s));
    CHECK(std::fabs(skew(s)) + 1.96 * u_skew(s) > tolerance(s));
    CHECK(std::fabs(skew(s)) - 1.96 * u_skew(s) > 0.0);                             // it can tell the end, though
    CHECK(std::fabs(skew(s)) + 1.96 * u_skew(s) / std::sqrt(10.0) < tolerance(s));  // ten tests would decide it
}

TEST_CASE("thick and thin: nothing at one end helps, a difference of two does") {
    const auto s = lesson("square-by-noon");
    CHECK(skew(s) > tolerance(s) + 2.0 * u_skew(s));
    CHECK(best_stack_leaves(s) == doctest::Approx(skew(s)).epsilon(1e-12));  // best is no shim at all
    double best = 1.0;
    for (const double left : sums(s)) {
        for (const double right : sums(s)) best = std::min(best, left_over(s, left - right));
    }
    CHECK(best < 1e-6);
}

TEST_CASE("no shipped saw's runners fit without any play: nobody's do; and all but the lessons about play fit well") {
    for (const auto& file : std::filesystem::directory_iterator(OFFSQUARE_SOURCE_DIR "/scenarios")) {
        const std::string name = file.path().stem().string();
        CAPTURE(name);
        const scenario::Scenario s = lesson(name);
        const bool about_play = name == "off-the-middle" || name == "sticks-half-way" || name == "needs-oil";
        for (const double play : {s.truth->left_play_mm, s.truth->right_play_mm}) {
            CHECK(play > 0.02);
            CHECK(play <= (about_play ? 0.2 : 0.1));
        }
    }
}
