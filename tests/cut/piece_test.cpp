// Cutting polygons against Boost.Geometry, published areas, and against what a cut must leave alone.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>

// Boost 1.74 otherwise places crossings on a grid of whole numbers, which costs all but seven digits.
#define BOOST_GEOMETRY_NO_ROBUSTNESS
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

#include "area.h"
#include "contact/draws.h"
#include "cut/piece.h"

using namespace offsquare;
using base::Vec2;
using cut::Face;
using cut::Piece;
namespace bg = boost::geometry;
using BgPoint = bg::model::d2::point_xy<double>;
using BgPolygon = bg::model::polygon<BgPoint, false>;  // counter-clockwise, closed
using BgParts = std::vector<BgPolygon>;

namespace {

std::optional<cut::Piece> part_of(const cut::Piece& piece, const cut::Face& face, shop::Side side, int cut) {
    std::optional<cut::Piece> part(std::in_place);
    if (!cut::take_part(piece, face, side, cut, *part)) part.reset();
    return part;
}
std::optional<cut::Piece> part_left_of(const cut::Piece& piece, const cut::Face& face, int cut) {
    return part_of(piece, face, shop::Side::left, cut);
}
std::optional<cut::Piece> part_right_of(const cut::Piece& piece, const cut::Face& face, int cut) {
    return part_of(piece, face, shop::Side::right, cut);
}

Piece piece_of(const std::vector<Vec2>& points) {
    Piece piece;
    for (const Vec2& p : points) piece.push_back({p, 0});
    return piece;
}

BgPolygon polygon_of(const std::vector<Vec2>& points) {
    BgPolygon polygon;
    for (const Vec2& p : points) bg::append(polygon.outer(), BgPoint(p.x, p.y));
    bg::correct(polygon);
    return polygon;
}

std::vector<Vec2> points_of(const Piece& piece) {
    std::vector<Vec2> points;
    for (const cut::Corner& c : piece) points.push_back(c.p);
    return points;
}

/// x of a face at y by its own search, outer parts going on.
double face_x(const Face& face, double y) {
    std::size_t i = 1;
    while (i + 1 < face.size() && face[i].y < y) ++i;
    const double f = (y - face[i - 1].y) / (face[i].y - face[i - 1].y);
    return (1 - f) * face[i - 1].x + f * face[i].x;
}

/// Everything left of the face, as far as matters here.
BgPolygon left_of_face(const Face& face) {
    constexpr double far = 3000;
    std::vector<Vec2> points{{-far, -far}, {face_x(face, -far), -far}};
    for (const Vec2& p : face) points.push_back(p);
    points.push_back({face_x(face, far), far});
    points.push_back({-far, far});
    return polygon_of(points);
}

/// A convex board with different marks on its edges.
Piece random_board(Draws& r) {
    bg::model::multi_point<BgPoint> cloud;
    const int n = r.whole(3, 14);
    for (int i = 0; i < n; ++i) bg::append(cloud, BgPoint(r.between(-300, 300), r.between(-300, 300)));
    BgPolygon hull;
    bg::convex_hull(cloud, hull);
    Piece board;
    for (std::size_t i = 0; i + 1 < hull.outer().size(); ++i)
        board.push_back({{hull.outer()[i].x(), hull.outer()[i].y()}, 100 + static_cast<int>(i)});
    return board;
}

Face straight_face(Draws& r) {
    const double x = r.between(-250, 250), lean = r.between(-0.5, 0.5);
    return {{x - 200 * lean, -200}, {x + 200 * lean, 200}};
}

Face wandering_face(Draws& r) {
    const double x = r.between(-250, 250), lean = r.between(-0.2, 0.2);
    Face face;
    const base::Profile wave = r.wavy(-320, 320, r.between(0, 5));
    for (const Vec2& p : wave.points()) face.push_back({x + lean * p.x + p.y, p.x});
    return face;
}

double area_of(const BgParts& parts) {
    double sum = 0;
    for (const BgPolygon& p : parts) sum += bg::area(p);
    return sum;
}

double distance_to_line(Vec2 p, Vec2 a, Vec2 b) {
    return std::abs((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / std::hypot(b.x - a.x, b.y - a.y);
}

/// The marks of the kept piece: an old mark only along the old edge that bore it, the new one only along the face.
void check_marks(const Piece& board, const Face& face, const Piece& kept) {
    std::map<int, std::size_t> edge_of;
    for (std::size_t i = 0; i < board.size(); ++i) edge_of[board[i].made_by] = i;
    for (std::size_t i = 0; i < kept.size(); ++i) {
        const Vec2 a = kept[i].p, b = kept[(i + 1) % kept.size()].p;
        if (kept[i].made_by == 7) {
            CHECK(std::abs(face_x(face, a.y) - a.x) < 1e-9);
            CHECK(std::abs(face_x(face, b.y) - b.x) < 1e-9);
            continue;
        }
        const std::size_t e = edge_of.at(kept[i].made_by);
        const Vec2 p = board[e].p, q = board[(e + 1) % board.size()].p;
        CHECK(distance_to_line(a, p, q) < 1e-9);
        CHECK(distance_to_line(b, p, q) < 1e-9);
    }
}

/// One side of a cut against Boost.Geometry. Returns 1 when there was one part, 0 none, -1 more.
int check_side(const Piece& board, const Face& face, bool left) {
    BgParts parts;
    if (left) bg::intersection(polygon_of(points_of(board)), left_of_face(face), parts);
    else bg::difference(polygon_of(points_of(board)), left_of_face(face), parts);
    const auto mine = left ? part_left_of(board, face, 7) : part_right_of(board, face, 7);
    if (!mine) {
        CHECK_FALSE(cut::one_part(board, face, left ? shop::Side::left : shop::Side::right));
        // More than one part, or a face that touches so thinly that the library sees one.
        CHECK(parts.size() >= 1);
        return -1;
    }
    CHECK(cut::one_part(board, face, left ? shop::Side::left : shop::Side::right));
    const double whole = area::area_mm2(board);
    CHECK(std::abs(area::area_mm2(*mine) - area_of(parts)) < 1e-9 * whole);
    for (const cut::Corner& c : *mine) CHECK((left ? 1 : -1) * (face_x(face, c.p.y) - c.p.x) > -1e-9);
    check_marks(board, face, *mine);
    return parts.empty() ? 0 : 1;
}

}  // namespace

TEST_CASE("published areas") {
    // Boost.Geometry documentation, area and intersection examples' polygon; clockwise there, so turned round here.
    const Piece leaf = piece_of({{2, 0}, {4, 2}, {0, 7}, {0, 0}});
    CHECK(area::area_mm2(leaf) == doctest::Approx(16));
    // The same cut at y = 2.5; our faces stand upright, so the leaf is laid down by a quarter turn clockwise: (x, y)
    // goes to (y, -x).
    Piece laid;
    for (const cut::Corner& c : leaf) laid.push_back({{c.p.y, -c.p.x}, 0});
    const Face face{{2.5, -10}, {2.5, 10}};
    CHECK(area::area_mm2(*part_left_of(laid, face, 1)) == doctest::Approx(7.9));
    CHECK(area::area_mm2(*part_right_of(laid, face, 1)) == doctest::Approx(8.1));
    // Pick 1899: 6 points inside, 14 on the outline.
    CHECK(area::area_mm2(piece_of({{0, 0}, {4, 0}, {4, 3}, {0, 3}})) == doctest::Approx(6 + 14 / 2.0 - 1));
    CHECK(area::area_mm2(piece_of({{0, 3}, {4, 3}, {4, 0}, {0, 0}})) == doctest::Approx(-12));
    CHECK(area::area_mm2(piece_of({{0, 0}, {4, 0}})) == 0.0);
}

TEST_CASE("2,000 convex boards cut by straight faces, both parts as Boost.Geometry has them") {
    Draws r(41);
    int parted = 0;
    for (int round = 0; round < 2000; ++round) {
        const Piece board = random_board(r);
        const Face face = straight_face(r);
        const int left = check_side(board, face, true), right = check_side(board, face, false);
        CHECK(left >= 0);  // a straight face meets a convex board in two points at most
        CHECK(right >= 0);
        parted += left == 1 && right == 1;
    }
    CHECK(parted > 1000);
}

TEST_CASE("2,000 convex boards cut by faces of 33 points") {
    Draws r(42);
    int parted = 0, many = 0;
    for (int round = 0; round < 2000; ++round) {
        const Piece board = random_board(r);
        const Face face = wandering_face(r);
        const int left = check_side(board, face, true), right = check_side(board, face, false);
        CHECK((left == -1) == (right == -1));  // the outline is crossed as often, seen from either side
        parted += left == 1 && right == 1;
        many += left == -1;
    }
    CHECK(parted > 1000);
    CHECK(many < 100);
}

TEST_CASE("both parts and the kerf between make up the board") {
    Draws r(43);
    for (int round = 0; round < 500; ++round) {
        const Piece board = random_board(r);
        const Face left = round % 2 ? straight_face(r) : wandering_face(r);
        Face right(left);
        for (Vec2& p : right) p.x += 3.2;
        const auto a = part_left_of(board, left, 1);
        const auto b = part_right_of(board, right, 1);
        if (!a || !b) continue;
        const auto kerf_and_left = part_left_of(board, right, 1);
        if (!kerf_and_left) continue;
        const auto kerf = part_right_of(*kerf_and_left, left, 2);
        if (!kerf) continue;
        CHECK(std::abs(area::area_mm2(*a) + area::area_mm2(*b) + area::area_mm2(*kerf) - area::area_mm2(board)) <
              1e-9 * area::area_mm2(board));
    }
}

TEST_CASE("the chain of a cut is its face between the two places where it meets the outline, in outline order") {
    const Piece board{{{0, 0}, 11}, {{100, 0}, 12}, {{100, 80}, 13}, {{0, 80}, 14}};
    const Face face{{50, -10}, {51, 20}, {49, 40}, {52, 60}, {50, 90}};
    const auto left = cut::chain_made_by(*part_left_of(board, face, 7), 7);
    REQUIRE(left.size() == 5);  // counter-clockwise: up along the right side of the left part
    const double y[5] = {0, 20, 40, 60, 80};
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK(left[i].y == doctest::Approx(y[i]));
        CHECK(left[i].x == doctest::Approx(face_x(face, y[i])));
    }
    const auto right = cut::chain_made_by(*part_right_of(board, face, 7), 7);
    REQUIRE(right.size() == 5);
    for (std::size_t i = 0; i < 5; ++i) CHECK(right[i].y == doctest::Approx(y[4 - i]));
    const auto bottom = cut::chain_made_by(*part_left_of(board, face, 7), 11);
    REQUIRE(bottom.size() == 2);
    CHECK(bottom[0] == Vec2{0, 0});
    CHECK(bottom[1].x == doctest::Approx(face_x(face, 0)));
    CHECK(cut::chain_made_by(board, 7).empty());
    // An edge that begins at the last corner and goes on over the first.
    const Piece round_the_start{{{0, 0}, 5}, {{100, 0}, 12}, {{100, 80}, 13}, {{0, 80}, 13}, {{0, 40}, 5}};
    const auto over = cut::chain_made_by(round_the_start, 5);
    REQUIRE(over.size() == 3);
    CHECK(over[0] == Vec2{0, 40});
    CHECK(over[2] == Vec2{100, 0});
}

TEST_CASE("a straight face and the same face with a point more in its middle part alike") {
    // Two points are cut as a line; three are walked along as any face is.
    Draws r(46);
    for (int round = 0; round < 2000; ++round) {
        const Piece board = random_board(r);
        const Face straight = straight_face(r);
        const double at = r.between(0.1, 0.9);
        const Face same{straight[0], straight[0] + at * (straight[1] - straight[0]), straight[1]};
        const double whole = area::area_mm2(board);
        CHECK(std::abs(area::area_mm2(*part_left_of(board, straight, 7)) -
                       area::area_mm2(*part_left_of(board, same, 7))) < 1e-12 * whole);
        CHECK(std::abs(area::area_mm2(*part_right_of(board, straight, 7)) -
                       area::area_mm2(*part_right_of(board, same, 7))) < 1e-12 * whole);
    }
}

TEST_CASE("where there would be more than one part there is no value") {
    const Piece fork = piece_of({{0, 0}, {100, 0}, {100, 100}, {60, 100}, {50, 20}, {40, 100}, {0, 100}});
    const Face level_lean{{-100, 60}, {200, 61}};  // nearly level: cuts both prongs
    CHECK_FALSE(part_left_of(fork, level_lean, 1));
    CHECK_FALSE(part_right_of(fork, level_lean, 1));
    const Piece board = piece_of({{0, 0}, {100, 0}, {100, 80}, {0, 80}});
    const Face zigzag{{-5, 0}, {5, 20}, {-5, 40}, {5, 60}, {-5, 80}};
    CHECK_FALSE(part_left_of(board, zigzag, 1));
    CHECK_FALSE(part_right_of(board, zigzag, 1));
}

TEST_CASE("a face beside the board, through a corner, or along an edge") {
    const Piece board{{{0, 0}, 11}, {{100, 0}, 12}, {{100, 80}, 13}, {{0, 80}, 14}};
    const auto upright = [](double x) { return Face{{x, -10}, {x, 90}}; };
    CHECK(part_left_of(board, upright(-1), 7)->empty());
    CHECK(area::area_mm2(*part_right_of(board, upright(-1), 7)) == doctest::Approx(8000));
    CHECK(part_right_of(board, upright(101), 7)->empty());
    CHECK(area::area_mm2(*part_left_of(board, upright(101), 7)) == doctest::Approx(8000));
    // Along an edge: one part is the board, the other has no area; neither is lost.
    for (const double x : {0.0, 100.0}) {
        REQUIRE(part_left_of(board, upright(x), 7));
        REQUIRE(part_right_of(board, upright(x), 7));
        CHECK(area::area_mm2(*part_left_of(board, upright(x), 7)) == doctest::Approx(80 * x));
        CHECK(area::area_mm2(*part_right_of(board, upright(x), 7)) == doctest::Approx(80 * (100 - x)));
    }
    // Through one corner and out of the opposite one; and touching one corner from outside.
    const Face diagonal{{-100, -80}, {200, 160}};
    CHECK(area::area_mm2(*part_left_of(board, diagonal, 7)) == doctest::Approx(4000));
    CHECK(area::area_mm2(*part_right_of(board, diagonal, 7)) == doctest::Approx(4000));
    const Face past_corner{{-50, -40}, {50, 40}};
    Face outside(past_corner);
    for (Vec2& p : outside) p = {-p.x, p.y};  // leans the other way, through (0, 0)
    CHECK(area::area_mm2(*part_left_of(board, outside, 7)) == doctest::Approx(0));
    CHECK(area::area_mm2(*part_right_of(board, outside, 7)) == doctest::Approx(8000));
}

TEST_CASE("moving a piece keeps its area, its marks and its corners' distances") {
    Draws r(44);
    for (int round = 0; round < 200; ++round) {
        const Piece board = random_board(r);
        const double angle = r.between(-3, 3);
        const Piece there =
            cut::moved({{std::cos(angle), std::sin(angle)}, {r.between(-500, 500), r.between(-500, 500)}}, board);
        REQUIRE(there.size() == board.size());
        CHECK(area::area_mm2(there) == doctest::Approx(area::area_mm2(board)));
        for (std::size_t i = 0; i < board.size(); ++i) {
            CHECK(there[i].made_by == board[i].made_by);
            CHECK(norm(there[i].p - there[0].p) == doctest::Approx(norm(board[i].p - board[0].p)));
        }
    }
}

TEST_CASE("a face that surely parts a piece does part it in two, whichever face it is") {
    Draws r(58);
    int sure = 0, parted = 0;
    for (int round = 0; round < 4000; ++round) {
        // A board with hollow and rough edges, lying a little askew.
        const base::Profile low = r.rough(0, 300, r.between(0, 3), r.whole(2, 30)),
                            high = r.rough(0, 300, r.between(0, 3), r.whole(2, 30));
        std::vector<Vec2> points;
        for (const Vec2& p : low.points()) points.push_back({p.x, p.y});
        for (auto p = high.points().rbegin(); p != high.points().rend(); ++p)
            points.push_back({p->x + r.between(-0.1, 0.1), 200 + p->y});
        const Piece piece = piece_of(points);
        const double x = r.between(-20, 320), steepest = r.between(0, 0.05);
        const double off = 105 * steepest;  // from the middle, 100, to the ends and the roughness beyond
        // Any face within the promise: a saw-tooth between its steepest leans.
        Face face{{x, -5}};
        const double far = std::min(off, 50 * steepest);
        for (int i = 1; i <= 30; ++i) {
            const Vec2 last = face.back();
            const double rise = r.between(-1, 1) * steepest * 7;
            face.push_back({std::abs(last.x + rise - x) <= far ? last.x + rise : last.x, last.y + 7});
        }
        cut::Piece left, right;
        const bool two = cut::take_part(piece, face, shop::Side::left, 1, left) &&
                         cut::take_part(piece, face, shop::Side::right, 1, right) && !left.empty() && !right.empty();
        parted += two;
        if (!cut::surely_parts(piece, x, off, steepest)) continue;
        ++sure;
        CHECK(two);
    }
    CHECK(sure > 500);
    CHECK(sure < parted);  // it need not see all
    // Not parted: beside it. Not sure: an edge along the face.
    const Piece square = piece_of({{0, 0}, {100, 0}, {100, 100}, {0, 100}});
    CHECK(cut::surely_parts(square, 50, 1, 0.01));
    CHECK_FALSE(cut::surely_parts(square, 150, 1, 0.01));
    CHECK_FALSE(cut::surely_parts(square, -150, 1, 0.01));
    CHECK_FALSE(cut::surely_parts(square, 99.5, 1, 0.01));
    // A notch from the top, right where the face may pass: it would be crossed four times.
    CHECK_FALSE(cut::surely_parts(
        piece_of({{0, 0}, {100, 0}, {100, 100}, {60, 100}, {30, 50}, {60, 60}, {40, 100}, {0, 100}}), 50, 1, 0.01));
}
