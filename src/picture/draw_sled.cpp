#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "picture/parts.h"

namespace offsquare::picture {
namespace {

/// A point of the fence: x along the face from the right shim point's foot, y away from the operator.
Vec2 on_fence(const Scene& scene, double x, double y) {
    const base::Turn turn{base::cos_of(scene.theta), base::sin_of(scene.theta)};
    const Vec2 pivot{scene.drawing().fence.shim_right_x_mm, 0.0};
    return pivot + turn * Vec2{x - pivot.x, y};
}

std::vector<Vec2> fence_block(const Scene& scene, double x0, double y0, double x1, double y1) {
    std::vector<Vec2> points = rectangle(x0, y0, x1, y1);
    for (Vec2& p : points) p = on_fence(scene, p.x, p.y);
    return scene.table(points);
}

/// The stuff's own tone: brass is yellow, paper is white, all other metal is grey.
Role tone_of(const std::string& name) {
    const auto has = [&](const char* word) { return name.find(word) != std::string::npos; };
    if (has("brass")) return Role::grain;
    return has("paper") || has("card") || has("veneer") ? Role::card : Role::steel;
}

/// Packets behind one end, stacked away from the fence; as thick as the exaggeration makes them, within reason. Four at
/// most are drawn: more would leave the base.
void add_packets(const Scene& scene, double x, const std::vector<shim::PickedShim>& shims, Picture& out) {
    double y = -scene.drawing().fence.thickness_mm;
    const std::size_t count = std::min<std::size_t>(shims.size(), 4);
    for (std::size_t i = 0; i < count; ++i) {
        const double thick = std::clamp(shims[i].thickness_mm * scene.factor, 3.5, 7.0);
        add(out,
            Polygon{fence_block(scene, x - 24.0, y - thick, x + 24.0, y), tone_of(shims[i].name), Role::text, 0.8});
        y -= thick + 1.0;
    }
}

/// The arrow from where a square fence would be to where this one is, beside the base on the left.
void add_skew_arrow(const Scene& scene, Picture& out) {
    const double board = std::min(scene.before(std::max(scene.shown.cut, 1)).fence_out.x, 0.0);
    const double x = std::min(-0.5 * scene.drawing().sled.width_mm, board) - 14.0;
    if (std::fabs(scene.face(x)) < 7.0) return;
    add(out, Line{{scene.table({x, 0.0}), scene.table({x, scene.face(x)})}, Role::wrong, 2.0, false, true});
}

}  // namespace

void add_base(const Scene& scene, Picture& out) {
    const shop::Drawing& d = scene.drawing();
    const double half = 0.5 * d.sled.width_mm;
    const double rail = scene.rail();
    add(out,
        Polygon{scene.table(rectangle(-half, scene.rear(), half, scene.front())), Role::wood, Role::grain, 1.4, false,
                0.82, 3.0},
        Handle::sled);
    add_grain(scene.table({-half + 5.0, scene.rear()}), scene.table({half - 5.0, scene.rear()}),
              scene.table({-half + 5.0, scene.front() - rail}), scene.table({half - 5.0, scene.front() - rail}), 14.0,
              0.20, out);
    const shop::RunnerReach reach = shop::runner_reach(d.sled);
    for (const double x : {d.slots.left_x_mm, d.slots.right_x_mm}) {
        const double w = 0.38 * d.slots.width_mm;
        add(out,
            Polygon{scene.table(rectangle(x - w, reach.rear, x + w, reach.front)), Role::none, Role::steel, 1.2, true});
    }
    const double kerf = 0.5 * d.blade.kerf_mm;
    add(out, Polygon{scene.table(rectangle(-kerf, -d.fence.thickness_mm, kerf, scene.front() - rail)), Role::ground,
                     Role::none});
    add(out,
        Polygon{scene.table(rectangle(-half, scene.front() - rail, half, scene.front())), Role::wood, Role::grain, 1.4,
                false, 1.0, 2.0},
        Handle::sled);
    if (scene.theta != 0.0)
        add(out, Line{scene.table({{-half - 22.0, 0.0}, {half, 0.0}}), Role::text, 1.0, true, false, 0.7});
}

void add_fence(const Scene& scene, Picture& out) {
    const shop::Fence& f = scene.drawing().fence;
    add_packets(scene, f.shim_left_x_mm, *scene.shown.left, out);
    add_packets(scene, f.shim_right_x_mm, *scene.shown.right, out);
    const double half = 0.5 * f.length_mm;
    add(out, Polygon{fence_block(scene, -half, -f.thickness_mm, half, 0.0), Role::wood, Role::grain, 1.6},
        Handle::fence);
    const Vec2 a = scene.table(on_fence(scene, -half + 4.0, -f.thickness_mm));
    const Vec2 b = scene.table(on_fence(scene, half - 4.0, -f.thickness_mm));
    const Vec2 c = scene.table(on_fence(scene, -half + 4.0, 0.0));
    const Vec2 e = scene.table(on_fence(scene, half - 4.0, 0.0));
    add_grain(a, b, c, e, 9.0, 0.35, out);
    add_skew_arrow(scene, out);
    const double mid = -0.5 * f.thickness_mm;
    add(out, Dot{scene.table(on_fence(scene, f.shim_left_x_mm, mid)), 7.0, Role::card, Role::text, true},
        Handle::left_shim_point);
    add(out, Dot{scene.table(on_fence(scene, f.shim_right_x_mm, mid)), 7.0, Role::card, Role::text, true},
        Handle::right_shim_point);
}

}  // namespace offsquare::picture
