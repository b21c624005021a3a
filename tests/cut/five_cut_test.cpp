// The five-cut test against Euclid and against laws of symmetry (outcome_test.cpp: at its edges).
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "area.h"
#include "contact/draws.h"
#include "cut/five_cut.h"
#include "repeats.h"
#include "shop/truth.h"

using namespace offsquare;
using base::Vec2;
using contact::Push, contact::Shims;
using cut::five_cut, cut::FiveCut, cut::Outcome;
using shop::Drawing, shop::Side, shop::Truth;

namespace {

/// fence end less far end.
double taper(const FiveCut& test) { return test.strip->width_at(0) - test.strip->width_at(test.strip->length_mm); }

/// With the kept piece on the left a fence turned counter-clockwise opens the kept corner; on the right it closes it.
double corner(double skew, Side kept) { return kept == Side::left ? skew : -skew; }

/// Each open corner makes the strip wider at the fence.
double law(const FiveCut& test, double skew, Side kept) {
    return test.strip->length_mm * std::tan(4 * corner(skew, kept));
}

Truth skewed(double skew) {
    Truth t;
    t.fence_skew_rad = skew;
    return t;
}

/// A random board that is large enough for its cuts, and a saw that takes it.
Drawing random_drawing(Draws& r) {
    Drawing d;
    d.board.width_mm = r.between(150, 400);
    d.board.length_mm = r.between(150, 400);
    d.board.trim_mm = r.between(6, 12);
    d.board.strip_mm = r.between(9, 25);
    d.board.first_edge_rad =
        r.between(-0.005, 0.005);  // at most 2 mm of lean, 2 of skew: the first four cuts take it off
    d.board.kept = r.coin() ? Side::left : Side::right;
    d.blade.kerf_mm = r.between(1.8, 4);
    d.blade.height_mm = r.between(25, 90);
    d.fence.length_mm = 900;
    d.sled.width_mm = 950;
    return d;
}

/// Interior angle at a corner, from the directions to its neighbours.
double interior(Vec2 before, Vec2 at, Vec2 after) {
    const double one = std::atan2(before.y - at.y, before.x - at.x), other = std::atan2(after.y - at.y, after.x - at.x);
    return std::remainder(one - other, 2 * M_PI);
}

/// A table so long that the runners never leave their slots.
Drawing long_table() {
    Drawing d;
    d.table.depth_mm = 4000;
    return d;
}

}  // namespace

TEST_CASE("the strip tapers by L*tan(4 skew), to a billionth of a millimetre") {
    // Euclid, Elements I.32: the angles of a quadrilateral make four right angles. Four corners that are off by e leave
    // 4e for the strip.
    Draws r(61);
    for (const double size : {1e-6, 1e-5, 1e-4, 5e-4, 1e-3, 2e-3, 3e-3, 5e-3}) {
        for (int round = 0; round < 40; ++round) {
            const Drawing d = random_drawing(r);
            const double e = r.sign() * size;
            Truth t = skewed(e);
            if (r.coin()) t.blade_toe_rad = r.between(-5e-3, 5e-3);
            const FiveCut test = five_cut(d, t, {});
            REQUIRE(test.outcome == Outcome::done);
            REQUIRE(test.strip);
            // Rounding: lengths of 400 mm carry 1e-13 mm, some dozens of operations.
            CHECK(std::abs(taper(test) - law(test, e, d.board.kept)) < 1e-9);
            CHECK(test.cuts_made == 5);
            CHECK(std::abs(test.skew_rad - e) < 1e-15);
            CHECK(test.strip->side == (d.board.kept == Side::left ? Side::right : Side::left));
            for (int c = 1; c < 5; ++c)
                CHECK(std::abs(test.cuts[static_cast<std::size_t>(c)].corner_rad - corner(e, d.board.kept)) < 1e-12);
            // The wood that the blade took: k*cos(toe) + C*sin(toe) wide.
            const double toe = std::abs(t.blade_toe_rad);
            const double chord = 2 * std::sqrt(d.blade.height_mm * (d.blade.diameter_mm - d.blade.height_mm));
            for (const cut::Cut& c : test.cuts)
                CHECK(std::abs(c.kerf_mm - (d.blade.kerf_mm * std::cos(toe) + chord * std::sin(toe))) < 1e-9);
        }
    }
}

