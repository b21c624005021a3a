// How long the corridor takes: seating, runner pose, kerf, five cuts. A person runs it; no test does. corridor_bench.md
// says how, and what came out.
#include <benchmark/benchmark.h>

#include <array>

#include "bench/fixed_sum.h"
#include "contact/clearance.h"
#include "contact/push.h"
#include "cut/five_cut.h"
#include "cut/strip_ends.h"
#include "shop/truth.h"

namespace {

using namespace offsquare;
using base::Profile;

using bench::fixed_sum;
using bench::time;

void calibration(benchmark::State& state) { time(state, fixed_sum); }
BENCHMARK(calibration);

shop::Truth straight_faults() {
    shop::Truth t;
    t.fence_skew_rad = 5e-4;
    t.left_play_mm = 0.1;
    t.right_play_mm = 0.15;
    t.blade_toe_rad = 2e-4;
    return t;
}

/// A face that wanders by some hundredths of a millimetre, 33 points.
Profile wandering(double from, double to, double size, double phase) {
    Profile::Points points;
    for (int i = 0; i < 33; ++i) {
        const double f = i / 32.0;
        const double u = 6.0 * f + phase;
        const double u2 = u - 3.0 - phase;
        points.push_back({from + (to - from) * f, size * (0.2 * u2 - 0.03 * u2 * u2 * u2 + 0.05 * ((i * 7) % 5))});
    }
    return Profile(points);
}

/// Everything that can be curved is curved, each by 33 points.
shop::Truth curved_faults() {
    shop::Truth t = straight_faults();
    t.fence_profile = wandering(-280.0, 280.0, 0.1, 0.0);
    t.left_slot_profile = wandering(-280.0, 280.0, 0.04, 0.4);
    t.right_slot_profile = wandering(-280.0, 280.0, 0.05, 0.9);
    t.runner_bend_mm = 0.08;
    t.edge_bow_mm = 0.2;
    t.left_play_mm = 0.3;
    t.right_play_mm = 0.3;
    return t;
}

void seating_straight(benchmark::State& state) {
    const contact::FenceFace face = contact::fence_face({}, straight_faults(), {});
    const std::array<base::Vec2, 2> edge{base::Vec2{0.0, 0.0}, base::Vec2{320.0, 1.0}};
    time(state, [&] { benchmark::DoNotOptimize(contact::seat_on_fence(face, edge, shop::Side::right, 9.6)); });
}
BENCHMARK(seating_straight);

void seating_33_points(benchmark::State& state) {
    const contact::FenceFace face = contact::fence_face({}, curved_faults(), {});
    const std::array<base::Vec2, 2> edge{base::Vec2{0.0, 0.0}, base::Vec2{320.0, 1.0}};
    time(state, [&] { benchmark::DoNotOptimize(contact::seat_on_fence(face, edge, shop::Side::right, 9.6)); });
}
BENCHMARK(seating_33_points);

void runner_pose(benchmark::State& state, const shop::Truth& truth) {
    const shop::Drawing drawing;
    time(state, [&] { benchmark::DoNotOptimize(contact::seat_runners(drawing, truth, {1.0, 0.0}, -100.0)); });
}
BENCHMARK_CAPTURE(runner_pose, straight, straight_faults());
BENCHMARK_CAPTURE(runner_pose, points_33, curved_faults());

/// The linear program alone, from nothing: 33 gates.
void press_33_gates(benchmark::State& state) {
    const Profile wall = wandering(-210.0, 210.0, 0.1, 0.3);
    contact::Clearance clearance;
    for (const base::Vec2& p : wall.points()) clearance.push_back({p.x, p.y - 0.2, p.y + 0.2});
    time(state, [&] { benchmark::DoNotOptimize(contact::press(clearance, 1.0, 0.0)); });
}
BENCHMARK(press_33_gates);

void travel_65_poses(benchmark::State& state) {
    const shop::Drawing drawing;
    const shop::Truth truth = curved_faults();
    time(state, [&] { benchmark::DoNotOptimize(contact::travel(drawing, truth, {1.0, 0.0}, -450.0, 132.0)); });
}
BENCHMARK(travel_65_poses);

void kerf(benchmark::State& state, const shop::Truth& truth) {
    const shop::Drawing drawing;
    const auto travel = contact::travel(drawing, truth, {1.0, 0.0}, -450.0, 132.0);
    const cut::Sweep sweep(drawing.blade, truth, *travel);
    time(state, [&] { benchmark::DoNotOptimize(sweep.kerf(0.0, 320.0)); });
}
BENCHMARK_CAPTURE(kerf, straight, straight_faults());
BENCHMARK_CAPTURE(kerf, stations_33, curved_faults());

void five_cuts(benchmark::State& state, const shop::Truth& truth) {
    const shop::Drawing drawing;
    if (cut::five_cut(drawing, truth, {}).outcome != cut::Outcome::done) state.SkipWithError("the test was not done");
    time(state, [&] { benchmark::DoNotOptimize(cut::five_cut(drawing, truth, {})); });
}
BENCHMARK_CAPTURE(five_cuts, straight, straight_faults());
BENCHMARK_CAPTURE(five_cuts, points_33, curved_faults());

/// A whole pass under a hand, 257 places of the travel.
void pushed_pass(benchmark::State& state, const shop::Truth& truth) {
    const shop::Drawing drawing;
    const contact::HandPush hand{{{-1e9, 60.0}, {-100.0, -60.0}}, 200.0, contact::Way::push};
    const contact::PushRange range = contact::usual_pass(drawing);
    if (contact::push_sled(drawing, truth, hand, contact::Rub{}, range.from_mm, range.to_mm).stuck !=
        contact::Stuck::no)
        state.SkipWithError("the sled stuck");
    time(state, [&] {
        benchmark::DoNotOptimize(contact::push_sled(drawing, truth, hand, contact::Rub{}, range.from_mm, range.to_mm));
    });
}
BENCHMARK_CAPTURE(pushed_pass, straight, straight_faults());
BENCHMARK_CAPTURE(pushed_pass, points_33, curved_faults());

/// What the checks that read strips call: the ends of the strip alone.
void strip_ends(benchmark::State& state, const shop::Truth& truth) {
    const shop::Drawing drawing;
    const cut::Chances chances = cut::steady(drawing);
    if (!cut::strip_test(drawing, truth, {}, chances).ends) state.SkipWithError("the test was not done");
    time(state, [&] { benchmark::DoNotOptimize(cut::strip_test(drawing, truth, {}, chances)); });
}
BENCHMARK_CAPTURE(strip_ends, straight, straight_faults());
BENCHMARK_CAPTURE(strip_ends, points_33, curved_faults());

}  // namespace
