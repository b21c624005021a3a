// Plane points, directions and poses. Notation: p_AQ is the point Q in frame A; X_AB is the pose of frame B in frame A,
// so that p_AQ = X_AB * p_BQ and X_AC = X_AB * X_BC. Frames: T table, S sled, F fence, W work (the board).
//
// A rotation is kept as its cosine and sine, never as an angle: composing and applying it then needs no library
// function whose last bit could differ between processors.
#pragma once

#include <cmath>

namespace offsquare::base {

/// A point or a free vector in the plane [mm]. x to the right, y in the direction of feed, seen from above.
struct Vec2 {
    double x = 0.0;
    double y = 0.0;
    friend constexpr Vec2 operator+(Vec2 a, Vec2 b) { return {a.x + b.x, a.y + b.y}; }
    friend constexpr Vec2 operator-(Vec2 a, Vec2 b) { return {a.x - b.x, a.y - b.y}; }
    friend constexpr Vec2 operator*(double k, Vec2 a) { return {k * a.x, k * a.y}; }
    friend constexpr bool operator==(Vec2 a, Vec2 b) = default;
};

constexpr double dot(Vec2 a, Vec2 b) { return a.x * b.x + a.y * b.y; }
/// Positive when b lies counter-clockwise of a.
constexpr double cross(Vec2 a, Vec2 b) { return a.x * b.y - a.y * b.x; }
inline double norm(Vec2 a) { return std::sqrt(dot(a, a)); }
/// The unit vector along a; a must not be zero.
inline Vec2 unit(Vec2 a) { return (1.0 / norm(a)) * a; }
/// a turned a quarter counter-clockwise.
constexpr Vec2 left_of(Vec2 a) { return {-a.y, a.x}; }

/// A rotation: (cos, sin) of a plan angle, positive counter-clockwise seen from above.
struct Turn {
    double c = 1.0;
    double s = 0.0;
    friend constexpr Turn operator*(Turn a, Turn b) { return {a.c * b.c - a.s * b.s, a.s * b.c + a.c * b.s}; }
    friend constexpr Vec2 operator*(Turn r, Vec2 v) { return {r.c * v.x - r.s * v.y, r.s * v.x + r.c * v.y}; }
    constexpr Turn back() const { return {c, -s}; }
};

/// The rotation that takes +x to the direction of v (not zero).
inline Turn turn_to(Vec2 v) {
    const Vec2 u = unit(v);
    return {u.x, u.y};
}

/// The pose of one frame in another.
struct Pose {
    Turn r;
    Vec2 p;  ///< the origin of the inner frame in the outer one [mm]
    friend constexpr Pose operator*(const Pose& X_AB, const Pose& X_BC) {
        return {X_AB.r * X_BC.r, X_AB.p + X_AB.r * X_BC.p};
    }
    friend constexpr Vec2 operator*(const Pose& X_AB, Vec2 p_BQ) { return X_AB.p + X_AB.r * p_BQ; }
    constexpr Pose back() const { return {r.back(), r.back() * (-1.0 * p)}; }
};

}  // namespace offsquare::base
