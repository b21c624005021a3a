// A saw like mine: mine in what is known, and its hidden errors as the readings leave them.
#include <doctest/doctest.h>

#include <cmath>

#include "logs.h"
#include "repeats.h"
#include "saws/history.h"
#include "saws/like_mine.h"
#include "shop/truth.h"

namespace like_mine_test {

using namespace logs;

TEST_CASE("a saw like mine: sizes and drawer as typed, errors as the readings leave them, the same seed the same saw") {
    Sled s{"the blue sled", "", base::Units::metric, {}};
    s = with(s, DrawerTyped{{{"brass", 0.1, 0.003, 4}}});
    s = with(s, StripTest{strip("12.92", "12.02")});
    const auto findings = weigh(history_of(s).history.seen());
    REQUIRE(findings);
    const diagnose::Belief& fence = findings->diagnosis.beliefs[static_cast<std::size_t>(shop::Fault::fence_skew)];
    double sum = 0.0;
    const int n = repeats::of(40, 3);
    for (int i = 0; i < n; ++i) {
        const auto like = like_mine(s, &*findings, static_cast<std::uint64_t>(i));
        REQUIRE(like);
        CHECK(like->drawing.fence.span_mm() == 500.0);
        CHECK(like->drawing.drawer.size() == 1);
        sum += like->truth->fence_skew_rad;
        if (i == 0) CHECK(like_mine(s, &*findings, 0)->truth->fence_skew_rad == like->truth->fence_skew_rad);
    }
    // The mean of n draws lies within four of its standard deviations of the mean of the belief.
    CHECK(std::abs(sum / n - fence.size) < 4.0 * fence.u / std::sqrt(n) + 1e-6);
    REQUIRE(like_mine(s, nullptr, 1));
    CHECK(like_mine(s, nullptr, 1)->story.find("possible") != std::string::npos);
}

}  // namespace like_mine_test
