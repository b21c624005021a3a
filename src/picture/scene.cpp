#include "picture/scene.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/elementary.h"
#include "session/reveal.h"

namespace offsquare::picture {
namespace {

using base::Turn;
using shop::Side;

/// The largest drawn skew [rad], 4.6 degrees: beyond it the fence leaves the sled and the names no longer find room.
constexpr double most_theta = 0.08;
/// Shares of a cut's travel at which the blade is through, and from which the sled comes back.
constexpr double through_at = 0.80;
constexpr double back_from = 0.86;

constexpr std::array<double, 9> round_factors{500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0};

double difference(const std::vector<shim::PickedShim>& left, const std::vector<shim::PickedShim>& right) {
    return session::marked_mm(right) - session::marked_mm(left);
}

/// The skew that is to be expected from the last test before `end` that was read, and the shims that went in since.
void expect_skew(const session::Seen& seen, std::size_t end, Shown& shown) {
    for (std::size_t i = end; i-- > 0;) {
        const session::Test& test = seen.test_now(i);
        if (!test.skew_rad) continue;
        const double turned = difference(*shown.left, *shown.right) - difference(test.behind_left, test.behind_right);
        shown.skew_known = true;
        shown.skew_rad = test.skew_rad->value + turned / shown.drawing->fence.span_mm();
        return;
    }
}

bool same_shims(const std::vector<shim::PickedShim>& a, const std::vector<shim::PickedShim>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const shim::PickedShim& p, const shim::PickedShim& q) {
        return p.drawer_row == q.drawer_row && p.thickness_mm == q.thickness_mm;
    });
}

bool moved_since(const session::Seen& seen, const session::Test& test) {
    return !same_shims(seen.behind_left, test.behind_left) || !same_shims(seen.behind_right, test.behind_right);
}

Shown ready(const session::Seen& seen) {
    Shown shown;
    shown.drawing = &seen.drawing;
    shown.left = &seen.behind_left;
    shown.right = &seen.behind_right;
    expect_skew(seen, seen.tests_now(), shown);
    return shown;
}

Turn turned_by(double angle) { return {base::cos_of(angle), base::sin_of(angle)}; }

double largest_round(double limit, double at_most) {
    for (const double f : round_factors) {
        if (f <= at_most && f <= limit) return f;
    }
    return 1.0;
}

double kept_in(double low, double value, double high) { return std::max(low, std::min(value, high)); }

/// Board sizes before a cut: along the fence, and away from it. Each turn swaps them; each cut takes trim and kerf.
struct Sizes {
    double along, away;
};
Sizes sizes_before(const shop::Drawing& d, int cut) {
    const double taken = d.board.trim_mm + d.blade.kerf_mm;
    Sizes s{d.board.width_mm, d.board.length_mm};
    for (int k = 1; k < cut; ++k) s = {s.away, s.along - taken};
    return s;
}

double width_of_offcut(const shop::Drawing& d, int cut) { return cut == 5 ? d.board.strip_mm : d.board.trim_mm; }

/// Angle between the old edge and the cut, at life size: one more corner with every cut, four at most.
double true_lean(const Scene& scene, int cut) { return std::min(cut, 4) * scene.mirror * scene.shown.skew_rad; }

Vec2 mirrored(const Scene& scene, Vec2 p) { return {scene.mirror * p.x, p.y}; }

Quad mirrored(const Scene& scene, const Quad& q) {
    return {mirrored(scene, q.fence_blade), mirrored(scene, q.far_blade), mirrored(scene, q.far_out),
            mirrored(scene, q.fence_out)};
}

