#include "picture/drag.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/elementary.h"
#include "picture/parts.h"
#include "session/reveal.h"

namespace offsquare::picture {
namespace {

using session::SetBoth;
using session::SetValue;

/// A drag never turns the drawn fence further than this [rad], so that the picture keeps its factor. Less than what a
/// factor is chosen for (4.6 degrees), with room for rounding.
constexpr double furthest_turn = 0.076;
constexpr double ghost_stroke = 2.0;

double in_range(const char* key, double value) {
    const auto& keys = scenario::keys();
    const auto it = std::find_if(keys.begin(), keys.end(), [&](const scenario::KeyInfo& k) { return k.key == key; });
    return it == keys.end() ? value : std::clamp(value, it->min, it->max);
}

double whole_steps(double mm, base::Units units) {
    const double step = units == base::Units::metric ? 1.0 : base::mm_per_inch / 16.0;
    return step * std::round(mm / step);
}

/// A length on its way to the set-up: rounded as a person would say it, and as text that says its unit.
struct Length {
    double mm = 0.0;
    std::string typed;
    std::string shown;
};
Length length(const char* key, double mm, base::Units units) {
    const double rounded = in_range(key, whole_steps(in_range(key, mm), units));
    const bool metric = units == base::Units::metric;
    const std::string typed = metric ? base::print_length(rounded, base::LengthStyle::mm, 2)
                                     : base::print_length(rounded, base::LengthStyle::inch, 4);
    return {rounded, typed, base::show_size(rounded, units)};
}

Polygon outline(std::vector<Vec2> points) { return {std::move(points), Role::none, Role::read, ghost_stroke, true}; }
Line stretch(Vec2 a, Vec2 b) { return {{a, b}, Role::read, 3.0}; }

/// The board as it would lie, with the sled where it is now.
Shape board_ghost(const Scene& scene, const shop::Drawing& drawing) {
    Scene other = scene;
    other.shown.drawing = &drawing;
    return outline(scene.table(other.before(1).outline()));
}

Drag drag_board(const Scene& scene, const ViewOptions& options, Vec2 moved) {
    shop::Drawing d = scene.drawing();
    const Length trim = length("board.trim", d.board.trim_mm + scene.mirror * moved.x, options.units);
    // Nothing has moved: the value stays what it is, be it round or not.
    if (moved == Vec2{})
        return {{}, {}, "cut off", base::show_size(d.board.trim_mm, options.units), {board_ghost(scene, d)}};
    d.board.trim_mm = trim.mm;
    return {SetValue{"board.trim", trim.typed}, {}, "cut off", trim.shown, {board_ghost(scene, d)}};
}

Drag drag_corner(const Scene& scene, const ViewOptions& options, Vec2 moved) {
    shop::Drawing d = scene.drawing();
    const auto words = [&](double w, double l) {
        return fmt::format("{} × {}", base::show_size(w, options.units), base::show_size(l, options.units));
    };
    if (moved == Vec2{}) return {{}, {}, "board", words(d.board.width_mm, d.board.length_mm), {board_ghost(scene, d)}};
    const double theta = scene.mirror * scene.theta;
    const base::Turn turn{base::cos_of(theta), base::sin_of(theta)};
    const Vec2 m{scene.mirror * moved.x, moved.y};
    const Length w = length("board.width", d.board.width_mm - base::dot(m, turn * Vec2{1.0, 0.0}), options.units);
    const Length l = length("board.length", d.board.length_mm + base::dot(m, turn * Vec2{0.0, 1.0}), options.units);
    d.board.width_mm = w.mm;
    d.board.length_mm = l.mm;
    return {SetBoth{{"board.width", w.typed}, {"board.length", l.typed}},
            {},
            "board",
            words(w.mm, l.mm),
            {board_ghost(scene, d)}};
}

/// The true fence's face at its drawn slope, over the fence's length.
Line fence_line(const Scene& scene, double drawn_rad) {
    const shop::Fence& f = scene.drawing().fence;
    const double slope = base::tan_of(drawn_rad);
    const double half = 0.5 * f.length_mm;
    return stretch(scene.table({-half, slope * (-half - f.shim_right_x_mm)}),
                   scene.table({half, slope * (half - f.shim_right_x_mm)}));
}

std::string skew_words(double skew_rad, base::Units units) { return base::show_angle(skew_rad, units); }

Drag drag_fence(const Scene& scene, const ViewOptions& options, Vec2 moved) {
    const double now = options.revealed->skew_now_rad;
    const double fault = options.revealed->sizes[static_cast<std::size_t>(shop::Fault::fence_skew)];
    const double factor = factor_that_fits(now, scene.factor);
    const Line still = fence_line(scene, factor * now);
    if (moved == Vec2{}) return {{}, {}, "fence off square", skew_words(fault, options.units), {still}};
    const double arm = -0.5 * scene.drawing().fence.length_mm - scene.drawing().fence.shim_right_x_mm;
    const double most = std::max(furthest_turn, std::fabs(factor * now));
    const double drawn = std::clamp(base::atan_of(base::tan_of(factor * now) + moved.y / arm), -most, most);
    // The shims behind the fence turn it as well, and stay.
    const double by_shims = base::tan_of(now) - base::tan_of(fault);
    const double wanted = base::atan_of(base::tan_of(drawn / factor) - by_shims);
    const double rounded = in_range("faults.fence_skew", 1e-5 * std::round(wanted * 1e5));
    const double then = base::atan_of(base::tan_of(rounded) + by_shims);
    return {SetValue{"faults.fence_skew", base::print_angle(rounded, base::AngleStyle::mrad, 2)},
            {},
            "fence off square",
            skew_words(rounded, options.units),
            {fence_line(scene, factor * then)}};
}

Polygon blade_ghost(const Scene& scene, double chord) {
    const double half = std::max(2.0, 0.5 * scene.drawing().blade.kerf_mm);
    return outline(rectangle(-half, -0.5 * chord, half, 0.5 * chord));
}

Drag drag_blade(const Scene& scene, const ViewOptions& options, Vec2 moved) {
    shop::Blade blade = scene.drawing().blade;
    if (moved == Vec2{})
        return {
            {}, {}, "blade height", base::show_size(blade.height_mm, options.units), {blade_ghost(scene, scene.chord)}};
    // A chord c of a circle of radius R lies R - sqrt(R^2 - c^2/4) below its top.
    const double radius = 0.5 * blade.diameter_mm;
    const double half = std::clamp(0.5 * scene.chord + moved.y, 0.0, 0.999 * radius);
    const Length height = length("blade.height", radius - std::sqrt(radius * radius - half * half), options.units);
    blade.height_mm = height.mm;
    return {SetValue{"blade.height", height.typed},
            {},
            "blade height",
            height.shown,
            {blade_ghost(scene, shop::chord_mm(blade))}};
}

Drag drag_shim_point(const Scene& scene, const ViewOptions& options, bool left, Vec2 moved) {
    const shop::Fence& f = scene.drawing().fence;
    const char* key = left ? "fence.shim_left" : "fence.shim_right";
    const double now = left ? f.shim_left_x_mm : f.shim_right_x_mm;
    const Length x = length(key, now + moved.x, options.units);
    const bool still = moved == Vec2{};
    const double at = still ? now : x.mm;
    const Shape ghost =
        Dot{scene.table({at, scene.face(at) - 0.5 * f.thickness_mm}), 9.0, Role::none, Role::read, false};
    Drag drag{{}, {}, "from the blade", base::show_size(std::fabs(at), options.units), {ghost}};
    if (!still) drag.action = SetValue{key, x.typed};
    return drag;
}

std::optional<Drag> drag_caliper(const Scene& scene, const ViewOptions& options, bool fence, Vec2 moved) {
    const std::optional<double>& place = fence ? options.fence_station_mm : options.far_station_mm;
    if (!place || scene.shown.test == nullptr || !scene.shown.test->strip_fell) return std::nullopt;
    const double step = options.units == base::Units::metric ? 1.0 : base::mm_per_inch / 16.0;
    const double most = step * std::floor(scene.shown.test->furthest_in_mm / step);
    const bool still = moved == Vec2{};
    const double in =
        still ? *place : std::clamp(whole_steps(*place + (fence ? moved.y : -moved.y), options.units), 0.0, most);
    const double y = station_y(scene, fence ? in : scene.strip_height() - in) + 13.5;
    const Quad strip = scene.offcut(5);
    const Shape ghost = stretch(scene.table({strip.fence_out.x - 6.0, y}), scene.table({strip.fence_blade.x + 6.0, y}));
    Drag drag{
        {}, {}, fence ? "in from the fence end" : "in from the far end", base::show_size(in, options.units), {ghost}};
    if (!still) drag.in_from_end_mm = in;
    return drag;
}

}  // namespace

std::optional<Drag> drag_of(const session::Seen& seen, const ViewOptions& options, Handle handle, Vec2 moved) {
    const Scene scene = scene_of(seen, options);
    const bool ready = options.grips && scene.shown.cut == 0;
    switch (handle) {
        case Handle::board: return ready ? std::optional(drag_board(scene, options, moved)) : std::nullopt;
        case Handle::board_corner: return ready ? std::optional(drag_corner(scene, options, moved)) : std::nullopt;
        case Handle::blade_end: return ready ? std::optional(drag_blade(scene, options, moved)) : std::nullopt;
        case Handle::fence_end:
            return ready && options.revealed ? std::optional(drag_fence(scene, options, moved)) : std::nullopt;
        case Handle::left_shim_point: return drag_shim_point(scene, options, true, moved);
        case Handle::right_shim_point: return drag_shim_point(scene, options, false, moved);
        case Handle::caliper_fence_end: return drag_caliper(scene, options, true, moved);
        case Handle::caliper_far_end: return drag_caliper(scene, options, false, moved);
        case Handle::none:
        case Handle::fence:
        case Handle::sled:
        case Handle::laid_aside:
        case Handle::zero_line: break;
    }
    return std::nullopt;
}

}  // namespace offsquare::picture