TEST_CASE("the taper of 500 mm of strip") {
    // check-values.md, "four corners": 500 mm * tan(4e).
    const double rows[4][2] = {{1e-4, 0.2000000107}, {5e-4, 1.0000013333}, {1e-3, 2.0000106667}, {2e-3, 4.0000853355}};
    for (const auto& row : rows) {
        for (const Side kept : {Side::left, Side::right}) {
            Drawing d;
            d.board.kept = kept;
            const FiveCut test = five_cut(d, skewed(row[0]), {});
            CHECK(std::abs(taper(test) * 500 / test.strip->length_mm) == doctest::Approx(row[1]).epsilon(1e-9));
        }
    }
}

TEST_CASE("the corners of the kept piece: right angles plus the skew, and the last makes up for all of them") {
    Draws r(62);
    for (int round = 0; round < 200; ++round) {
        const Drawing d = random_drawing(r);
        const double e = r.between(-5e-3, 5e-3);
        const FiveCut test = five_cut(d, skewed(e), {});
        REQUIRE(test.outcome == Outcome::done);
        // The board before the fifth cut: four edges made by cuts 1 to 4, turning one way or the other.
        const cut::Piece board = test.before(5);
        REQUIRE(board.size() == 4);
        const double open = corner(e, d.board.kept);
        double sum = 0;
        for (std::size_t i = 0; i < 4; ++i) {
            const double angle = interior(board[(i + 3) % 4].p, board[i].p, board[(i + 1) % 4].p);
            sum += angle;
            const int meet[2] = {std::min(board[(i + 3) % 4].made_by, board[i].made_by),
                                 std::max(board[(i + 3) % 4].made_by, board[i].made_by)};
            const bool first_and_last = meet[0] == 1 && meet[1] == 4;
            CHECK(std::abs(angle - M_PI / 2 - (first_and_last ? -3 * open : open)) < 1e-12);
        }
        CHECK(std::abs(sum - 2 * M_PI) < 1e-12);
        // Its offcut has the four errors in one corner angle: the fresh face against the old edge.
        const auto old_edge = cut::chain_made_by(test.offcut(5), 1), fresh = cut::chain_made_by(test.offcut(5), 5);
        REQUIRE(old_edge.size() == 2);
        REQUIRE(fresh.size() == 2);
        const Vec2 a = old_edge[1] - old_edge[0], b = fresh[0] - fresh[1];
        CHECK(std::abs(std::remainder(std::atan2(b.y, b.x) - std::atan2(a.y, a.x), 2 * M_PI)) ==
              doctest::Approx(std::abs(4 * e)).epsilon(1e-9));
    }
}

TEST_CASE("wood is neither lost nor made: kept piece, offcut and kerf are the board, at every cut") {
    Draws r(63);
    for (int round = 0; round < 100; ++round) {
        const Drawing d = random_drawing(r);
        const double e = r.between(-5e-3, 5e-3);
        const FiveCut test = five_cut(d, skewed(e), {});
        REQUIRE(test.outcome == Outcome::done);
        for (int c = 0; c < 5; ++c) {
            const cut::Cut& one = test.cuts[static_cast<std::size_t>(c)];
            const double kerf =
                area::area_mm2(test.before(c + 1)) - area::area_mm2(one.kept) - area::area_mm2(test.offcut(c + 1));
            // Between two upright faces: a trapezium, k wide and as high as its two faces on average (a rough corner
            // within it may cut it off a little).
            const auto mark = c + 1;
            const auto on_kept = cut::chain_made_by(one.kept, mark),
                       on_offcut = cut::chain_made_by(test.offcut(mark), mark);
            const double height =
                0.5 * (norm(on_kept.back() - on_kept.front()) + norm(on_offcut.back() - on_offcut.front()));
            CHECK(kerf == doctest::Approx(d.blade.kerf_mm * height).epsilon(1e-3));
            // What the next cut starts from is what this one left.
            if (c < 4)
                CHECK(area::area_mm2(test.before(c + 2)) == doctest::Approx(area::area_mm2(one.kept)).epsilon(1e-12));
        }
        CHECK(area::area_mm2(test.strip->piece) == doctest::Approx(area::area_mm2(test.offcut(5))));
    }
}

