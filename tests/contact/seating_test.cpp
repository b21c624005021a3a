// The board on the fence against closed forms, and against the definition itself: nowhere inside the fence, touching on
// both sides of the push.
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "contact/draws.h"
#include "contact/seating.h"
#include "shop/truth.h"

using namespace offsquare;
using base::Profile;
using base::Vec2;
using contact::FenceFace;
using contact::Seat;
using shop::Drawing;
using shop::Side;
using shop::Truth;

namespace {

using Points = std::vector<Vec2>;

FenceFace face_of(double slope, double offset, double half, const Profile& profile = {}) {
    return {slope, offset, -half, half, profile};
}

Points points_of(const Profile& profile) { return {profile.points().begin(), profile.points().end()}; }

double direction(const Seat& seat, const Points& edge) {
    const Vec2 a = seat.X_SW * edge.front(), b = seat.X_SW * edge.back();
    return std::atan2(b.y - a.y, b.x - a.x);
}

/// y of a polyline with increasing x, and whether x is on it.
bool on(const Points& line, double x, double& y) {
    for (std::size_t i = 1; i < line.size(); ++i) {
        if (x < line[i - 1].x || x > line[i].x) continue;
        y = line[i - 1].y + (line[i].y - line[i - 1].y) * (x - line[i - 1].x) / (line[i].x - line[i - 1].x);
        return true;
    }
    return false;
}

/// The face as a polyline, x along the fence's own line (here level), and so the edge.
Points fence_points(const FenceFace& face) {
    Points p{{face.from_mm, face.profile.at(face.from_mm)}};
    for (const Vec2& q : face.profile.points()) {
        if (q.x > face.from_mm && q.x < face.to_mm) p.push_back(q);
    }
    p.push_back({face.to_mm, face.profile.at(face.to_mm)});
    return p;
}

struct Gap {
    double least = 1e9;        ///< over all points of both that face each other
    double touch_left = 1e9;   ///< least gap left of the push
    double touch_right = 1e9;  ///< and right
};

Gap gap_between(const Points& fence, const Points& edge) {
    Gap gap;
    const double push = 0.5 * (std::max(fence.front().x, edge.front().x) + std::min(fence.back().x, edge.back().x));
    const auto look = [&](double x) {
        double f = 0, e = 0;
        if (!on(fence, x, f) || !on(edge, x, e)) return;
        gap.least = std::min(gap.least, e - f);
        // A touching point right under the push counts on both sides; 1e-3 mm covers the turn of the board.
        if (x <= push + 1e-3) gap.touch_left = std::min(gap.touch_left, e - f);
        if (x >= push - 1e-3) gap.touch_right = std::min(gap.touch_right, e - f);
    };
    for (const Vec2& p : fence) look(p.x);
    for (const Vec2& p : edge) look(p.x);
    return gap;
}

Points turned(const Points& points, double angle, Vec2 shift) {
    Points result;
    for (const Vec2& p : points)
        result.push_back({shift.x + std::cos(angle) * p.x - std::sin(angle) * p.y,
                          shift.y + std::sin(angle) * p.x + std::cos(angle) * p.y});
    return result;
}

}  // namespace

TEST_CASE("a straight edge lies along a straight fence, its corner where it was put, however the board came") {
    Draws r(31);
    for (int round = 0; round < 500; ++round) {
        const FenceFace face = face_of(r.between(-0.02, 0.02), r.between(-3, 3), 280);
        const Points edge = turned({{0, 0}, {r.between(20, 270), 0}}, r.between(-3.1, 3.1),
                                   {r.between(-400, 400), r.between(-400, 400)});
        const Side corner = r.coin() ? Side::right : Side::left;
        const double x = corner == Side::right ? r.between(-8, 250) : r.between(-250, 8);
        const auto seat = contact::seat_on_fence(face, edge, corner, x);
        REQUIRE(seat);
        CHECK(std::abs(direction(*seat, edge) - std::atan(face.slope)) < 1e-13);
        const Vec2 p = seat->X_SW * (corner == Side::right ? edge.back() : edge.front());
        CHECK(std::abs(p.x - x) < 1e-10);
        CHECK(std::abs(p.y - (face.slope * x + face.offset_mm)) < 1e-10);
        // A pose keeps lengths and does not turn the board over.
        CHECK(std::abs(seat->X_SW.r.c * seat->X_SW.r.c + seat->X_SW.r.s * seat->X_SW.r.s - 1) < 1e-14);
        CHECK(seat->left_contact_mm < seat->right_contact_mm);
    }
}

