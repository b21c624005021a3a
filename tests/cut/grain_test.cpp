// The fine grain held to closed forms, to brute force at steps as fine as all of it put together, and to the mirror.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "contact/draws.h"
#include "contact/seating.h"
#include "cut/bad_guides.h"
#include "cut/five_cut.h"
#include "repeats.h"
#include "shop/truth.h"

using namespace offsquare;
using cut::alike, cut::FiveCut, cut::Grain;
using shop::Drawing, shop::Side, shop::Truth;

namespace {

/// The fence off square too.
Truth bad_saw(Draws& r) {
    Truth t = bad_guides(r);
    t.fence_skew_rad = r.between(-1e-3, 1e-3);
    return t;
}

/// How the board lies for a cut, seen from the sled.
double turned(const cut::Cut& cut) { return std::atan2(cut.X_SW.r.s, cut.X_SW.r.c); }

/// Each cut's corner by a second road that looks at everything at even and very small steps: the travel in `steps`
/// parts, the faces at as many heights, each board seated point by point.
std::array<double, 4> corners_by_small_steps(const Drawing& d, const Truth& t, const contact::Push& push, int steps) {
    const contact::FenceFace fence = contact::fence_face(d, t, {});
    const double reach = 0.5 * shop::chord_mm(d.blade);
    const double far =
        reach + 1.05 * std::max(d.board.width_mm, d.board.length_mm) + 25.0 + std::abs(fence.slope) * d.fence.length_mm;
    const auto travel =
        contact::travel(d, t, push, -far, reach + 25.0 + std::abs(fence.slope) * d.fence.length_mm, steps);
    REQUIRE(travel);
    const cut::Sweep sweep(d.blade, t, *travel);
    const double corner = (d.board.kept == Side::left ? 1.0 : -1.0) * (0.5 * d.blade.kerf_mm + d.board.trim_mm);
    std::array<double, 4> found{};
    cut::Chain edge{{0.0, 0.0}, {d.board.width_mm, 0.0}};
    double away = d.board.length_mm;
    for (double& error : found) {
        const auto seat = contact::seat_on_fence(fence, {edge.data(), edge.size()},
                                                 d.board.kept == Side::left ? Side::right : Side::left, corner);
        REQUIRE(seat);
        const double y = corner * fence.slope + fence.offset_mm;
        cut::Face face = sweep.face(d.board.kept, y, y + away, steps + 1);
        const base::Vec2 up = face.back() - face.front();
        const base::Vec2 along = seat->X_SW.r * (edge.back() - edge.front());
        const double off = std::atan2(dot(along, up), cross(along, up));
        error = d.board.kept == Side::left ? off : -off;
        away = norm(along) - d.board.trim_mm - d.blade.kerf_mm;
        // Turned for the next cut: the fresh face lies on the fence, its far end at the corner.
        if (d.board.kept == Side::right) std::reverse(face.begin(), face.end());
        edge.assign(face.begin(), face.end());
    }
    return found;
}

}  // namespace

TEST_CASE("a bellied board edge lies along its own tangent where the hand presses it") {
    // y = 4 h x (w - x)/w^2 falls at x by 4 h (w - 2x)/w^2. The hand presses at the middle of what lies on the fence:
    // here the board's far end hangs over the fence's.
    Draws r(3301);
    for (int n = 0; n < 60; ++n) {
        CAPTURE(n);
        Drawing d;
        d.board.kept = r.coin() ? Side::left : Side::right;
        d.board.width_mm = r.between(250.0, 400.0);
        Truth t;
        t.edge_bow_mm = r.between(0.05, 0.8);
        const double w = d.board.width_mm;
        const double on_fence = std::min(w, 0.5 * d.fence.length_mm + 0.5 * d.blade.kerf_mm + d.board.trim_mm);
        const double from_corner = 0.5 * on_fence;
        const double leans = 4.0 * t.edge_bow_mm * (w - 2.0 * from_corner) / (w * w);
        const FiveCut test = cut::first_cuts(d, t, {}, alike({}), 1);
        REQUIRE(test.cuts_made == 1);
        // The blade cuts square to the fence; the chord of the edge leans against it by what the tangent does. Points
        // are so near that one part leans by 2e-6 against the next.
        CHECK(std::abs(test.cuts[0].corner_rad + leans) < 2.1e-6);
        if (on_fence < w - 1.0) CHECK(std::abs(leans) > 1e-7);
    }
    // The case that was filed: 33 points said -0.568 for it.
    Drawing d;
    Truth t;
    t.edge_bow_mm = 0.5;
    CHECK(cut::first_cuts(d, t, {}, alike({}), 1).cuts[0].corner_rad < -0.73e-3);
}

