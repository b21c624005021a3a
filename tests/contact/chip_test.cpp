// A chip between board and fence: triangles, symmetry, and brute force over all the ways in which a rigid board could
// lie.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "contact/draws.h"
#include "contact/seating.h"

using namespace offsquare;
using base::Profile;
using base::Vec2;
using contact::Chip;
using contact::FenceFace;
using shop::Side;

namespace {

using Points = std::vector<Vec2>;

FenceFace level(const Profile& profile = {}) { return {0.0, 0.0, -280.0, 280.0, profile}; }

struct Lies {
    double direction = 0.0;
    Vec2 left, right;  // ends of the edge in S
};
Lies lies(const FenceFace& face, const Points& edge, double corner_x, const std::optional<Chip>& chip,
          Side corner = Side::right) {
    const auto seat = contact::seat_on_fence(face, edge, corner, corner_x, chip);
    REQUIRE(seat);
    const Vec2 a = seat->X_SW * edge.front(), b = seat->X_SW * edge.back();
    return {std::atan2(b.y - a.y, b.x - a.x), a, b};
}

double y_of(const Points& line, double x) {
    std::size_t i = 1;
    while (i + 1 < line.size() && line[i].x < x) ++i;
    return line[i - 1].y + (line[i].y - line[i - 1].y) * (x - line[i - 1].x) / (line[i].x - line[i - 1].x);
}

/// The board's edge over the face, both as heights over places along the fence, with a bump on the face that the edge
/// must clear: the lowest place that the push at `push` can bring the board to, by looking at every slope. For one
/// slope the board comes down until something touches.
double slope_by_force(const Points& face, const Points& edge, double chip_at, double chip_mm, double push) {
    Points all;
    for (const Points* line : {&face, &edge}) {
        for (const Vec2 p : *line) {
            if (p.x < std::max(face.front().x, edge.front().x) - 1e-12 ||
                p.x > std::min(face.back().x, edge.back().x) + 1e-12)
                continue;
            all.push_back({p.x, y_of(face, p.x) - y_of(edge, p.x)});
        }
    }
    all.push_back({chip_at, y_of(face, chip_at) - y_of(edge, chip_at) + chip_mm});
    const auto height = [&](double slope) {
        double h = -1e9;
        for (const Vec2 p : all) h = std::max(h, p.y - slope * (p.x - push));
        return h;
    };
    // Height over slope is convex: thirds.
    double lo = -0.1, hi = 0.1;
    for (int i = 0; i < 200; ++i) {
        const double a = lo + (hi - lo) / 3, b = hi - (hi - lo) / 3;
        (height(a) < height(b) ? hi : lo) = height(a) < height(b) ? b : a;
    }
    return 0.5 * (lo + hi);
}

}  // namespace

TEST_CASE("a straight board on a straight fence and a chip: the triangle of chip and far end") {
    Draws r(911);
    for (int round = 0; round < 400; ++round) {
        const double length = r.between(40, 260), d = r.between(0.01, 1.0), at = r.between(0, 1);
        const Points edge{{0, 0}, {length, 0}};
        const Lies board = lies(level(), edge, 8, Chip{at, d});
        // Pressed in the middle, the board touches the chip and the end that is further from it.
        const double expected = at > 0.5 ? std::atan(d / (at * length)) : -std::atan(d / ((1 - at) * length));
        CHECK(std::abs(board.direction - expected) < 1e-13);
        CHECK(board.right.x == doctest::Approx(8.0).epsilon(1e-12));
        // That end is on the fence, but for what the board's shadow on the fence is shorter: L*(tan t - sin t) =
        // L*t^3/2.
        CHECK(std::abs(at > 0.5 ? board.left.y : board.right.y) <
              0.51 * length * std::pow(std::abs(expected), 3) + 1e-12);
        // The chip stands d off the fence under the edge: similar triangles, cosines of 0.05 apart.
        CHECK((at > 0.5 ? board.right.y * at : board.left.y * (1 - at)) == doctest::Approx(d).epsilon(2e-3).scale(0));
    }
}

