#include "base/profile.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <vector>

using namespace offsquare::base;

namespace {

Profile made(const std::vector<Vec2>& points) {
    Profile::Points p;
    for (const Vec2 q : points) p.push_back(q);
    return Profile(p);
}

Profile some_profile(std::mt19937_64& engine, int n) {
    std::uniform_real_distribution<double> gap(0.5, 40.0);
    std::uniform_real_distribution<double> departure(-1.0, 1.0);
    std::vector<Vec2> points;
    double t = departure(engine) * 50.0;
    for (int i = 0; i < n; ++i) {
        points.push_back({t, departure(engine)});
        t += gap(engine);
    }
    return made(points);
}

}  // namespace

TEST_CASE("a profile is straight between its points and level beyond them") {
    const Profile p = made({{0.0, 0.0}, {100.0, 0.2}, {300.0, -0.2}});
    CHECK(p.at(50.0) == doctest::Approx(0.1));
    CHECK(p.at(100.0) == 0.2);
    CHECK(p.at(200.0) == doctest::Approx(0.0));
    CHECK(p.at(-5.0) == 0.0);
    CHECK(p.at(1e6) == -0.2);
    CHECK(Profile().at(12.0) == 0.0);
    CHECK(Profile().straight());
    CHECK_FALSE(p.straight());
}

TEST_CASE("a bow is a shallow circle: its points agree with the circle through both ends and the middle") {
    // Sagitta h on a chord c: radius c^2/(8h) + h/2; the parabola departs from the circle by about h^3/c^2, here 1e-8
    // mm.
    const double c = 600.0;
    const double h = 0.15;
    const double radius = c * c / (8.0 * h) + h / 2.0;
    const Profile bow = Profile::bow(-100.0, 500.0, h, 33);
    CHECK(bow.points().size() == 33);
    for (const Vec2 q : bow.points()) {
        const double from_middle = q.x - 200.0;
        const double circle =
            h - from_middle * from_middle / (radius + std::sqrt(radius * radius - from_middle * from_middle));
        CHECK(std::fabs(q.y - circle) < 1e-7);
    }
    CHECK(bow.at(200.0) == doctest::Approx(h));
    CHECK(bow.at(-100.0) == 0.0);
    CHECK(bow.at(500.0) == 0.0);
    CHECK(Profile::bow(0.0, 10.0, -0.1).at(5.0) == doctest::Approx(-0.1));
}

TEST_CASE("the sum of two profiles is their sum everywhere, not only at the points") {
    std::mt19937_64 engine(99);
    std::uniform_real_distribution<double> where(-100.0, 500.0);
    for (int round = 0; round < 60; ++round) {
        const Profile a = some_profile(engine, 1 + round % 7);
        const Profile b = some_profile(engine, 1 + round % 5);
        const Profile s = sum(a, b);
        for (std::size_t i = 1; i < s.points().size(); ++i) CHECK(s.points()[i - 1].x < s.points()[i].x);
        for (int i = 0; i < 50; ++i) {
            const double t = where(engine);
            CHECK(std::fabs(s.at(t) - (a.at(t) + b.at(t))) < 1e-13);  // values up to 2, a few roundings each
            CHECK(s.at(t) == sum(b, a).at(t));
        }
    }
}

TEST_CASE("shared points appear once, and a straight part adds nothing") {
    const Profile a = made({{0.0, 1.0}, {10.0, 2.0}});
    const Profile b = made({{0.0, 0.5}, {5.0, 0.0}, {10.0, 0.5}});
    const Profile s = sum(a, b);
    CHECK(s.points().size() == 3);
    CHECK(s.at(5.0) == doctest::Approx(1.5));
    CHECK(sum(a, Profile()).points() == a.points());
    CHECK(sum(Profile(), a).points() == a.points());
    CHECK(sum(Profile(), Profile()).straight());
}

TEST_CASE("a wave rises at zero, keeps its height, and lies within 2 % of its height of a sine") {
    const double height = 0.08, length = 180.0;
    const Profile wave = Profile::wave(-400.0, 400.0, height, length);
    CHECK(wave.at(0.0) == doctest::Approx(0.0));
    CHECK(wave.at(length / 4) == doctest::Approx(height / 2).epsilon(1e-12));
    CHECK(wave.at(-length / 4) == doctest::Approx(-height / 2).epsilon(1e-12));
    for (double t = -390.0; t <= 390.0; t += 1.7) {
        // The chord of a sine over a twelfth of its wave sags by half height * (1 - cos(pi/12)) = 0.017 height at most.
        CHECK(std::abs(wave.at(t) - 0.5 * height * std::sin(2.0 * std::acos(-1.0) * t / length)) < 0.0175 * height);
    }
}
