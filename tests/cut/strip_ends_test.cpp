// The short road to the strip held to the long one (five_cut_each) over random saws, and to Euclid.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "contact/draws.h"
#include "cut/strip_ends.h"
#include "repeats.h"
#include "shop/truth.h"

using namespace offsquare;
using cut::alike, cut::Chances, cut::FiveCut, cut::Outcome, cut::StripEnds;
using shop::Drawing, shop::Side, shop::Truth;

namespace {

/// Places of some 400 mm carry 6e-14 mm each; five cuts, each some dozens of operations, add up to a few times that.
constexpr double rounding_mm = 1e-12;

/// A saw in good order, but for what a straight one can have.
struct Saw {
    Drawing drawing;
    Truth truth;
    contact::Shims shims;
    Chances chances;
};

Saw straight_saw(Draws& r) {
    Saw saw;
    Drawing& d = saw.drawing;
    d.board.width_mm = r.between(150, 400);
    d.board.length_mm = r.between(150, 400);
    d.board.trim_mm = r.between(6, 12);
    d.board.strip_mm = r.between(9, 25);
    d.board.first_edge_rad = r.coin() ? r.between(-0.005, 0.005) : 0.0;
    d.board.kept = r.coin() ? Side::left : Side::right;
    d.blade.kerf_mm = r.between(1.8, 4);
    d.blade.height_mm = r.between(25, 90);
    d.fence.length_mm = 900;
    Truth& t = saw.truth;
    t.fence_skew_rad = r.between(-3e-3, 3e-3);
    t.blade_toe_rad = r.coin() ? r.between(-5e-3, 5e-3) : 0.0;
    t.blade_runout_mm = r.coin() ? r.between(0, 0.3) : 0.0;
    t.left_play_mm = r.coin() ? r.between(0, 0.5) : 0.0;
    t.right_play_mm = r.coin() ? r.between(0, 0.5) : 0.0;
    t.pitch_error_mm = 0.4 * r.between(-1, 1) * (t.left_play_mm + t.right_play_mm);
    saw.shims = {r.coin() ? r.between(0, 0.5) : 0.0, r.coin() ? r.between(0, 0.5) : 0.0};
    const std::array<double, 3> sides{-1.0, 0.0, 1.0};
    saw.chances = alike({sides[static_cast<std::size_t>(r.whole(0, 2))], 0.0});
    return saw;
}

/// The same gone wrong in one way or another, so that every outcome is reached, and near the borders between them.
Saw any_saw(Draws& r) {
    Saw saw = straight_saw(r);
    Drawing& d = saw.drawing;
    switch (r.whole(0, 13)) {
        case 0:
            d.board.strip_mm = r.between(-6, 12);
            saw.truth.fence_skew_rad = r.between(-0.01, 0.01);
            break;
        case 1: d.board.trim_mm = r.between(-6, 6); break;
        case 2: d.sled.stop_y_mm = r.between(-500, 150); break;
        case 3: d.blade.height_mm = r.between(0, 36); break;
        case 4: d.board.first_edge_rad = r.between(-0.3, 0.3); break;
        case 5: d.board.width_mm = r.between(5, 60); break;
        case 6: d.board.length_mm = r.between(5, 60); break;
        case 7: saw.truth.pitch_error_mm = r.between(-1, 1); break;
        case 8: d.fence.length_mm = r.between(0.2, 60); break;
        case 9: d.table.depth_mm = r.between(100, 500); break;
        case 10:
            saw.chances[static_cast<std::size_t>(r.whole(0, 4))].chip =
                contact::Chip{r.between(0, 1), r.between(0.05, 0.5)};
            break;
        case 11: saw.chances[static_cast<std::size_t>(r.whole(0, 4))].push = {r.sign(), r.between(-300, 300)}; break;
        case 12: saw.truth.fence_bow_mm = r.between(-0.3, 0.3); break;
        default:
            saw.truth.runner_bend_mm = r.between(-0.2, 0.2);
            saw.truth.edge_bow_mm = r.between(-0.3, 0.3);
            break;
    }
    return saw;
}

bool same_bits(const StripEnds& a, const StripEnds& b) {
    return a.fence_end_mm == b.fence_end_mm && a.far_end_mm == b.far_end_mm && a.length_mm == b.length_mm;
}

std::optional<StripEnds> ends_of(const FiveCut& test) {
    if (!test.strip) return std::nullopt;
    return StripEnds{test.strip->width_at(0.0), test.strip->width_at(test.strip->length_mm), test.strip->length_mm};
}

/// The greatest difference of the three numbers.
double apart(const StripEnds& a, const StripEnds& b) {
    return std::max({std::abs(a.fence_end_mm - b.fence_end_mm), std::abs(a.far_end_mm - b.far_end_mm),
                     std::abs(a.length_mm - b.length_mm)});
}

}  // namespace