TEST_CASE("a chip at the very ends, in the middle, and to either side of it") {
    const Points edge{{0, 0}, {200, 0}};
    CHECK(lies(level(), edge, 8, Chip{1.0, 0.4}).direction == doctest::Approx(std::atan(0.4 / 200)).epsilon(1e-12));
    CHECK(lies(level(), edge, 8, Chip{0.0, 0.4}).direction == doctest::Approx(-std::atan(0.4 / 200)).epsilon(1e-12));
    const Lies middle = lies(level(), edge, 8, Chip{0.5, 0.4});
    CHECK(std::abs(middle.direction) < 1e-15);  // balanced, so level
    CHECK(middle.left.y == doctest::Approx(0.4).epsilon(1e-12));
    CHECK(middle.right.y == doctest::Approx(0.4).epsilon(1e-12));
    CHECK(lies(level(), edge, 8, Chip{0.5 + 1e-6, 0.4}).direction == doctest::Approx(0.4 / 100).epsilon(1e-4).scale(0));
    CHECK(lies(level(), edge, 8, Chip{0.5 - 1e-6, 0.4}).direction ==
          doctest::Approx(-0.4 / 100).epsilon(1e-4).scale(0));
}

TEST_CASE("only what lies on the fence counts: a board that hangs over its end") {
    // Fence to 280, board from 100 to 400: it bears on 180 mm. A chip at 3/4 of that, 135 mm from the left end.
    const Points edge{{0, 0}, {300, 0}};
    CHECK(lies(level(), edge, 100, Chip{0.75, 0.3}, Side::left).direction ==
          doctest::Approx(std::atan(0.3 / 135)).epsilon(1e-10));
    // In the left quarter it is 45 from the left end and 135 from where the fence ends.
    CHECK(lies(level(), edge, 100, Chip{0.25, 0.3}, Side::left).direction ==
          doctest::Approx(-std::atan(0.3 / 135)).epsilon(1e-10));
}

TEST_CASE("a chip of no thickness is none") {
    Draws r(912);
    for (int round = 0; round < 300; ++round) {
        const FenceFace face = level(r.wavy(-280, 280, 0.05));
        const Profile bent = r.wavy(0, r.between(60, 250), 0.05);
        const Points edge(bent.points().begin(), bent.points().end());
        const double corner = r.between(0, 30);
        const Lies with = lies(face, edge, corner, Chip{round % 3 == 0 ? 0.5 : r.between(0, 1), 0.0}),
                   without = lies(face, edge, corner, std::nullopt);
        CHECK(std::abs(with.direction - without.direction) < 1e-12);
        CHECK(std::abs(with.left.y - without.left.y) < 1e-11);
    }
}

TEST_CASE("mirror law: the chip at the other side turns the board the other way") {
    Draws r(913);
    for (int round = 0; round < 300; ++round) {
        const double length = r.between(60, 250), at = r.between(0, 1), d = r.between(0.01, 0.3),
                     corner = r.between(0, 20);
        const Profile profile = r.wavy(-280, 280, 0.05);
        Profile::Points flipped;
        for (auto it = profile.points().rbegin(); it != profile.points().rend(); ++it)
            flipped.push_back({-it->x, it->y});
        const Points edge{{0, 0}, {length, 0}};
        const Lies one = lies(level(profile), edge, corner, Chip{at, d});
        const Profile mirror(flipped);
        const Lies other = lies(level(mirror), edge, -corner, Chip{1 - at, d}, Side::left);
        CHECK(std::abs(one.direction + other.direction) < 1e-11);
        CHECK(std::abs(one.left.y - other.right.y) < 1e-10);
    }
}

TEST_CASE("bent boards on wavy fences with a chip: brute force over every slope") {
    Draws r(914);
    int turned_by_chip = 0;
    for (int round = 0; round < 500; ++round) {
        const double size = r.between(0.005, 0.03), length = r.between(80, 250), d = r.between(0.005, 0.2);
        const FenceFace face = level(round % 2 ? r.rough(-280, 280, size, 17) : r.wavy(-280, 280, size));
        Profile::Points bent;
        const Profile shape = r.wavy(0, length, size, 11);
        for (const Vec2 p : shape.points()) bent.push_back(p);
        bent.front().y = bent.back().y = 0.0;  // so that its chord lies along x
        const Points edge(bent.begin(), bent.end());
        const double corner = r.between(0, 20), from = corner - length, at = r.between(0, 1);
        Points above;
        for (const Vec2 p : edge) above.push_back({p.x + from, p.y});
        const Points below(face.profile.points().begin(), face.profile.points().end());
        const double slope = slope_by_force(below, above, from + at * length, d, from + 0.5 * length);
        const Lies board = lies(face, edge, corner, Chip{at, d});
        // A board that turns by up to d/40 = 5e-3 shifts its own bends along the fence by (5e-3)^2/2*250 + 5e-3*0.03 =
        // 3e-3 mm, on slopes of up to 4e-3, over 40 mm: 3e-7.
        CHECK(std::abs(board.direction - slope) < 5e-7);
        if (std::abs(board.direction - lies(face, edge, corner, std::nullopt).direction) > 1e-4) ++turned_by_chip;
    }
    CHECK(turned_by_chip > 200);
}