/// The sides of the piece that the blade does not touch, in mirrored coordinates: the far edge as a line, and the outer
/// two corners.
struct Rest {
    Vec2 fence_out, far_out, along_far;
    double far_at(double u) const { return far_out.y + (u - far_out.x) * along_far.y / along_far.x; }
};
Rest rest_of(const Scene& scene, int cut) {
    const shop::Drawing& d = scene.drawing();
    const double theta = scene.mirror * scene.theta;
    const Sizes s = sizes_before(d, cut);
    const double u0 = 0.5 * d.blade.kerf_mm + width_of_offcut(d, cut);
    const Vec2 corner{u0, scene.face(scene.mirror * u0)};
    Rest r;
    r.fence_out = corner - s.along * (turned_by(theta) * Vec2{1.0, 0.0});
    const double at_fence = cut >= 2 ? theta : 0.0;
    const double at_far = cut >= 3 ? theta : 0.0;
    // The rough edge that leans is the outer side for the first cut and, the board turned, the far side for the second.
    const double outer = cut == 1 ? scene.edge_lean(1) : 0.0;
    const double far = cut == 2 ? scene.edge_lean(2) : 0.0;
    const Vec2 up = turned_by(theta + at_fence - outer) * Vec2{0.0, 1.0};
    r.far_out = r.fence_out + s.away * up;
    r.along_far = turned_by(theta + at_fence + at_far - far) * Vec2{1.0, 0.0};
    return r;
}

/// Outer corners of what the cut takes off (mirrored coordinates): at the fence and far from it.
std::array<Vec2, 2> old_edge(const Scene& scene, int cut) {
    const shop::Drawing& d = scene.drawing();
    const double width = width_of_offcut(d, cut);
    const double u = 0.5 * d.blade.kerf_mm + width;
    const Rest rest = rest_of(scene, cut);
    const double fence_y = scene.face(scene.mirror * u);
    // What the first and the third cut take off has a rough old edge.
    const double rough = cut == 1 || cut == 3 ? scene.edge_lean(cut) : 0.0;
    const double far_u =
        u - std::min((scene.lean(cut) - rough) * (rest.far_at(u) - fence_y), 0.9 * std::max(width, 0.0));
    return {Vec2{u, fence_y}, Vec2{far_u, rest.far_at(far_u)}};
}

}  // namespace

double no_more_than(double limit, double factor) {
    if (factor <= limit) return factor;
    double steps = 100.0;  // of the last of three figures
    while (steps > 1.0 && limit * steps >= 1000.0) steps /= 10.0;
    return std::max(1.0, std::floor(limit * steps + 1e-6) / steps);
}

double factor_that_fits(double skew_rad, double factor) {
    if (std::fabs(skew_rad) * factor <= most_theta) return factor;
    return no_more_than(most_theta / std::fabs(skew_rad), factor);
}

Shown shown_of(const session::Seen& seen, const ViewOptions& options) {
    const int count = static_cast<int>(seen.tests_now());
    const bool last = options.test < 0 || options.test >= count;
    if (count == 0 || (last && moved_since(seen, *seen.last_test()))) return ready(seen);
    const std::size_t index = static_cast<std::size_t>(last ? count - 1 : options.test);
    const session::Test& test = seen.test_now(index);
    Shown shown;
    shown.test = &test;
    shown.drawing = &test.drawing;
    shown.left = &test.behind_left;
    shown.right = &test.behind_right;
    shown.cut = std::clamp(options.cut, 0, std::clamp(test.cuts_made, 0, 5));
    shown.travel = shown.cut == 0 ? 0.0 : std::clamp(options.travel, 0.0, 1.0);
    shown.strip_read = test.skew_rad.has_value();
    if (options.revealed) shown.revealed = &options.revealed->tests[seen.first_now + index];
    shown.skew_known = shown.strip_read;
    if (test.skew_rad) shown.skew_rad = test.skew_rad->value;
    else expect_skew(seen, index, shown);
    return shown;
}

std::vector<Vec2> Scene::table(std::vector<Vec2> p_S) const {
    for (Vec2& p : p_S) p = table(p);
    return p_S;
}

double Scene::face(double x) const { return base::tan_of(theta) * (x - drawing().fence.shim_right_x_mm); }

