// A test cut to first order held to the long road over random saws, to closed forms, and to the mirror.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "contact/draws.h"
#include "cut/bad_guides.h"
#include "cut/first_order.h"
#include "repeats.h"
#include "shop/truth.h"

using namespace offsquare;
using cut::alike, cut::Chances, cut::Outcome, cut::StripEnds;
using shop::Drawing, shop::Side, shop::Truth;

namespace {

double taper(const StripEnds& s) { return s.fence_end_mm - s.far_end_mm; }

double share(std::vector<double> all, double p) {
    std::sort(all.begin(), all.end());
    return all[static_cast<std::size_t>(p * static_cast<double>(all.size() - 1))];
}

}  // namespace

TEST_CASE("five cuts on bad guides: the strip of the long road, but for the steps in which that looks at a curve") {
    Draws r(3201);
    std::vector<double> tapers;
    std::vector<double> widths;
    int binds = 0;
    for (int n = 0; n < repeats::of(1500, 150); ++n) {
        CAPTURE(n);
        Drawing d;
        d.board.kept = r.coin() ? Side::left : Side::right;
        d.board.first_edge_rad = r.coin() ? r.between(-5e-3, 5e-3) : 0.0;
        const Truth t = bad_guides(r);
        const Chances chances = alike({r.sign(), 0.0});
        const auto found = cut::first_order_strip(d, t, {}, chances);
        const auto expected = cut::strip_test(d, t, {}, chances);
        REQUIRE(found);
        // Where it hardly fits the two may differ; contact/glide_test.cpp counts that.
        if (found->outcome != expected.outcome) continue;
        binds += found->outcome == Outcome::runners_bind ? 1 : 0;
        if (!expected.ends) continue;
        tapers.push_back(std::abs(taper(*found->ends) - taper(*expected.ends)));
        widths.push_back(std::abs(found->ends->fence_end_mm - expected.ends->fence_end_mm));
        // The fourth trim ends at the strip's edge, a board's width off the fence: a corner of less than 1 mrad.
        CHECK(std::abs(found->ends->length_mm - expected.ends->length_mm) < 1e-3 * d.board.width_mm);
    }
    // A caliper shows steps of 10 um. On the long road a face is looked at in 33 places and a bow has 33 points, so
    // that a curved edge may come to lie otherwise by up to 0.1 mrad at each of four trims: 0.4 mrad of 300 mm at the
    // very worst, and mostly far less.
    CHECK(share(tapers, 0.5) < 1e-4);
    CHECK(share(tapers, 0.95) < 5e-3);
    CHECK(share(tapers, 1.0) < 120e-3);
    CHECK(share(widths, 1.0) < 5e-3);
    CHECK(share(tapers, 1.0) > 1e-9);  // two roads, not one
    CHECK(binds > repeats::of(50, 5));
}

TEST_CASE("the first cut on bad guides: corner and kerf of the long road") {
    Draws r(3202);
    double corner = 0.0;
    double kerf = 0.0;
    for (int n = 0; n < repeats::of(1500, 150); ++n) {
        Drawing d;
        d.board.kept = r.coin() ? Side::left : Side::right;
        const Truth t = bad_guides(r);
        const Chances chances = alike({r.sign(), 0.0});
        const auto found = cut::first_order_cut(d, t, {}, chances);
        const cut::FiveCut expected = cut::first_cuts(d, t, {}, chances, 1);
        REQUIRE(found);
        if (found->outcome != Outcome::done || expected.cuts_made < 1) continue;
        corner = std::max(corner, std::abs(found->corner_rad - expected.cuts[0].corner_rad));
        kerf = std::max(kerf, std::abs(found->kerf_mm - expected.cuts[0].kerf_mm));
    }
    // A square shows 20 um in 150 mm, 0.13 mrad. A single cut lies on no curved edge; what is left is the bow's points.
    CHECK(corner < 0.01e-3);
    CHECK(corner > 0.0);
    CHECK(kerf < 5e-3);  // half of a caliper's step
}

