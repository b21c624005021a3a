#include <algorithm>
#include <array>
#include <cmath>

#include "base/elementary.h"
#include "picture/parts.h"

namespace offsquare::picture {
namespace {

Vec2 between(Vec2 a, Vec2 b, double t) { return a + t * (b - a); }

/// The grain turns with the board: along the fence for the odd cuts.
void add_piece(const Scene& scene, const Quad& q, int cut, Picture& out) {
    add(out, Polygon{scene.table(q.outline()), Role::board, Role::grain, 1.4}, Handle::board);
    const Vec2 a = scene.table(q.fence_out);
    const Vec2 b = scene.table(q.fence_blade);
    const Vec2 c = scene.table(q.far_out);
    const Vec2 d = scene.table(q.far_blade);
    if (cut % 2 == 1) add_grain(a, b, c, d, 22.0, 0.38, out);
    else add_grain(a, c, b, d, 22.0, 0.38, out);
}

/// The slit that the blade has made so far.
void add_slit(const Scene& scene, const Quad& board, Picture& out) {
    const double from = std::max(-0.5 * scene.chord, scene.sled_y + scene.face(0.0));
    const double to = scene.sled_y + board.far_blade.y;
    const double half = 0.5 * scene.drawing().blade.kerf_mm;
    if (to > from) add(out, Polygon{rectangle(-half, from, half, to + 1.0), Role::ground, Role::none});
}

std::vector<Vec2> disc(Vec2 centre, double radius) {
    std::vector<Vec2> points;
    for (int i = 0; i < 20; ++i) {
        const double a = 2.0 * base::pi * i / 20.0;
        points.push_back(centre + radius * Vec2{base::cos_of(a), base::sin_of(a)});
    }
    return points;
}

/// A hold-down over the fence onto the board: a bar with a round pad, seen from above.
void add_clamp(const Scene& scene, Vec2 foot, Picture& out) {
    const base::Turn turn{base::cos_of(scene.theta), base::sin_of(scene.theta)};
    const auto at = [&](double x, double y) { return scene.table(foot + turn * Vec2{x, y}); };
    add(out, Polygon{{at(-5.0, -26.0), at(5.0, -26.0), at(5.0, 38.0), at(-5.0, 38.0)}, Role::steel, Role::card, 1.0});
    add(out, Polygon{disc(at(0.0, 38.0), 12.0), Role::steel, Role::card, 1.0});
    add(out, Polygon{disc(at(0.0, 38.0), 4.5), Role::card, Role::none, 1.0});
}

/// The first of these places along the piece's edge on the fence that leaves the shim points in sight.
Vec2 clamp_foot(const Scene& scene, const Quad& q, const std::array<double, 4>& shares) {
    const shop::Fence& f = scene.drawing().fence;
    for (const double t : shares) {
        const Vec2 foot = between(q.fence_blade, q.fence_out, t);
        const double away = std::min(std::fabs(foot.x - f.shim_left_x_mm), std::fabs(foot.x - f.shim_right_x_mm));
        if (away > 34.0) return foot;
    }
    return between(q.fence_blade, q.fence_out, shares[0]);
}

/// Jaws on both sides of the strip, and the beam that carries them.
void add_caliper(const Scene& scene, double from_fence_mm, Handle handle, Picture& out) {
    const Quad strip = scene.offcut(5);
    const double t = from_fence_mm / scene.strip_height();
    const double y = station_y(scene, from_fence_mm);
    const double near = between(strip.far_out, strip.fence_out, 1.0 - t).x;
    const double far = between(strip.fence_blade, strip.far_blade, t).x;
    const double m = scene.mirror;
    add(out,
        Polygon{scene.table({{near, y - 4.0}, {near, y + 12.0}, {near - m * 6.0, y + 12.0}, {near - m * 4.0, y - 4.0}}),
                Role::steel, Role::card, 0.8},
        handle);
    add(out,
        Polygon{scene.table({{far, y - 4.0}, {far, y + 12.0}, {far + m * 6.0, y + 12.0}, {far + m * 4.0, y - 4.0}}),
                Role::steel, Role::card, 0.8},
        handle);
    add(out,
        Polygon{scene.table(rectangle(near - m * 6.0, y + 10.0, far + m * 30.0, y + 17.0)), Role::steel, Role::card,
                0.8},
        handle);
}

}  // namespace

void add_grain(Vec2 from0, Vec2 to0, Vec2 from1, Vec2 to1, double spacing_mm, double alpha, Picture& out) {
    const int lines = static_cast<int>(base::norm(from1 - from0) / spacing_mm);
    const Vec2 across = base::norm(from1 - from0) > 0.0 ? base::unit(from1 - from0) : Vec2{0.0, 1.0};
    for (int i = 1; i <= lines; ++i) {
        const double f = (static_cast<double>(i) - 0.5) / lines;
        const Vec2 a = between(from0, from1, f);
        const Vec2 b = between(to0, to1, f);
        const double swing = 1.3 * std::min({1.0, spacing_mm / 14.0, base::norm(b - a) / 200.0});
        std::vector<Vec2> points;
        for (int j = 0; j <= 12; ++j) {
            const double s = j / 12.0;
            const double wave = swing * base::sin_of(5.0 * s + 2.1 * i) * base::sin_of(base::pi * s);
            points.push_back(between(a, b, 0.015 + 0.97 * s) + wave * across);
        }
        add(out, Line{points, Role::grain, 1.0, false, false, alpha});
    }
}

double strip_middle(const Scene& scene) {
    const Quad strip = scene.offcut(5);
    return 0.5 * (strip.fence_blade.y + strip.far_blade.y);
}

double station_y(const Scene& scene, double from_fence_mm) {
    const Quad strip = scene.offcut(5);
    const double t = std::clamp(from_fence_mm / scene.strip_height(), 0.0, 1.0);
    return between(strip.fence_blade, strip.far_blade, t).y;
}

std::optional<double> fence_station(const Scene& scene, const ViewOptions& options) {
    if (options.fence_station_mm) return *options.fence_station_mm;
    if (scene.shown.test == nullptr || scene.shown.test->fence_end.empty()) return std::nullopt;
    return scene.shown.test->fence_end.back().station_mm;
}

std::optional<double> far_station(const Scene& scene, const ViewOptions& options) {
    if (options.far_station_mm) return scene.strip_height() - *options.far_station_mm;
    if (scene.shown.test == nullptr || scene.shown.test->far_end.empty()) return std::nullopt;
    return scene.shown.test->far_end.back().station_mm;
}

void add_pieces(const Scene& scene, Picture& out) {
    const int cut = std::max(scene.shown.cut, 1);
    if (scene.parted()) {
        add_piece(scene, scene.kept(cut), cut, out);
        add_piece(scene, scene.offcut(cut), cut, out);
        return;
    }
    const Quad board = scene.before(cut);
    add_piece(scene, board, cut, out);
    add_slit(scene, board, out);
}

void add_grips(const Scene& scene, Picture& out) {
    add(out, Dot{scene.table(scene.before(1).far_out), 6.0, Role::card, Role::read, false}, Handle::board_corner);
    add(out, Dot{{0.0, 0.5 * scene.chord}, 6.0, Role::card, Role::read, false}, Handle::blade_end);
}

std::array<Vec2, 2> clamp_feet(const Scene& scene) {
    const Quad q = scene.kept(std::max(scene.shown.cut, 1));
    return {clamp_foot(scene, q, {0.16, 0.24, 0.32, 0.08}), clamp_foot(scene, q, {0.68, 0.60, 0.76, 0.52})};
}

void add_clamps(const Scene& scene, Picture& out) {
    for (const Vec2& foot : clamp_feet(scene)) add_clamp(scene, foot, out);
}

void add_calipers(const Scene& scene, const ViewOptions& options, Picture& out) {
    if (scene.settled < 1.0) return;
    if (const auto s = fence_station(scene, options)) add_caliper(scene, *s, Handle::caliper_fence_end, out);
    if (const auto s = far_station(scene, options)) add_caliper(scene, *s, Handle::caliper_far_end, out);
}

}  // namespace offsquare::picture
