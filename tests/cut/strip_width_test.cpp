// The strip between its two ends.
#include <doctest/doctest.h>

#include "cut/five_cut.h"
#include "shop/truth.h"

using namespace offsquare;
using shop::Drawing;
using shop::Truth;

TEST_CASE("width of the strip along its length is a straight line between its ends when all is straight") {
    Truth truth;
    truth.fence_skew_rad = 8e-4;
    const cut::FiveCut test = cut::five_cut({}, truth, {});
    const double w0 = test.strip->width_at(0), w1 = test.strip->width_at(test.strip->length_mm);
    for (const double f : {0.1, 0.5, 0.77})
        CHECK(test.strip->width_at(f * test.strip->length_mm) == doctest::Approx(w0 + f * (w1 - w0)).epsilon(1e-12));
    // At the fence end the strip is as wide as it was set, but for what the width leans.
    CHECK(w0 == doctest::Approx(Drawing{}.board.strip_mm).epsilon(5e-3));
}
