// Advice on a set-up: each rule speaks up exactly where its own sum, worked out here by hand, says so.
#include "shop/sense.h"

#include <doctest/doctest.h>

#include <string>

using namespace offsquare;

namespace {

/// Half the chord of a blade of 250 mm that stands 60 mm high: half of 213.541565 (tests/shop/drawing_test.cpp).
constexpr double reach = 106.7707825;
/// So near to a limit that the other side of it is another answer, and far from rounding.
constexpr double bit = 0.01;

/// The keys that are advised on, one after the other.
std::string keys(const shop::Drawing& drawing) {
    std::string all;
    for (const shop::Advice& a : shop::sense_of(drawing, base::Units::metric)) all += a.key + " ";
    return all;
}

bool advised(const shop::Drawing& drawing, const std::string& key) {
    return keys(drawing).find(key) != std::string::npos;
}

std::string sentence(const shop::Drawing& drawing, const std::string& key) {
    for (const shop::Advice& a : shop::sense_of(drawing, base::Units::metric)) {
        if (a.key == key) return a.sentence;
    }
    return "";
}

}  // namespace

TEST_CASE("an ordinary set-up needs no advice") { CHECK(keys({}) == ""); }

TEST_CASE("25 mm of fence must stay above the blade at its full height, whether it stands there or not") {
    shop::Drawing d;  // stands at 60 mm, can stand at 80 mm: 105 mm
    d.fence.height_mm = 105.0 + bit;
    CHECK_FALSE(advised(d, "fence.height"));
    d.fence.height_mm = 105.0 - bit;
    CHECK(advised(d, "fence.height"));
    d.blade.height_mm = 90.0;  // higher than it is said to reach: what is seen counts, 115 mm
    d.fence.height_mm = 115.0 + bit;
    CHECK_FALSE(advised(d, "fence.height"));
    d.fence.height_mm = 115.0 - bit;
    CHECK(advised(d, "fence.height"));
}

TEST_CASE("the block behind the fence covers what comes out of it at the end of the push") {
    // The fence's face has passed the whole blade, so that its far end stands out by the chord, less the fence itself:
    // 2*106.771 - 36 = 177.542.
    shop::Drawing d;
    d.sled.exit_cover_mm = 2.0 * reach - 36.0 + bit;
    CHECK_FALSE(advised(d, "sled.exit_cover"));
    d.sled.exit_cover_mm = 2.0 * reach - 36.0 - bit;
    CHECK(advised(d, "sled.exit_cover"));
    // Stopped with the face at 50 mm: 50 + 106.771 - 36.
    d.sled.stop_y_mm = 50.0;
    d.sled.exit_cover_mm = 50.0 + reach - 36.0 + bit;
    CHECK_FALSE(advised(d, "sled.exit_cover"));
    d.sled.exit_cover_mm = 50.0 + reach - 36.0 - bit;
    CHECK(advised(d, "sled.exit_cover"));
}

TEST_CASE("a third of the runners must be in the slots at both ends of the push") {
    // The runners of 420 mm reach from 60 mm behind the fence's face to 360 mm before it, the table to 280 mm on both
    // sides. The blade meets a board of length L with the face at -106.771 - L: then the far end of the runners is
    // 360 - 106.771 - L, and 533.229 - L of them is over the table. A third is 140: L = 393.229.
    shop::Drawing d;
    d.board.length_mm = 640.0 - reach - 140.0 - bit;
    CHECK_FALSE(advised(d, "sled.runner_length"));
    d.board.length_mm = 640.0 - reach - 140.0 + bit;
    CHECK(advised(d, "sled.runner_length"));
    CHECK(sentence(d, "sled.runner_length").find("when the blade meets the board") != std::string::npos);
    // At the end the face stands at 106.771. On a base 500 mm deep whose rear edge is f behind the face the runners
    // begin 40 - f before it, so 280 - 106.771 - 40 + f of them is over the table: 140 at f = 6.771.
    d = {};
    d.sled.depth_mm = 500.0;
    d.sled.fence_from_rear_mm = 140.0 - (280.0 - reach - 40.0) + bit;
    CHECK_FALSE(advised(d, "sled.runner_length"));
    d.sled.fence_from_rear_mm -= 2.0 * bit;
    CHECK(advised(d, "sled.runner_length"));
    CHECK(sentence(d, "sled.runner_length").find("at the end of the push") != std::string::npos);
}

TEST_CASE("a push that stops before the fence has passed the blade leaves a step") {
    shop::Drawing d;
    d.sled.stop_y_mm = reach + bit;
    CHECK_FALSE(advised(d, "sled.stop"));
    d.sled.stop_y_mm = reach - bit;
    CHECK(advised(d, "sled.stop"));
}

TEST_CASE("the longer side of the board lies on the base, for it is turned") {
    // 420 mm less the 60 mm behind the face: 360 mm.
    shop::Drawing d;
    d.board.length_mm = 360.0 - bit;
    CHECK_FALSE(advised(d, "sled.depth"));
    d.board.length_mm = 360.0 + bit;
    CHECK(advised(d, "sled.depth"));
    d.board.length_mm = 320.0;
    d.board.width_mm = 360.0 + bit;
    CHECK(advised(d, "sled.depth"));
}

TEST_CASE("advice comes in the order of danger") {
    shop::Drawing d;
    d.fence.height_mm = 90.0;
    d.sled.exit_cover_mm = 0.0;
    d.sled.stop_y_mm = 100.0;
    d.board.width_mm = 600.0;
    CHECK(keys(d) == "fence.height sled.exit_cover sled.runner_length sled.stop sled.depth ");
}
