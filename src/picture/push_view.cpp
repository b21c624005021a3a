#include "picture/push_view.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "picture/parts.h"

namespace offsquare::picture {
namespace {

/// The sled's small motion, drawn larger. First order in the angle: so a runner that touches a wall does so in the
/// picture.
struct Motion {
    double factor = 1.0;
    contact::SledPose pose;
    Vec2 operator()(Vec2 p_T) const {
        const double y = p_T.y - pose.s_mm;
        return {p_T.x + factor * (pose.x_mm - pose.yaw_rad * y), p_T.y + factor * pose.yaw_rad * p_T.x};
    }
};

struct Mover {
    const Motion& motion;
    /// Rounded corners are for rectangles that lie straight.
    void operator()(Polygon& p) const {
        for (Vec2& v : p.points) v = motion(v);
        p.corner = 0.0;
    }
    void operator()(Line& l) const {
        for (Vec2& v : l.points) v = motion(v);
    }
    void operator()(Dot& d) const { d.at = motion(d.at); }
    void operator()(Words& w) const { w.at = motion(w.at); }
    void operator()(Tag& t) const { t.at = motion(t.at); }
};

void move_from(Picture& out, std::size_t first, const Motion& motion) {
    for (std::size_t i = first; i < out.items.size(); ++i) std::visit(Mover{motion}, out.items[i].shape);
}

void set_push_bounds(const shop::Drawing& d, Picture& out) {
    const contact::PushRange pass = contact::usual_pass(d);
    const double half = 0.5 * std::max(d.table.width_mm, d.sled.width_mm) + 30.0;
    // Beneath the hand's mark at the start of the pass the note still has room.
    const double hand = std::max(d.sled.fence_from_rear_mm, d.fence.thickness_mm) + hand_behind_mm;
    out.lo = {-half, std::min(-0.5 * d.table.depth_mm, pass.from_mm - hand - 26.0) - 34.0};
    out.hi = {half, std::max(0.5 * d.table.depth_mm, pass.to_mm + d.sled.depth_mm - d.sled.fence_from_rear_mm) + 8.0};
}

/// From where to where a runner lies over the table, y in T.
shop::RunnerReach guided_span(const Scene& scene) {
    const shop::Drawing& d = scene.drawing();
    const shop::RunnerReach part = shop::over_table(shop::runner_reach(d.sled), 0.5 * d.table.depth_mm, scene.sled_y);
    return {scene.sled_y + part.rear, scene.sled_y + part.front};
}

/// Slots and runners as if the base let them be seen.
void add_guides(const Scene& scene, const session::SledPlay& play, const Motion& motion, Picture& out) {
    const shop::Drawing& d = scene.drawing();
    const double deep = 0.5 * d.table.depth_mm;
    const shop::RunnerReach reach = shop::runner_reach(d.sled);
    const double wall = 0.5 * d.slots.width_mm;
    for (const auto& [x, loose] :
         {std::pair{d.slots.left_x_mm, play.left_mm}, std::pair{d.slots.right_x_mm, play.right_mm}}) {
        add(out, Polygon{rectangle(x - wall, -deep, x + wall, deep), Role::card, Role::none, 0.0, false, 0.92});
        for (const double side : {-wall, wall})
            add(out, Line{{{x + side, -deep}, {x + side, deep}}, Role::table_edge, 2.0});
        const double half = wall - 0.5 * motion.factor * loose;
        const std::size_t first = out.items.size();
        add(out, Polygon{scene.table(rectangle(x - half, reach.rear, x + half, reach.front)), Role::steel, Role::text,
                         1.0, false, 0.55});
        move_from(out, first, motion);
    }
}

void add_force(Vec2 from, Vec2 to, Picture& out) {
    constexpr double least = 2.0;  // an arrow shorter than its head tells nothing
    if (norm(to - from) >= least) add(out, Line{{from, to}, Role::wrong, 2.6, false, true});
}

double drawn(double force_n) { return std::clamp(mm_per_newton * force_n, -longest_arrow_mm, longest_arrow_mm); }

/// Each arrow ends at the wall that presses.
void add_wall_forces(const Scene& scene, const contact::WallForces& walls, Picture& out) {
    const shop::Drawing& d = scene.drawing();
    const shop::RunnerReach span = guided_span(scene);
    const double in = 14.0;  // beside the very end, where it can be seen
    const double left = d.slots.left_x_mm - 0.5 * d.slots.width_mm, right = d.slots.right_x_mm + 0.5 * d.slots.width_mm;
    const std::array<std::pair<double, std::array<double, 2>>, 2> rows{
        {{span.front - in, {walls.left_front_n, walls.right_front_n}},
         {span.rear + in, {walls.left_rear_n, walls.right_rear_n}}}};
    for (const auto& [y, forces] : rows) {
        add_force({left - drawn(forces[0]), y}, {left, y}, out);
        add_force({right + drawn(forces[1]), y}, {right, y}, out);
    }
}

/// The hand behind the fence, with its push.
void add_hand(const Scene& scene, const PushShown& shown, Picture& out) {
    const double y = scene.sled_y + std::min(scene.rear(), -scene.drawing().fence.thickness_mm) - hand_behind_mm;
    const Vec2 at{shown.hand_x_mm, y};
    const double push = drawn(shown.state.push_n);
    if (shown.holds)
        add_force(push >= 0.0 ? at : at + Vec2{0.0, 26.0},
                  at + Vec2{0.0, push >= 0.0 ? std::max(push, 12.0) : 26.0 + push}, out);
    add(out, Dot{at, 13.0, shown.holds ? Role::read_fill : Role::card, Role::read, true}, Handle::sled);
    add(out, Words{at, {20.0, 4.5}, "hand", Role::text, 12.5, Weight::medium});
}

void add_words(const Scene& scene, double factor, bool few, base::Units units, Picture& out) {
    const shop::Drawing& d = scene.drawing();
    const double y = 0.5 * d.table.depth_mm;
    if (!few)
        add(out, Words{{d.slots.right_x_mm - 0.5 * d.slots.width_mm, y},
                       {-8.0, 20.0},
                       "slot",
                       Role::text,
                       12.5,
                       Weight::regular,
                       Align::right});
    if (!few) add(out, Words{{0.5 * d.blade.kerf_mm + 4.0, 0.5 * scene.chord}, {4.0, -4.0}, "blade", Role::text, 12.5});
    const std::string note =
        few ? fmt::format("Play and turn drawn ×{:g}; an arrow of 1 N is {:g} mm long.", factor, mm_per_newton)
            : fmt::format(
                  "Play and turn drawn {:g} times as large; an arrow of 1 N is {:g} mm long, none longer than {:g} mm.",
                  factor, mm_per_newton, longest_arrow_mm);
    add(out, Words{{0.0, out.lo.y},
                   {0.0, -9.0},
                   base::said_in(note, units),
                   Role::quiet,
                   12.5,
                   Weight::regular,
                   Align::middle});
}

double round_below(double limit) {
    for (const double f : {500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0}) {
        if (f <= limit) return f;
    }
    return 1.0;
}

}  // namespace

double push_factor(const shop::Drawing& drawing, const session::SledPlay& play) {
    constexpr double most_turn = 0.08;
    const double most_play = std::max({play.left_mm, play.right_mm, 1e-3});
    const double turn =
        std::min(play.left_mm, play.right_mm) / std::min(drawing.sled.runner_length_mm, drawing.table.depth_mm);
    return round_below(std::min(0.4 * drawing.slots.width_mm / most_play, most_turn / std::max(turn, 1e-6)));
}

Picture push_view(const session::Seen& seen, const PushShown& shown, const ViewOptions& options) {
    ViewOptions ready = options;
    ready.cut = 0;
    ready.revealed.reset();
    ready.exaggeration = 1.0;  // all but play and turn is drawn as it is
    Scene scene = scene_of(seen, ready);
    scene.sled_y = shown.state.pose.s_mm;
    const Motion motion{push_factor(scene.drawing(), shown.play), shown.state.pose};
    Picture out;
    out.title =
        fmt::format("{}: the sled under a hand, from above, play and turn drawn ×{:g}.", seen.title, motion.factor);
    set_push_bounds(scene.drawing(), out);
    add_table(scene, out);
    const std::size_t first = out.items.size();
    add_base(scene, out);
    add_fence(scene, out);
    add_pieces(scene, out);
    add_clamps(scene, out);
    move_from(out, first, motion);
    add_guides(scene, shown.play, motion, out);
    add_blade(scene, out);
    add_wall_forces(scene, shown.state.walls, out);
    add_hand(scene, shown, out);
    add_words(scene, motion.factor, options.few_words, options.units, out);
    return out;
}

}  // namespace offsquare::picture