TEST_CASE("the face turns about the right shim point by the skew and moves its ends by the shims") {
    Draws r(32);
    for (int round = 0; round < 200; ++round) {
        Drawing d;
        d.fence.shim_left_x_mm = -r.between(50, 280);
        d.fence.shim_right_x_mm = r.between(50, 280);
        Truth t;
        t.fence_skew_rad = r.between(-0.02, 0.02);
        const contact::Shims shims{r.between(0, 1), r.between(0, 1)};
        const FenceFace face = contact::fence_face(d, t, shims);
        const auto y_at = [&](double x) { return face.slope * x + face.offset_mm; };
        CHECK(y_at(d.fence.shim_right_x_mm) == doctest::Approx(shims.right_mm));
        // Positive skew: the left end is too near the operator, who stands at -y.
        CHECK(y_at(d.fence.shim_left_x_mm) ==
              doctest::Approx(shims.left_mm - d.fence.span_mm() * std::tan(t.fence_skew_rad)));
        CHECK(face.slope ==
              doctest::Approx(std::tan(t.fence_skew_rad) + (shims.right_mm - shims.left_mm) / d.fence.span_mm()));
    }
}

TEST_CASE("the ideal shim squares the fence exactly, at the other end it doubles the error") {
    for (const double skew : {1e-5, 5e-4, 3e-3, 0.02}) {
        Drawing d;
        Truth t;
        t.fence_skew_rad = skew;
        const double shim = d.fence.span_mm() * std::tan(skew);
        CHECK(std::abs(contact::fence_face(d, t, {shim, 0}).slope) < 1e-17);
        CHECK(contact::fence_face(d, t, {0, shim}).slope == doctest::Approx(2 * std::tan(skew)));
        t.fence_skew_rad = -skew;
        CHECK(std::abs(contact::fence_face(d, t, {0, shim}).slope) < 1e-17);
        CHECK(contact::fence_face(d, t, {shim, 0}).slope == doctest::Approx(-2 * std::tan(skew)));
    }
}

TEST_CASE(
    "on a hollow fence the board rides on its two ends, on a bellied one it lies along the tangent under the push") {
    // Parabola f = -+s*(1 - (2x/F)^2) over F = 640: slope of the chord from x1 to x2 is +4s(x1 + x2)/F^2 (hollow); of
    // the tangent at their middle, -4s(x1 + x2)/F^2 (bellied). The first is exact at the bow's 33 points, every 20 mm;
    // the second everywhere.
    for (const double s : {0.01, 0.1, 0.5}) {
        for (const double x1 : {-300.0, -200.0, -100.0}) {
            const double x2 = 20.0;
            Drawing d;
            d.fence.length_mm = 640;
            Truth t;
            t.fence_bow_mm = -s;
            const Points edge{{0, 0}, {x2 - x1, 0}};
            const auto hollow = contact::seat_on_fence(contact::fence_face(d, t, {}), edge, Side::right, x2);
            const double slope = 4 * s * (x1 + x2) / (640.0 * 640.0);
            // The chord turns by up to 1.4e-3, which shortens its shadow on x by 3e-4 mm of 320: the slope by about
            // 1e-9.
            CHECK(std::abs(direction(*hollow, edge) - slope) < 2e-9);
            CHECK(hollow->left_contact_mm == doctest::Approx(x1).epsilon(1e-5));
            CHECK(hollow->right_contact_mm == doctest::Approx(x2));
        }
        for (const double x1 : {-300.0, -220.0, -200.0, -107.3}) {
            const double x2 = 0.0;  // middles -150 and -110, half way between two points; -100, on one; -53.65
            Drawing d;
            d.fence.length_mm = 640;
            Truth t;
            t.fence_bow_mm = s;
            const Points edge{{0, 0}, {x2 - x1, 0}};
            const auto bellied = contact::seat_on_fence(contact::fence_face(d, t, {}), edge, Side::right, x2);
            CHECK(std::abs(direction(*bellied, edge) + std::atan(4 * s * (x1 + x2) / (640.0 * 640.0))) < 1e-12);
            CHECK(bellied->left_contact_mm == doctest::Approx(0.5 * (x1 + x2)));
            CHECK(bellied->right_contact_mm == doctest::Approx(0.5 * (x1 + x2)));
        }
    }
}