double Scene::top() const {
    double y = 0.0;
    for (int cut = 1; cut <= 5; ++cut) y = std::max({y, before(cut).far_blade.y, before(cut).far_out.y});
    return y;
}

double Scene::rail() const { return std::clamp(front() - top() - 6.0, 10.0, 30.0); }

double Scene::side_edge() const {
    constexpr double arrow = 22.0;  // the arrow of the skew stands between the sled or the board and the names
    double x = std::max(0.5 * drawing().table.width_mm, 0.5 * drawing().sled.width_mm + arrow);
    for (int cut = 1; cut <= 5; ++cut)
        x = std::max({x, std::fabs(before(cut).far_out.x), std::fabs(before(cut).fence_out.x) + arrow});
    return x;
}

bool Scene::parted() const { return shown.cut >= 1 && shown.travel >= through_at; }

double Scene::piece_factor(int cut) const {
    const double taper =
        std::fabs(true_lean(*this, cut)) * std::max(drawing().board.width_mm, drawing().board.length_mm);
    // One end keeps a third of the width, and the piece never grows to three times it.
    const double room = (mirror * shown.skew_rad > 0.0 ? 0.66 : 2.0) * width_of_offcut(drawing(), cut);
    return taper > 0.0 ? no_more_than(room / taper, factor) : factor;
}

double Scene::edge_factor() const {
    const shop::Board& b = drawing().board;
    const double taper = std::fabs(b.first_edge_rad) * std::max(b.width_mm, b.length_mm);
    const double room = (mirror * b.first_edge_rad < 0.0 ? 0.5 : 2.0) * std::max(b.trim_mm, 0.0);
    // A board's rough edge is what it is for the whole job: a round factor reads better.
    return taper > 0.0 ? largest_round(std::min(room / taper, most_theta / std::fabs(b.first_edge_rad)), factor)
                       : factor;
}

double Scene::edge_lean(int cut) const {
    return cut <= 3 ? mirror * edge_factor() * drawing().board.first_edge_rad : 0.0;
}

double Scene::lean(int cut) const { return shown.strip_read ? piece_factor(cut) * true_lean(*this, cut) : 0.0; }

Quad Scene::kept(int cut) const {
    const double u = -0.5 * drawing().blade.kerf_mm;
    const Rest rest = rest_of(*this, cut);
    return mirrored(*this, Quad{{u, face(mirror * u)}, {u, rest.far_at(u)}, rest.far_out, rest.fence_out});
}

Quad Scene::before(int cut) const {
    const Rest rest = rest_of(*this, std::max(cut, 1));
    const std::array<Vec2, 2> edge = old_edge(*this, std::max(cut, 1));
    return mirrored(*this, Quad{edge[0], edge[1], rest.far_out, rest.fence_out});
}

Quad Scene::offcut(int cut) const {
    const double u = 0.5 * drawing().blade.kerf_mm;
    const std::array<Vec2, 2> edge = old_edge(*this, cut);
    const Vec2 shift{aside(), 0.0};
    const Quad q = mirrored(*this, Quad{edge[0], edge[1], {u, rest_of(*this, cut).far_at(u)}, {u, face(mirror * u)}});
    return {q.fence_blade + shift, q.far_blade + shift, q.far_out + shift, q.fence_out + shift};
}

double Scene::strip_height() const {
    const std::array<Vec2, 2> edge = old_edge(*this, 5);
    return edge[1].y - edge[0].y;
}

Stations stations_of(const Scene& scene) {
    const shop::Drawing& d = scene.drawing();
    const double through = std::min(d.sled.stop_y_mm, -0.5 * scene.chord + 6.0);
    const Quad last = scene.before(5);
    const double rest = std::min(through, 0.5 * scene.chord - 45.0 - std::max(last.far_blade.y, last.far_out.y));
    return {std::min(-0.5 * scene.chord - 12.0 - scene.top(), rest), through, rest};
}

