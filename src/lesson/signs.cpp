#include "lesson/signs.h"

#include <array>

namespace offsquare::lesson {
namespace {

using enum shop::FaultUnit;
using measure::Check;
using Signs = std::vector<Sign>;

constexpr std::string_view same_corner = "turn every corner by the same angle, cut after cut";
constexpr std::string_view corner_off = "the corner comes out off by";
constexpr std::string_view tilted_face = "tilt the cut face, so that it is off over the board's thickness";
constexpr std::string_view swings = "make the needle swing while the blade is turned by hand";

Signs made_for(Check check) {
    switch (check) {
        case Check::five_cut: return {{{1.0}, rad, same_corner, corner_off}};
        case Check::same_again:
            return {{{1.0, -1.0, 0.0},
                     rad,
                     "change from one test to the next although nobody touches anything",
                     "two tests in a row differ by"},
                    {{1.0 / 3.0, 1.0 / 3.0, 1.0 / 3.0}, rad, same_corner, corner_off}};
        case Check::brushed:
            return {{{1.0}, rad, "still turn the corner when the fence is brushed before each cut", corner_off}};
        case Check::long_and_short:
            return {{{1.0, -1.0},
                     rad,
                     "give a short board another corner than a long one",
                     "the corners of the two boards differ by"},
                    {{0.0, 1.0}, rad, same_corner, "the corner of the long board comes out off by"}};
        case Check::flip:
            return {{{1.0, 0.0},
                     mm,
                     "turn the corner, so that two pieces butted together, one of them turned over, show it doubled",
                     "the gap along the feed is"},
                    {{0.0, 1.0}, mm, tilted_face, "the gap over the board's thickness is"}};
        case Check::square_on_cut:
            return {{{1.0, 0.0}, mm, "turn the corner even of a single cut", "the light under the square is"},
                    {{0.0, 1.0}, mm, tilted_face, "the light over the board's thickness is"}};
        case Check::cut_face:
            return {{{1.0}, mm, "make the rear teeth cut the face a second time", "the rear teeth take off"}};
        case Check::kerf_width:
            return {{{1.0}, mm, "make the kerf wider than the teeth", "the kerf is wider than the teeth by"}};
        case Check::fence_straightedge:
            return {{{1.0}, mm, "keep the fence's own face from being straight", "the bow of the face is"}};
        case Check::fence_square: return {{{1.0}, mm, "keep the fence's face from standing upright", "the light is"}};
        case Check::clamp_watch:
            return {{{1.0, 0.0, 0.0, 0.0},
                     mm,
                     "move the fence when nothing is done but clamping it",
                     "the fence moves, one time with another, by"}};
        case Check::edge_straightedge:
            return {{{1.0}, mm, "be there on the board alone, away from the saw", "the bow of the edge is"}};
        case Check::wiggle:
            return {{{1.0, 0.0}, mm, "let the front end of the sled move sideways", "the front end moves by"},
                    {{0.0, 1.0}, mm, "let the rear end of the sled move sideways", "the rear end moves by"}};
        case Check::runner_fit:
            return {{{1.0, 0.0},
                     mm,
                     "leave too much room beside the left runner",
                     "the left slot is wider than its runner by"},
                    {{0.0, 1.0},
                     mm,
                     "leave too much room beside the right runner",
                     "the right slot is wider than its runner by"}};
        case Check::runner_spacing:
            return {{{1.0},
                     mm,
                     "put the runners nearer together, or further apart, than the slots are",
                     "the two spacings differ by"}};
        case Check::runner_straightedge:
            return {{{1.0}, mm, "show on the runner itself, with the sled turned over", "the bow of the runner is"}};
        case Check::slot_widths:
            return {{{1.0},
                     mm,
                     "bring the two slots nearer together at one edge of the table than at the other",
                     "near and far differ by"}};
        case Check::slot_ride:
            return {{{1.0},
                     mm,
                     "make the needle of an indicator in the left slot move half-way along, and not at the ends",
                     "the needle moves by"}};
        case Check::tooth_indicator:
            return {{{1.0},
                     mm,
                     "make one and the same tooth stand nearer to the slot at the rear than at the front, or further "
                     "from it",
                     "front and rear differ by"}};
        case Check::rim_indicator: return {{{1.0}, mm, swings, "the needle swings by"}};
        case Check::blade_square:
            return {{{1.0}, mm, "keep the blade from standing upright on the table", "the light is"}};
        case Check::jaws: return {{{1.0}, mm, "make the caliper show something when its jaws are closed", "it shows"}};
        case Check::gauge_in_jaws:
            return {{{1.0, -1.0, 0.0, 0.0, 0.0},
                     mm,
                     "make the caliper wrong by one amount at one width and by another at the next",
                     "two gauges in a row are read wrong by amounts that differ by"},
                    {{0.2, 0.2, 0.2, 0.2, 0.2},
                     mm,
                     "make the caliper wrong by the same amount at every width",
                     "every gauge is read wrong by"}};
        case Check::push_through: break;
        case Check::board_end:
            return {{{1.0}, mm, "let the board slide along the fence while it is cut", "the board slides by"}};
        case Check::stop_pieces:
            return {{{1.0},
                     mm,
                     "make each piece cut to the stop longer than the one before",
                     "the third piece is longer than the first by"}};
        case Check::second_caliper:
            return {{{1.0, 0.0},
                     mm,
                     "make two calipers part by one amount on one scrap and by another on the next",
                     "they part, from scrap to scrap, by amounts that differ by"}};
        case Check::half_turn:
            return {{{1.0, -1.0},
                     mm,
                     "make the blade wobble otherwise when it is given half a turn on its arbor",
                     "the swing changes by"},
                    {{1.0, 0.0}, mm, swings, "the needle swings, with the blade as found, by"}};
        case Check::diagonals:
            return {{{1.0},
                     mm,
                     "turn the corner, so that a large panel comes out a little like a diamond",
                     "the two diagonals differ by"}};
    }
    return {};
}

}  // namespace

std::span<const Sign> signs_of(Check check) {
    static const std::array<Signs, measure::check_count> all = [] {
        std::array<Signs, measure::check_count> table;
        for (const measure::CheckInfo& c : measure::checks())
            table[static_cast<std::size_t>(c.check)] = made_for(c.check);
        return table;
    }();
    return all[static_cast<std::size_t>(check)];
}

}  // namespace offsquare::lesson
