// The five-cut test at its edges: every outcome reached, nothing that breaks it.
#include <doctest/doctest.h>

#include <cmath>
#include <map>

#include "area.h"
#include "contact/draws.h"
#include "cut/five_cut.h"
#include "shop/truth.h"

using namespace offsquare;
using contact::Push;
using cut::five_cut, cut::FiveCut, cut::Outcome;
using shop::Drawing, shop::Side, shop::Truth;

TEST_CASE("every outcome has its case, its name and its sentence") {
    std::map<std::string_view, Outcome> seen;
    const auto ends = [&](const Drawing& d, const Truth& t, Outcome expected, int cuts) {
        const FiveCut test = five_cut(d, t, {});
        CHECK(test.outcome == expected);
        CHECK(test.cuts_made == cuts);
        CHECK(test.strip.has_value() == (expected == Outcome::done));
        CHECK(!cut::sentence_of(test.outcome).empty());
        seen[cut::name_of(test.outcome)] = test.outcome;
    };
    ends({}, {}, Outcome::done, 5);
    Drawing d;
    d.blade.height_mm = 0;
    ends(d, {}, Outcome::nothing_cut, 0);
    d.blade.height_mm = 18;  // as high as the board is thick: the teeth just touch the top
    ends(d, {}, Outcome::nothing_cut, 0);
    d = {};
    d.sled.stop_y_mm = -450;  // the far edge of the board, 320 mm on, stays 23 mm before the blade
    ends(d, {}, Outcome::nothing_cut, 0);
    d.sled.stop_y_mm = -120;  // the blade has not come down to the fence: chord 107
    ends(d, {}, Outcome::stops_short, 0);
    d.sled.stop_y_mm = -100;
    ends(d, {}, Outcome::done, 5);
    d = {};
    d.board.trim_mm = -4;  // the board ends 4 mm beside the near side of the kerf, beyond its 3.2 mm
    ends(d, {}, Outcome::misses_blade, 0);
    d = {};
    d.board.strip_mm = 3;
    Truth skew;
    skew.fence_skew_rad = 5e-3;
    ends(d, skew, Outcome::strip_crosses, 5);  // tapers by 290*tan(0.02) = 5.8 mm
    skew.fence_skew_rad = -5e-3;
    ends(d, skew, Outcome::done, 5);  // wider at the far end
    d.board.strip_mm = -10;
    ends(d, {}, Outcome::misses_blade, 4);
    d.board.strip_mm = -2;  // the blade takes the whole edge and leaves no strip
    ends(d, {}, Outcome::no_strip, 5);
    d = {};
    d.board.width_mm = 20;
    ends(d, {}, Outcome::no_strip, 2);  // the trims of cuts 1 and 3 and their kerfs eat it: nothing is kept
    d = {};
    Truth t;
    t.pitch_error_mm = 0.1;
    ends(d, t, Outcome::runners_bind, 0);
    t.left_play_mm = t.right_play_mm = 0.1;
    ends(d, t, Outcome::done, 5);
    d.fence.length_mm = 50;
    d.board.trim_mm = -50;
    ends(d, {}, Outcome::off_the_fence, 0);  // the corner stands 48.4 mm left of the blade, the fence begins at -25
    CHECK(seen.size() == 8);
}

TEST_CASE(
    "5,000 saws from the whole allowed range and its ends: always an outcome with a name, never a number that is "
    "none") {
    // Ranges of the scenario file (scenario/schema.cpp), which are wider than any workshop.
    Draws r(66);
    const auto any = [&](double lo, double hi) {
        return r.whole(0, 9) == 0 ? lo : r.whole(0, 9) == 0 ? hi : r.between(lo, hi);
    };
    const auto fault = [&](double size) {
        return r.coin() ? 0.0 : r.coin() ? any(-size, size) : r.between(-size, size) / 20;
    };
    std::map<Outcome, int> count;
    for (int round = 0; round < 5000; ++round) {
        Drawing d;
        const bool extreme = r.whole(0, 3) == 0;
        if (extreme) {
            d.table.depth_mm = any(100, 5000);
            d.blade.diameter_mm = any(50, 1000);
            d.blade.height_mm = any(0, 0.499) * d.blade.diameter_mm;
            d.sled.depth_mm = any(100, 5000);
            d.sled.fence_from_rear_mm = any(5, 0.99 * d.sled.depth_mm);
            d.sled.runner_length_mm = any(50, d.sled.depth_mm);
            d.sled.width_mm = any(100, 5000);
            d.slots.width_mm = any(5, 100);
        }
        d.sled.stop_y_mm = r.coin() ? d.sled.stop_y_mm : any(-2000, 2000);
        d.blade.kerf_mm = any(0.5, extreme ? 20 : 4);
        d.fence.length_mm = any(50, 900);
        d.board.width_mm = any(20, extreme ? 3000 : 500);
        d.board.length_mm = any(20, extreme ? 3000 : 500);
        d.board.thickness_mm = any(1, 40);
        d.board.trim_mm = any(extreme ? -50 : 1, extreme ? 500 : 20);
        d.board.strip_mm = any(0.5, extreme ? 500 : 30);
        d.board.first_edge_rad = any(-0.1, 0.1);
        d.board.kept = r.coin() ? Side::left : Side::right;
        Truth t;
        t.fence_skew_rad = fault(0.02);
        t.fence_bow_mm = fault(2);
        t.left_play_mm = std::abs(fault(2));
        t.right_play_mm = std::abs(fault(2));
        t.pitch_error_mm = fault(2);
        t.slot_splay_rad = fault(0.01) / 10;
        t.runner_bend_mm = fault(2) / 10;
        t.blade_toe_rad = fault(0.02);
        t.edge_bow_mm = fault(2);
        if (r.coin()) t.fence_profile = r.rough(-280, 280, any(0, 5), r.whole(1, 2) == 1 ? 3 : 33);
        if (r.whole(0, 3) == 0) t.left_slot_profile = r.rough(-280, 280, any(0, 0.5), r.whole(2, 40));
        if (r.whole(0, 3) == 0) t.right_slot_profile = r.rough(-280, 280, any(0, 0.5), r.whole(2, 40));
        const Push push{r.whole(0, 3) == 0 ? 0.0 : r.between(-1, 1), r.coin() ? 0.0 : r.between(-1000, 1000)};
        const FiveCut test = five_cut(d, t, {r.coin() ? 0.0 : any(0, 25), r.coin() ? 0.0 : any(0, 25)}, push);
        ++count[test.outcome];
        CHECK(cut::name_of(test.outcome) != "");
        CHECK(std::isfinite(test.skew_rad));
        CHECK(test.strip.has_value() == (test.outcome == Outcome::done));
        for (int c = 0; c < test.cuts_made; ++c) {
            const cut::Cut& one = test.cuts[static_cast<std::size_t>(c)];
            CHECK(std::isfinite(one.corner_rad));
            CHECK(std::isfinite(one.kerf_mm));
            CHECK(area::area_mm2(one.kept) <= area::area_mm2(test.before(c + 1)) * (1 + 1e-12));
            for (const cut::Corner& p : one.kept) CHECK((std::isfinite(p.p.x) && std::isfinite(p.p.y)));
        }
        if (!test.strip) continue;
        for (const double f : {0.0, 0.25, 0.5, 1.0})
            CHECK(std::isfinite(test.strip->width_at(f * test.strip->length_mm)));
        CHECK(test.strip->width_at(0) > 0);
        CHECK(test.strip->width_at(test.strip->length_mm) > 0);
    }
    CHECK(count[Outcome::done] > 300);
    CHECK(count.size() >= 7);
}