Scene scene_of(const Shown& shown, double exaggeration) {
    Scene scene;
    scene.shown = shown;
    scene.mirror = scene.drawing().board.kept == Side::left ? 1.0 : -1.0;
    scene.chord = shop::chord_mm(scene.drawing().blade);
    scene.factor = factor_that_fits(scene.shown.skew_rad, std::max(1.0, exaggeration));
    scene.theta = scene.factor * scene.shown.skew_rad;
    const Stations at = stations_of(scene);
    const double t = scene.shown.travel;
    const double forward = kept_in(0.0, t / through_at, 1.0);
    const double back = kept_in(0.0, (t - back_from) / (1.0 - back_from), 1.0);
    scene.sled_y = at.back + forward * (at.through - at.back) + back * (at.rest - at.through);
    scene.settled = scene.shown.cut == 5 ? back : 0.0;
    return scene;
}

Scene scene_of(const session::Seen& seen, const ViewOptions& options) {
    const Shown shown = shown_of(seen, options);
    double factor = options.exaggeration;
    if (options.revealed && !shown.skew_known) {  // then no other angle is drawn than the true one
        const session::TrueTest* test = shown.revealed;
        factor = factor_that_fits(test != nullptr ? test->skew_rad : options.revealed->skew_now_rad, factor);
    }
    return scene_of(shown, factor);
}

namespace {

/// The largest drawn skew that a factor is chosen for: half of what can be drawn, so that an error which a shim at the
/// wrong end has doubled is still drawn with the same factor.
constexpr double chosen_theta = 0.5 * most_theta;
/// An error far below the tolerance must look like none: it is not blown up further than half a tolerance would be to
/// this [rad].
constexpr double plain_theta = 0.05;

bool everything_fits(const Shown& shown, double factor) {
    const Scene scene = scene_of(shown, factor);
    if (scene.factor < factor || std::fabs(scene.theta) > chosen_theta) return false;
    // A board that reaches beyond the sled at life size has no room to keep.
    const double room =
        std::max(scene.front() - 12.0, scene_of(shown, 1.0).top() + 0.08 * scene.drawing().board.width_mm);
    return scene.top() <= room;
}

double fitting(const Shown& shown) {
    const double least = 0.5 * shown.drawing->tolerance_rad;
    const double most = least > 0.0 ? std::max(1.0, plain_theta / least) : 500.0;
    for (const double f : round_factors) {
        if (f <= most && everything_fits(shown, f)) return f;
    }
    return 1.0;
}

/// What the first two readings of a test say, the only ones there were when it was first drawn: readings that come
/// later must not choose the factor again.
double skew_when_first_drawn(const session::Test& test) {
    const measure::Reading& fence = test.fence_end.front();
    const measure::Reading& far = test.far_end.front();
    const double between = far.station_mm - fence.station_mm;
    if (!(between > 0.0)) return test.skew_rad->value;
    return std::copysign((fence.value_mm - far.value_mm) / (4.0 * between), test.skew_rad->value);
}

}  // namespace

double fitting_exaggeration(const session::Seen& seen) { return fitting(shown_of(seen, {})); }

double job_exaggeration(const session::Seen& seen, const std::shared_ptr<const session::Revealed>& revealed) {
    for (std::size_t i = 0; i < seen.tests_now(); ++i) {
        const session::Test& test = seen.test_now(i);
        if (!test.skew_rad || test.fence_end.empty() || test.far_end.empty()) continue;
        ViewOptions first;
        first.test = static_cast<int>(i);
        Shown shown = shown_of(seen, first);
        shown.skew_rad = skew_when_first_drawn(test);
        return fitting(shown);
    }
    Shown shown = shown_of(seen, {});
    if (revealed) shown.skew_rad = revealed->skew_now_rad;
    return fitting(shown);
}

}  // namespace offsquare::picture