TEST_CASE("a straight saw in good order is taken by the short road, which finds the long road's strip") {
    Draws r(901);
    double worst = 0.0;
    for (int round = 0; round < repeats::of(10000, 300); ++round) {
        const Saw saw = straight_saw(r);
        const auto found = cut::straight_strip_ends(saw.drawing, saw.truth, saw.shims, saw.chances);
        const auto expected =
            ends_of(cut::five_cut_each(saw.drawing, saw.truth, saw.shims, saw.chances, cut::Grain::coarse));
        REQUIRE(found);
        REQUIRE(expected);
        worst = std::max(worst, apart(*found, *expected));
    }
    CHECK(worst < rounding_mm);
    CHECK(worst > 0.0);  // two roads, not one
}

TEST_CASE("the short road against Euclid: the strip tapers by L*tan(4 skew)") {
    // Elements I.32, as in five_cut_test.cpp: four corners that are off by e leave 4e for the strip.
    Draws r(902);
    for (int round = 0; round < repeats::of(2000, 100); ++round) {
        Saw saw = straight_saw(r);
        saw.shims = {};
        const double e = saw.drawing.board.kept == Side::left ? saw.truth.fence_skew_rad : -saw.truth.fence_skew_rad;
        const auto found = cut::straight_strip_ends(saw.drawing, saw.truth, saw.shims, saw.chances);
        REQUIRE(found);
        // A toed blade turns no corner here, because all of the board passes it.
        CHECK(std::abs(found->fence_end_mm - found->far_end_mm - found->length_mm * std::tan(4 * e)) < rounding_mm);
    }
}

TEST_CASE("whatever goes wrong: the outcome of the long road, and its strip") {
    Draws r(903);
    std::map<Outcome, int> seen;
    int by_short_road = 0;
    for (int round = 0; round < repeats::of(20000, 1500); ++round) {
        const Saw saw = any_saw(r);
        const FiveCut reference =
            cut::five_cut_each(saw.drawing, saw.truth, saw.shims, saw.chances, cut::Grain::coarse);
        const cut::StripTest test = cut::strip_test(saw.drawing, saw.truth, saw.shims, saw.chances);
        ++seen[reference.outcome];
        by_short_road += cut::straight_strip_ends(saw.drawing, saw.truth, saw.shims, saw.chances) ? 1 : 0;
        REQUIRE(test.outcome == reference.outcome);
        const auto expected = ends_of(reference);
        REQUIRE(test.ends.has_value() == expected.has_value());
        if (expected) CHECK(apart(*test.ends, *expected) < rounding_mm);
    }
    for (const Outcome outcome :
         {Outcome::done, Outcome::nothing_cut, Outcome::misses_blade, Outcome::stops_short, Outcome::strip_crosses,
          Outcome::no_strip, Outcome::runners_bind, Outcome::off_the_fence, Outcome::off_the_table}) {
        CAPTURE(cut::name_of(outcome));
        CHECK(seen[outcome] > 0);
    }
    CHECK(by_short_road > 0);
    CHECK(by_short_road < seen[Outcome::done]);
}