TEST_CASE("a hollow edge rides on its ends, a bellied edge on the part under the push") {
    Points edge;
    for (int i = 0; i <= 32; ++i)
        edge.push_back({10.0 * i, 0.3 * 4 * (i / 32.0) * (1 - i / 32.0)});  // the inside of the board is up: hollow
    const FenceFace face = face_of(0, 0, 400);
    CHECK(std::abs(direction(*contact::seat_on_fence(face, edge, Side::right, 8), edge)) < 1e-13);
    // Bellied and pushed at its crown, which is a corner of the broken line: balanced, so level, and neither rounding
    // nor the way it came tilts it.
    for (Vec2& p : edge) p.y = -p.y;
    for (const double angle : {0.0, 0.4, 1.3, -2.2, 3.0}) {
        const Points placed = turned(edge, angle, {17.3, -5.1});
        const auto balanced = contact::seat_on_fence(face, placed, Side::right, 8);
        CHECK(std::abs(direction(*balanced, placed)) < 1e-13);
        CHECK(balanced->left_contact_mm == doctest::Approx(8 - 160));
    }
    // Pushed 40 mm left of its crown, because the fence ends there, it lies on the part there: slope of the bow,
    // 4*s/l*(1 - 2u) at u = 115/320.
    const auto tilted =
        contact::seat_on_fence(face_of(0, 0, 120), edge, Side::right, 210);  // edge from -110 to 210, fence to 120
    CHECK(direction(*tilted, edge) == doctest::Approx(4 * 0.3 / 320 * (1 - 2 * 115.0 / 320)).epsilon(1e-6));
}

TEST_CASE("wandering fences and edges: nowhere inside, touching on both sides of the push") {
    Draws r(33);
    for (int round = 0; round < 2000; ++round) {
        const double size = r.between(0.005, 0.2);
        const FenceFace face = face_of(0, 0, 280, r.coin() ? r.wavy(-280, 280, size) : r.rough(-280, 280, size / 8));
        const double length = r.between(60, 400);
        const Points edge = r.whole(0, 2) == 0
                                ? Points{{0, 0}, {length, 0}}
                                : points_of(r.coin() ? r.wavy(0, length, size) : r.rough(0, length, size / 8));
        const Points placed = turned(edge, r.between(-3.1, 3.1), {r.between(-300, 300), r.between(-300, 300)});
        const bool right = r.coin();
        const double corner = r.between(-10, 10) + (r.coin() ? 200.0 : 0.0);
        const auto seat =
            contact::seat_on_fence(face, placed, right ? Side::right : Side::left, right ? corner : -corner);
        REQUIRE(seat);
        Points lying;
        for (const Vec2& p : placed) lying.push_back(seat->X_SW * p);
        const Gap gap = gap_between(fence_points(face), lying);
        // The seat is exact to the second order of the bows' slopes: the board turns by up to 2*size/60 = 7e-3 at
        // worst, points shift along the fence by that times 0.2 mm plus 400*(7e-3)^2/2 = 0.01 mm, on slopes of up to
        // 0.01 for the worst, 1e-3 for most: 1e-4 and 1e-5 mm.
        CHECK(gap.least > -1e-4);
        CHECK(gap.touch_left < 1e-4);
        CHECK(gap.touch_right < 1e-4);
    }
}