TEST_CASE(
    "mirror law: the whole saw mirrored gives the same widths; only the kept side changed, the taper changes its "
    "sign") {
    Draws r(64);
    for (int round = 0; round < 200; ++round) {
        Drawing d = random_drawing(r);
        Truth t = skewed(r.between(-4e-3, 4e-3));
        t.blade_toe_rad = r.between(-2e-3, 2e-3);
        t.left_play_mm = r.between(0.1, 0.5);
        t.right_play_mm = r.between(0.1, 0.5);
        t.fence_bow_mm = r.coin() ? r.between(-0.2, 0.2) : 0.0;
        t.edge_bow_mm = r.coin() ? r.between(-0.2, 0.2) : 0.0;
        Drawing m = d;
        m.board.kept = d.board.kept == Side::left ? Side::right : Side::left;
        m.board.first_edge_rad = -d.board.first_edge_rad;
        Truth u = t;
        u.fence_skew_rad = -t.fence_skew_rad;
        u.blade_toe_rad = -t.blade_toe_rad;
        std::swap(u.left_play_mm, u.right_play_mm);
        const Push push{r.between(-1, 1), r.coin() ? 0.0 : r.between(-200, 200)};
        // The fault turns the fence about its right shim point, which is not mirrored: packing behind both ends puts
        // the middle of the fence in its place.
        const double pack = d.fence.shim_right_x_mm * std::tan(t.fence_skew_rad);
        const FiveCut one = five_cut(d, t, {pack, pack}, push);
        const FiveCut other = five_cut(m, u, {-pack, -pack}, {-push.side, -push.moment_mm});
        REQUIRE(one.outcome == Outcome::done);
        REQUIRE(other.outcome == Outcome::done);
        for (const double station : {0.0, 0.3, 1.0}) {
            const double w = one.strip->width_at(station * one.strip->length_mm);
            CHECK(other.strip->width_at(station * other.strip->length_mm) == doctest::Approx(w).epsilon(1e-9));
        }
        CHECK(one.strip->length_mm == doctest::Approx(other.strip->length_mm).epsilon(1e-11));
        for (std::size_t c = 0; c < 5; ++c) CHECK(std::abs(one.cuts[c].corner_rad - other.cuts[c].corner_rad) < 1e-10);

        Truth plain = skewed(t.fence_skew_rad);
        CHECK(taper(five_cut(d, plain, {})) / five_cut(d, plain, {}).strip->length_mm ==
              doctest::Approx(-taper(five_cut(m, plain, {})) / five_cut(m, plain, {}).strip->length_mm).epsilon(1e-9));
    }
}

TEST_CASE("scale law: all lengths k times as long, all widths k times as wide") {
    Draws r(65);
    for (int round = 0; round < 100; ++round) {
        const double k = r.between(0.4, 2.5);
        Drawing d = random_drawing(r);
        d.table.depth_mm = 4000;
        Truth t = skewed(r.between(-4e-3, 4e-3));
        t.blade_toe_rad = r.between(-2e-3, 2e-3);
        t.left_play_mm = 0.2;
        t.right_play_mm = 0.3;
        t.fence_bow_mm = r.coin() ? r.between(-0.2, 0.2) : 0.0;
        t.runner_bend_mm = r.coin() ? r.between(-0.1, 0.1) : 0.0;
        Drawing big = d;
        for (double* length :
             {&big.table.width_mm,  &big.table.depth_mm,     &big.blade.diameter_mm,       &big.blade.height_mm,
              &big.blade.kerf_mm,   &big.slots.left_x_mm,    &big.slots.right_x_mm,        &big.slots.width_mm,
              &big.sled.width_mm,   &big.sled.depth_mm,      &big.sled.fence_from_rear_mm, &big.sled.runner_length_mm,
              &big.fence.length_mm, &big.fence.thickness_mm, &big.fence.shim_left_x_mm,    &big.fence.shim_right_x_mm,
              &big.board.width_mm,  &big.board.length_mm,    &big.board.thickness_mm,      &big.board.trim_mm,
              &big.board.strip_mm})
            *length *= k;
        Truth u = t;
        for (double* length : {&u.left_play_mm, &u.right_play_mm, &u.fence_bow_mm, &u.runner_bend_mm}) *length *= k;
        const FiveCut one = five_cut(d, t, {0.1, 0}), other = five_cut(big, u, {0.1 * k, 0});
        REQUIRE(one.outcome == Outcome::done);
        REQUIRE(other.outcome == Outcome::done);
        CHECK(std::abs(other.strip->width_at(0) - k * one.strip->width_at(0)) < 1e-9);
        CHECK(std::abs(taper(other) - k * taper(one)) < 1e-9);
        CHECK(other.strip->length_mm == doctest::Approx(k * one.strip->length_mm).epsilon(1e-11));
    }
}