TEST_CASE("five cuts on bad guides lie as they do at 4,096 steps, to 0.01 mrad") {
    Draws r(3302);
    double worst = 0.0;
    double coarse = 0.0;
    int done = 0;
    for (int n = 0; n < repeats::of(120, 12); ++n) {
        CAPTURE(n);
        Drawing d;
        d.board.kept = r.coin() ? Side::left : Side::right;
        d.board.width_mm = r.between(200.0, 280.0);
        d.board.length_mm = r.between(200.0, 280.0);
        const Truth t = bad_saw(r);
        const contact::Push push{r.sign(), 0.0};
        const FiveCut test = cut::five_cut(d, t, {}, push);
        if (test.outcome != cut::Outcome::done) continue;
        ++done;
        const auto expected = corners_by_small_steps(d, t, push, 4096);
        const FiveCut roughly = cut::five_cut_each(d, t, {}, alike(push), Grain::coarse);
        for (std::size_t i = 0; i < expected.size(); ++i) {
            worst = std::max(worst, std::abs(test.cuts[i].corner_rad - expected[i]));
            coarse = std::max(coarse, std::abs(roughly.cuts[i].corner_rad - expected[i]));
        }
    }
    CHECK(done > repeats::of(80, 8));
    CHECK(worst < 1e-5);
    CHECK(coarse > repeats::of(1e-5, 0.0));  // what the halving is there for
    CHECK(coarse < 0.3e-3);                  // as cut/kerf.h says
}

TEST_CASE("on the fine grain the mirrored saw makes the mirrored cuts") {
    Draws r(3303);
    for (int n = 0; n < repeats::of(40, 8); ++n) {
        CAPTURE(n);
        Drawing d;
        d.board.kept = Side::left;
        Truth t = bad_saw(r);
        t.slot_splay_rad = t.slot_wander_mm = 0.0;  // of the one slot, which the mirror would make the other's
        t.left_runner_profile = base::Profile::bow(-200.0, 200.0, t.runner_bend_mm);
        t.runner_bend_mm = 0.0;
        const FiveCut test = cut::five_cut(d, t, {}, {1.0, 0.0});
        d.board.kept = Side::right;
        std::swap(t.left_play_mm, t.right_play_mm);
        t.right_runner_profile = base::Profile::bow(-200.0, 200.0, -t.left_runner_profile.at(0.0));
        t.left_runner_profile = {};
        t.blade_toe_rad = -t.blade_toe_rad;
        t.fence_skew_rad = -t.fence_skew_rad;
        const FiveCut mirrored = cut::five_cut(d, t, {}, {-1.0, 0.0});
        REQUIRE(test.outcome == mirrored.outcome);
        for (std::size_t i = 0; i < static_cast<std::size_t>(test.cuts_made); ++i) {
            // Halves may be made at other places where the sum of two numbers rounds otherwise: as much as one may
            // turn the board.
            CHECK(std::abs(test.cuts[i].corner_rad - mirrored.cuts[i].corner_rad) < 2e-6);
            CHECK(std::abs(turned(test.cuts[i]) + turned(mirrored.cuts[i])) < 2e-6);
        }
    }
}