TEST_CASE("small bows: the same to a millionth of a millimetre") {
    // Bows of 0.01 mm over 60 mm and more: turns below 1e-3, shifts below 1e-5 + 2e-4 mm, slopes below 1e-3: 2e-7 mm.
    Draws r(34);
    for (int round = 0; round < 500; ++round) {
        const FenceFace face = face_of(0, 0, 280, r.wavy(-280, 280, 0.01));
        const double length = r.between(60, 400);
        const Points edge = points_of(r.wavy(0, length, 0.01));
        const auto seat = contact::seat_on_fence(face, edge, Side::right, r.between(-10, 200));
        REQUIRE(seat);
        Points lying;
        for (const Vec2& p : edge) lying.push_back(seat->X_SW * p);
        const Gap gap = gap_between(fence_points(face), lying);
        CHECK(gap.least > -1e-6);
        CHECK(gap.touch_left < 1e-6);
        CHECK(gap.touch_right < 1e-6);
    }
}

TEST_CASE("skew and bow add: turning the whole fence turns the seat with it") {
    Draws r(35);
    for (int round = 0; round < 200; ++round) {
        const Profile profile = r.wavy(-280, 280, 0.05);
        const double length = r.between(60, 270);
        const Points edge{{0, 0}, {length, 0}};
        const double slope = r.between(-0.01, 0.01);
        const auto level = contact::seat_on_fence(face_of(0, 0, 280, profile), edge, Side::right, 9);
        const auto skewed = contact::seat_on_fence(face_of(slope, 0, 280, profile), edge, Side::right, 9);
        // The profile goes by x, the board by its length: they part by 270*slope^2/2 = 0.014 mm at most, on slopes of
        // bow below 2e-3 and kinks at every 17 mm.
        CHECK(direction(*skewed, edge) - direction(*level, edge) ==
              doctest::Approx(std::atan(slope)).epsilon(2e-3).scale(1e-3));
    }
}

TEST_CASE("mirror law: fence, edge and corner mirrored, the board lies mirrored") {
    Draws r(36);
    for (int round = 0; round < 500; ++round) {
        FenceFace face = face_of(r.between(-0.01, 0.01), r.between(-1, 1), 280, r.wavy(-280, 280, 0.1));
        const double length = r.between(60, 270);
        const Points edge = points_of(r.wavy(0, length, 0.1));
        FenceFace mirror_face = face;
        mirror_face.slope = -face.slope;
        Profile::Points flipped;
        for (auto it = face.profile.points().rbegin(); it != face.profile.points().rend(); ++it)
            flipped.push_back({-it->x, it->y});
        const Profile mirror_profile(flipped);
        mirror_face.profile = mirror_profile;
        Points mirror_edge;
        for (auto it = edge.rbegin(); it != edge.rend(); ++it) mirror_edge.push_back({-it->x, it->y});
        const double x = r.between(-8, 100);
        const auto one = contact::seat_on_fence(face, edge, Side::right, x);
        const auto other = contact::seat_on_fence(mirror_face, mirror_edge, Side::left, -x);
        REQUIRE(one);
        REQUIRE(other);
        CHECK(std::abs(direction(*one, edge) + direction(*other, mirror_edge)) < 1e-12);
        for (std::size_t i = 0; i < edge.size(); ++i) {
            const Vec2 p = one->X_SW * edge[i], q = other->X_SW * mirror_edge[edge.size() - 1 - i];
            CHECK(std::abs(p.x + q.x) < 1e-9);
            CHECK(std::abs(p.y - q.y) < 1e-9);
        }
    }
}

TEST_CASE("beside the fence there is no seat; hanging over its end there is") {
    const FenceFace face = face_of(1e-3, 0, 280);
    const Points edge{{0, 0}, {100, 0}};
    CHECK_FALSE(contact::seat_on_fence(face, edge, Side::right, -281));
    CHECK_FALSE(contact::seat_on_fence(face, edge, Side::right, -279.5));  // half a millimetre is no seat
    CHECK(contact::seat_on_fence(face, edge, Side::right, -278));
    CHECK_FALSE(contact::seat_on_fence(face, edge, Side::left, 281));
    CHECK(contact::seat_on_fence(face, edge, Side::left, 200));
    const auto over = contact::seat_on_fence(face, edge, Side::left, 200);
    CHECK(over->right_contact_mm == doctest::Approx(280));
}