TEST_CASE("rotation law: both slots turned alike carry the whole sled round, and only widen the kerf") {
    // The travel is then off the blade by the angle of the slots, which is a toe to the sled; the corner does not feel
    // it.
    for (const double turn : {1e-4, 1e-3, -1e-3}) {
        for (const double e : {0.0, 5e-4, -3e-3}) {
            Truth t = skewed(e);
            const base::Profile::Points line{{-2000, -2000 * std::tan(turn)}, {2000, 2000 * std::tan(turn)}};
            const base::Profile profile(line);
            t.left_slot_profile = profile;
            t.right_slot_profile = profile;
            t.left_play_mm = t.right_play_mm = 0.05;
            const FiveCut test = five_cut({}, t, {});
            REQUIRE(test.outcome == Outcome::done);
            // The turned board enters the chord by turn^2/2 of its place later than the model has it: an angle of
            // turn^3, 300 mm long, four times.
            CHECK(std::abs(taper(test) - law(test, e, Side::left)) < 2e-6);
            const Drawing d;
            CHECK(std::abs(test.cuts[0].kerf_mm - (d.blade.kerf_mm * std::cos(turn) +
                                                   shop::chord_mm(d.blade) * std::sin(std::abs(turn)))) < 1e-4);
        }
    }
}

TEST_CASE(
    "shims: the ideal one makes the test read zero, at the wrong end it doubles the taper, each end gives its own "
    "sign") {
    for (const double e : {2e-4, -2e-4, 2e-3, -2e-3}) {
        for (const Side kept : {Side::left, Side::right}) {
            Drawing d;
            d.board.kept = kept;
            const double shim = d.fence.span_mm() * std::tan(std::abs(e));
            const Shims right_end = e > 0 ? Shims{shim, 0} : Shims{0, shim},
                        wrong_end = e > 0 ? Shims{0, shim} : Shims{shim, 0};
            CHECK(std::abs(taper(five_cut(d, skewed(e), right_end))) < 1e-10);
            CHECK(std::abs(five_cut(d, skewed(e), right_end).skew_rad) < 1e-16);
            const FiveCut twice = five_cut(d, skewed(e), wrong_end);
            const double doubled = std::atan(2 * std::tan(e));
            CHECK(std::abs(taper(twice) - law(twice, doubled, kept)) < 1e-9);
            // A shim alone, without a fault, is a skew of its own: right end forward is counter-clockwise.
            const FiveCut shimmed = five_cut(d, {}, {0, 0.25});
            CHECK(std::abs(taper(shimmed) - law(shimmed, std::atan(0.25 / d.fence.span_mm()), kept)) < 1e-9);
        }
    }
}

