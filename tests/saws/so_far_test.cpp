// A log in one line.
#include "saws/so_far.h"

#include <doctest/doctest.h>

#include "logs.h"

using namespace logs;

TEST_CASE("a log in one line: how many tests since when, what the last one said, what was done after it") {
    Sled s{"a sled", "", base::Units::metric, {}};
    CHECK(so_far(s, today) == "nothing written yet");
    s = with(s, Remark{"bought"}, day(2026, 3, 1));
    CHECK(so_far(s, today) == "no test yet");
    // 0.60 mm of difference over 4 x 305 mm is 0.49 mrad, out of 0.35; 0.01 mm is 0.008 mrad, well within.
    s = with(s, StripTest{strip("12.62", "12.02")}, day(2026, 3, 3));
    CHECK(so_far(s, today) == "1 test on 3 March, it failed");
    CHECK(so_far(blue_sled(), today) == "2 tests since 3 March, the last one passed; slots waxed after it");
    CHECK(so_far(blue_sled(), day(2027, 1, 2)).starts_with("2 tests since 3 March 2026, "));
}