TEST_CASE("the short road gives up right beside the point where a test goes another way, and nowhere far from it") {
    // The strip's far end is w at the fence less L*tan(4e): the skew at which it comes to nothing, and a little to
    // either side of it.
    Drawing d;
    const auto far_end = [&](double skew) {
        Truth t;
        t.fence_skew_rad = skew;
        const auto test = cut::strip_test(d, t, {}, cut::steady(d));
        return test.ends ? test.ends->far_end_mm : -1.0;
    };
    double lo = 0.0;
    double hi = 0.02;
    for (int i = 0; i < 60; ++i) (far_end(0.5 * (lo + hi)) > 0 ? lo : hi) = 0.5 * (lo + hi);
    const auto short_road = [&](double skew) {
        Truth t;
        t.fence_skew_rad = skew;
        return cut::straight_strip_ends(d, t, {}, cut::steady(d)).has_value();
    };
    // 4*300 mm for each radian: 1e-7 rad are 1e-4 mm, within the thousandth; 1e-4 rad are 0.1 mm.
    CHECK_FALSE(short_road(lo));
    CHECK_FALSE(short_road(lo - 1e-7));
    CHECK(far_end(lo - 1e-7) > 0);
    CHECK(short_road(lo - 1e-4));
    CHECK_FALSE(short_road(hi + 1e-4));
}

TEST_CASE("the bare road, curved everything and whatever goes wrong: the long road's strip to the last bit, or none") {
    Draws r(905);
    int done = 0;
    int by_bare_road = 0;
    for (int round = 0; round < repeats::of(4000, 150); ++round) {
        Saw saw = any_saw(r);
        if (r.coin()) {
            saw.truth.fence_profile = r.wavy(-450, 450, 0.3);
            saw.truth.edge_profile = r.rough(0, saw.drawing.board.width_mm, 0.3);
        }
        if (r.coin()) {
            saw.truth.left_play_mm = saw.truth.right_play_mm = 1;
            saw.truth.left_slot_profile = r.wavy(-280, 280, 0.15);
            saw.truth.right_slot_profile = r.rough(-280, 280, 0.1);
            saw.truth.right_runner_profile = r.rough(-60, 360, 0.1);
        }
        const auto expected =
            ends_of(cut::five_cut_each(saw.drawing, saw.truth, saw.shims, saw.chances, cut::Grain::coarse));
        const auto found = cut::bare_strip_ends(saw.drawing, saw.truth, saw.shims, saw.chances);
        done += expected ? 1 : 0;
        by_bare_road += found ? 1 : 0;
        if (!found) continue;
        REQUIRE(expected);
        CHECK(same_bits(*found, *expected));
    }
    CHECK(by_bare_road > 0.9 * done);  // it gives up where it need not, but seldom
    CHECK(by_bare_road < repeats::of(4000, 150));
}

TEST_CASE("only the first cuts: as those of the whole test, to the last bit") {
    Draws r(904);
    for (int round = 0; round < repeats::of(500, 100); ++round) {
        const Saw saw = any_saw(r);
        const FiveCut whole = cut::five_cut_each(saw.drawing, saw.truth, saw.shims, saw.chances);
        const int cuts = r.whole(1, 4);
        const FiveCut part = cut::first_cuts(saw.drawing, saw.truth, saw.shims, saw.chances, cuts);
        CHECK(part.cuts_made == std::min(cuts, whole.cuts_made));
        CHECK(part.outcome == (whole.cuts_made >= cuts ? Outcome::done : whole.outcome));
        CHECK_FALSE(part.strip);
        for (std::size_t i = 0; i < static_cast<std::size_t>(part.cuts_made); ++i) {
            CHECK(part.cuts[i].corner_rad == whole.cuts[i].corner_rad);
            CHECK(part.cuts[i].kerf_mm == whole.cuts[i].kerf_mm);
        }
    }
}