TEST_CASE("runner play taken up by a twist adds to the skew exactly") {
    // Yaw limit of a rectangle turned in a strip: L*sin t + w*cos t = w + c, here solved by Newton's steps.
    for (const double c : {0.05, 0.2, 0.5}) {
        Drawing d = long_table();
        Truth t = skewed(4e-4);
        t.left_play_mm = c;
        t.right_play_mm = 2;
        const double length = d.sled.runner_length_mm, w = d.slots.width_mm - c;
        double yaw = c / length;
        for (int i = 0; i < 20; ++i)
            yaw -= (length * std::sin(yaw) + w * std::cos(yaw) - w - c) / (length * std::cos(yaw) - w * std::sin(yaw));
        for (const double sign : {1.0, -1.0}) {
            for (const Side kept : {Side::left, Side::right}) {
                d.board.kept = kept;
                const FiveCut test = five_cut(d, t, {}, {0, sign});
                REQUIRE(test.outcome == Outcome::done);
                CHECK(std::abs(taper(test) - law(test, 4e-4 + sign * yaw, kept)) < 1e-9);
                CHECK(std::abs(test.cuts[2].corner_rad - corner(4e-4 + sign * yaw, kept)) < 1e-12);
                CHECK(test.skew_rad == doctest::Approx(4e-4));  // the fence itself has not moved
            }
        }
    }
}

TEST_CASE(
    "the path of the sled across does not matter: any steady play, pressed to either side, leaves the taper alone") {
    for (const double side : {1.0, -1.0, 0.0}) {
        Truth t = skewed(7e-4);
        t.left_play_mm = 0.8;
        t.right_play_mm = 0.3;
        const FiveCut test = five_cut({}, t, {}, {side, 0});
        CHECK(std::abs(taper(test) - law(test, 7e-4, Side::left)) < 1e-9);
    }
}

TEST_CASE("on a bowed fence a short board and a long one disagree, by what the bow's chord says") {
    // Hollow parabola -s(1 - (2x/F)^2): an edge from x1 to x2 rides on its ends, turned by 4s(x1 + x2)/F^2. Kept left,
    // x2 is the corner beside the blade and x1 lies an edge's length to the left. Four corners add their turns. Kept
    // right is the mirror image: the same corners.
    for (const Side kept : {Side::left, Side::right}) {
        double rate[2] = {};
        for (const int size : {0, 1}) {
            Drawing d;
            d.board.kept = kept;
            d.board.width_mm = d.board.length_mm = size == 0 ? 150 : 280;
            d.board.trim_mm = 4;
            Truth t;
            t.fence_bow_mm = -0.4;
            const FiveCut test = five_cut(d, t, {});
            REQUIRE(test.outcome == Outcome::done);
            double sum = 0;
            for (std::size_t c = 1; c < 5; ++c) {
                const auto edge = cut::chain_made_by(test.before(static_cast<int>(c) + 1), static_cast<int>(c));
                const double beside = 1.6 + (c == 4 ? d.board.strip_mm : d.board.trim_mm);
                const double ends = 2 * beside - norm(edge.back() - edge.front());
                const double turn = 4 * 0.4 * ends / (560.0 * 560.0);
                // Between its 33 points the bow is a chord, up to (17.5/560)^2 of its sagitta off, 4e-4 mm, over an
                // edge of 130 mm and more.
                CHECK(std::abs(test.cuts[c].corner_rad - turn) < 8e-4 / 130);
                sum += turn;
            }
            rate[size] = taper(test) / test.strip->length_mm;
            CHECK(rate[size] == doctest::Approx(sum).epsilon(0.02));
        }
        // Left kept, the edge lies left of the blade, where a hollow face falls away to the right: the board turns
        // clockwise, the strip is narrower at the fence.
        CHECK(rate[1] < rate[0]);
        CHECK(rate[0] < 0);
        CHECK(rate[1] / rate[0] > 1.8);
    }
}

TEST_CASE("the first edge does not matter: bowed, leaning, wandering off the fence by its bow") {
    for (const double bow : {-1.0, 0.3, 2.0}) {
        for (const double lean : {-0.1, 0.0, 0.05, 0.1}) {
            Drawing d;
            d.board.width_mm = d.board.length_mm = 400;
            d.board.first_edge_rad = lean;
            d.board.trim_mm = 45;  // so much that the lean is gone after four cuts
            d.fence.length_mm = 1000;
            Truth t = skewed(5e-4);
            t.edge_bow_mm = bow;
            t.blade_toe_rad = 1e-3;
            const FiveCut test = five_cut(d, t, {});
            REQUIRE(test.outcome == Outcome::done);
            CHECK(std::abs(taper(test) - law(test, 5e-4, Side::left)) < 1e-9);
        }
    }
}