TEST_CASE("a straight saw: four corners that are off by e leave 4e, and toe turns no corner") {
    // Elements I.32, as in five_cut_test.cpp.
    Draws r(3203);
    for (int n = 0; n < repeats::of(500, 50); ++n) {
        Drawing d;
        d.board.kept = r.coin() ? Side::left : Side::right;
        Truth t;
        t.left_play_mm = t.right_play_mm = 0.1;
        t.fence_skew_rad = r.between(-2e-3, 2e-3);
        t.blade_toe_rad = r.between(-1e-3, 1e-3);
        const auto found = cut::first_order_strip(d, t, {}, alike({1.0, 0.0}));
        REQUIRE(found);
        REQUIRE(found->ends);
        const double e = d.board.kept == Side::left ? t.fence_skew_rad : -t.fence_skew_rad;
        // tan: the skew is an angle, the fence's slope its tangent.
        CHECK(taper(*found->ends) ==
              doctest::Approx(found->ends->length_mm * 4.0 * std::tan(e)).epsilon(1e-12).scale(1.0));
        const auto single = cut::first_order_cut(d, t, {}, alike({1.0, 0.0}));
        REQUIRE(single);
        CHECK(std::abs(single->corner_rad - std::tan(e)) < 1e-12);
        // A blade that is turned by the toe sweeps out its chord's share of it on both sides.
        const double swept = shop::chord_mm(d.blade) * std::abs(t.blade_toe_rad);
        CHECK(std::abs(single->kerf_mm - (d.blade.kerf_mm + swept)) < 1e-9);
    }
}

TEST_CASE("shims count as skew") {
    Drawing d;
    Truth t;
    t.left_play_mm = t.right_play_mm = 0.1;
    const contact::Shims shims{0.3, 0.0};
    const auto shimmed = cut::first_order_strip(d, t, shims, alike({1.0, 0.0}));
    t.fence_skew_rad = std::atan(-0.3 / d.fence.span_mm());
    const auto skewed = cut::first_order_strip(d, t, {}, alike({1.0, 0.0}));
    REQUIRE(shimmed);
    REQUIRE(skewed);
    CHECK(taper(*shimmed->ends) == doctest::Approx(taper(*skewed->ends)).epsilon(1e-12));
}

TEST_CASE("what it leaves to the long road") {
    const Chances pushed = alike({1.0, 0.0});
    const auto led = [](const Drawing& d, const Truth& t, const Chances& c) {
        return cut::first_order_strip(d, t, {}, c).has_value();
    };
    Truth good;
    good.left_play_mm = good.right_play_mm = 0.1;
    REQUIRE(led({}, good, pushed));
    Draws r(3204);
    const auto with = [&](auto change) {
        Drawing d;
        Truth t = good;
        Chances c = pushed;
        change(d, t, c);
        return led(d, t, c);
    };
    CHECK_FALSE(with([](Drawing&, Truth& t, Chances&) { t.fence_bow_mm = 0.1; }));
    CHECK_FALSE(with([](Drawing&, Truth& t, Chances&) { t.edge_bow_mm = 0.1; }));
    CHECK_FALSE(with([&](Drawing&, Truth& t, Chances&) { t.left_slot_profile = r.wavy(-280, 280, 0.05); }));
    CHECK_FALSE(with([](Drawing&, Truth&, Chances& c) { c[2].chip = contact::Chip{0.5, 0.1}; }));
    CHECK_FALSE(with([](Drawing&, Truth&, Chances& c) { c[2].push = {-1.0, 0.0}; }));
    CHECK_FALSE(with([](Drawing&, Truth&, Chances& c) { c = alike({0.0, 0.0}); }));
    CHECK_FALSE(with([](Drawing& d, Truth&, Chances&) { d.blade.height_mm = 10.0; }));
    CHECK_FALSE(with([](Drawing& d, Truth&, Chances&) { d.board.trim_mm = 1.0; }));
    CHECK_FALSE(with([](Drawing& d, Truth&, Chances&) { d.board.width_mm = 60.0; }));
    CHECK_FALSE(with([](Drawing& d, Truth&, Chances&) { d.sled.stop_y_mm = 0.0; }));
}
