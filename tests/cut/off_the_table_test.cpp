// Boards that are too long for the table.
#include <doctest/doctest.h>

#include <utility>

#include "cut/five_cut.h"

using namespace offsquare;
using cut::five_cut, cut::Outcome;
using shop::Drawing;

TEST_CASE("a board for which the sled would have to start off the table is named so, not said to bind") {
    // Where: the runners reach 360 mm in front of the fence's face (420 mm long, centred on a base of 420 mm of which
    // 60 mm lie behind the fence), the near edge of the table is 280 mm in front of the blade's centre, and half the
    // chord of a 250 mm blade 60 mm high is sqrt(60*190) = 106.771 mm. A board of b clears the blade when the fence's
    // face is 106.771 + b in front of it; a millimetre of runner is then still over the table as long as 106.771 + b <=
    // 280 + 360 - 1, that is b <= 532.229 mm.
    for (const auto& [longest, expected] :
         {std::pair{532.0, Outcome::done}, std::pair{532.5, Outcome::off_the_table}}) {
        Drawing d;
        d.board.length_mm = longest;
        d.board.width_mm = 300.0;
        CHECK(five_cut(d, {}, {}).outcome == expected);
        std::swap(d.board.length_mm, d.board.width_mm);
        CHECK(five_cut(d, {}, {}).outcome == expected);
    }
}
