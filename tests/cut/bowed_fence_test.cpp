// A bowed fence and two boards: what each corner and the strip show, from the parabola alone.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "cut/five_cut.h"
#include "shop/truth.h"

using namespace offsquare;

namespace {

/// f = s*(1 - (2x/F)^2) over F = 560: slope between x1 and x2, or in their middle.
double parabola(double sagitta, double x1, double x2) { return std::atan(-4 * sagitta * (x1 + x2) / (560.0 * 560.0)); }

}  // namespace

TEST_CASE("a long board and a short board: the strip adds up four chords") {
    for (const double s : {-0.3, -0.05, 0.05, 0.3}) {
        for (const double size : {1.0, 0.5}) {
            shop::Drawing d;
            d.board.width_mm *= size;
            d.board.length_mm *= size;
            shop::Truth t;
            t.fence_bow_mm = s;
            const auto test = cut::five_cut(d, t, {});
            REQUIRE(test.strip);
            // What is left of both sides before each of the cuts 2 to 5; the corner stands at the trim (the fifth time
            // at the strip) beside the blade's near side.
            const double lost = d.board.trim_mm + d.blade.kerf_mm, w = d.board.width_mm, l = d.board.length_mm;
            const double edges[4] = {l, w - lost, l - lost, w - 2 * lost};
            double sum = 0, off = 0, turned = std::abs(parabola(s, std::max(9.6 - w, -280.0), 9.6));
            for (int i = 0; i < 4; ++i) {
                const double to = 1.6 + (i == 3 ? d.board.strip_mm : d.board.trim_mm);
                const double corner = parabola(s, std::max(to - edges[i], -280.0), to);
                // s/1024 over its length where it is hollow. Bellied exact, but that the corners before have made this
                // edge longer or shorter, by each one's error times the other side; and the slope changes by 4*s/F^2
                // for each mm.
                const double longer = i * turned * std::max(w, l);
                turned = std::max(turned, 1.0001 * std::abs(corner));
                const double allowed = (s < 0 ? -s / 1024 / std::min(edges[i], 280.0) : 0.0) +
                                       4 * std::abs(s) / (560 * 560.0) * longer + 1e-5 * std::abs(corner);
                off += allowed;
                CHECK(std::abs(test.cuts[static_cast<std::size_t>(i) + 1].corner_rad - corner) < allowed);
                sum += corner;
            }
            const double tapers =
                (test.strip->width_at(0) - test.strip->width_at(test.strip->length_mm)) / test.strip->length_mm;
            CHECK(std::abs(std::atan(tapers) - sum) < off);
        }
    }
}