TEST_CASE(
    "a big board that leans a lot is clear of the blade before the push begins, so that toe stays out of the corner") {
    // Leaning to the left by 150 mm, the board reaches 150 mm further along the feed once it is turned.
    Drawing d = long_table();
    d.board.width_mm = d.board.length_mm = 1500;
    d.board.trim_mm = 20;
    d.sled.width_mm = d.fence.length_mm = 4000;
    Truth t = skewed(5e-4);
    for (const double lean : {-0.1, -0.05, 0.01}) {
        d.board.first_edge_rad = lean;
        for (const double toe : {2e-3, -2e-3}) {
            t.blade_toe_rad = toe;
            const FiveCut test = five_cut(d, t, {});
            REQUIRE(test.outcome == Outcome::done);
            CHECK(std::abs(taper(test) - law(test, 5e-4, Side::left)) < 1e-9);
            for (std::size_t c = 0; c < 5; ++c)
                CHECK(test.cuts[c].kerf_mm ==
                      doctest::Approx(3.2 * std::cos(toe) + 213.54156504062622 * std::sin(std::abs(toe))));
        }
    }
}

TEST_CASE("stopping short lets the toe into every corner") {
    // Toe > 0, kept left: the left face leans like the blade on the part that had not passed the far end of the chord
    // (kerf_test.cpp), here the lower part of the board. So the face leans to the left as it goes away from the fence,
    // and closes the corner. The face is hollow then, and rides on its ends.
    Drawing d;
    d.fence.length_mm = 800;
    const double toe = 1e-3, e = 3e-4, stop = 0;
    d.sled.stop_y_mm = stop;
    Truth t = skewed(e);
    t.blade_toe_rad = toe;
    const FiveCut test = five_cut(d, t, {});
    REQUIRE(test.outcome == Outcome::done);
    const double y_far = 213.54156504062622 / 2 * std::cos(toe) - 1.6 * std::sin(toe);
    for (std::size_t c = 1; c < 5; ++c) {
        const auto face = cut::chain_made_by(test.cuts[c].kept, static_cast<int>(c) + 1);
        const Vec2 low = face.front(), high = face.back();
        const double leak = std::tan(toe) * (y_far - stop - low.y);
        CHECK(high.x - low.x == doctest::Approx(-leak).epsilon(1e-9));
        // Corner: the fence's skew and the chord's lean.
        CHECK(test.cuts[c].corner_rad == doctest::Approx(e - std::atan(leak / (high.y - low.y))).epsilon(1e-6));
    }
    d.sled.stop_y_mm = y_far + 1;  // the fence past the far end, a millimetre for the skew
    CHECK(std::abs(taper(five_cut(d, t, {})) - law(five_cut(d, t, {}), e, Side::left)) < 1e-9);
}

TEST_CASE(
    "a sled that is pressed to no side goes in the middle: the strip lies between those of a hand on either side") {
    Draws r(2907);
    int seen = 0;
    for (int n = 0; n < repeats::of(200, 20); ++n) {
        CAPTURE(n);
        Truth t;
        // Slots that splay, and runners loose enough for it.
        t.slot_splay_rad = n == 0 ? 0.5e-3 : r.between(-6e-4, 6e-4);
        t.left_play_mm = n == 0 ? 0.4 : r.between(0.25, 0.5);
        t.right_play_mm = n == 0 ? 0.4 : t.left_play_mm;
        const FiveCut left = five_cut({}, t, {}, {-1.0, 0.0});
        const FiveCut middle = five_cut({}, t, {}, {0.0, 0.0});
        const FiveCut right = five_cut({}, t, {}, {1.0, 0.0});
        if (!left.strip || !middle.strip || !right.strip) continue;
        ++seen;
        const double least = std::min(taper(left), taper(right));
        const double most = std::max(taper(left), taper(right));
        CHECK(taper(middle) >= least - 1e-6);
        CHECK(taper(middle) <= most + 1e-6);
    }
    CHECK(seen > repeats::of(150, 10));
}
