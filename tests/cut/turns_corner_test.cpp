// Whether a fault turns the corner is said in its row; here it is cut.
#include <doctest/doctest.h>

#include <cmath>

#include "repeats.h"
#include "contact/draws.h"
#include "cut/five_cut.h"
#include "shop/fault.h"
#include "shop/truth.h"

using namespace offsquare;
using shop::Drawing, shop::Fault, shop::Truth, shop::Turns;

namespace {

double corner(const Truth& t, const contact::Push& push) {
    const auto test = cut::first_cuts(Drawing{}, t, {}, cut::alike(push), 1);
    REQUIRE(test.cuts_made == 1);
    return test.cuts[0].corner_rad;
}

Truth loose_saw(Draws& r) {
    Truth t;
    t.fence_skew_rad = r.between(-1e-3, 1e-3);
    t.left_play_mm = r.between(0.3, 0.6);
    t.right_play_mm = r.between(0.3, 0.6);
    return t;
}

/// What chance makes of a fault is looked at elsewhere (chance_test.cpp).
bool by_chance(Fault f) { return f == Fault::dust || f == Fault::clamp_creep; }

}  // namespace

TEST_CASE("what is said not to turn the corner turns none on straight guides, and the rest does on some saw at least" *
          doctest::skip(repeats::sanitized)) {
    Draws r(3401);
    for (const shop::FaultInfo& f : shop::faults()) {
        if (by_chance(f.fault)) continue;
        CAPTURE(f.key);
        double most_straight = 0.0;
        double most = 0.0;
        for (int n = 0; n < 12; ++n) {
            // Pressed to one side, or turned in its play by a hand beside the middle.
            const contact::Push push{r.sign(), r.coin() ? r.sign() * 1e3 : 0.0};
            Truth straight = loose_saw(r);
            Truth curved = straight;
            curved.runner_bend_mm = r.between(0.05, 0.12) * r.sign();
            curved.slot_wander_mm = r.between(0.05, 0.1) * r.sign();
            for (auto* saw : {&straight, &curved}) {
                const double before = corner(*saw, push);
                shop::size_of(*saw, f.fault) += f.min < 0.0 ? r.sign() * f.teachable : f.teachable;
                const double turned = std::abs(corner(*saw, push) - before);
                (saw == &straight ? most_straight : most) = std::max(saw == &straight ? most_straight : most, turned);
            }
        }
        // On straight guides rounding is all that is left, and that the moments at which a turned sled enters the chord
        // neglect its yaw's second order (cut/kerf.h): 2e-6 mm of 320 mm. Where the way curves a toed blade takes its
        // cut from another part of it, as its row says.
        if (f.turns_corner == Turns::no) CHECK(most_straight < 6.3e-9);
        else CHECK(std::max(most, most_straight) > 1e-6);
        if (f.fault == Fault::blade_toe) CHECK(most > 1e-6);
        if (f.turns_corner == Turns::yes) CHECK(most_straight > 0.9 * f.teachable);
    }
}
