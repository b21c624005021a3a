#include "measure/gauges.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/uncertain.h"
#include "measure/instruments.h"

namespace offsquare::measure {
namespace {

using shop::Drawing;

double square_of(double x) { return x * x; }

/// The feelers of this shop.
Gauge feelers_of(const Drawing& d) {
    Gauge g = feeler;
    if (d.feelers.step_mm <= 0.0) return g;
    g.step_mm = d.feelers.step_mm;
    g.between_leaves = true;
    return g;
}

/// Feelers between a square and what it stands on.
Gauge square_over(const Drawing& d, double blade_mm) {
    Gauge g = feelers_of(d);
    g.name = "engineer's square";
    g.limit_mm = square_limit_mm(blade_mm);
    g.source = "DIN 875-1, grade 2 (from memory); feeler gauges a usual set (from memory)";
    return g;
}

/// Its limits are two standard deviations, as those of every gauge.
double u_of_straightedge(const Drawing& d) { return 0.5 * shop::straightedge_limit_mm(d.straightedge); }

/// Feelers under a straightedge.
Gauge straightedge_over(const Drawing& d, double over_mm) {
    Gauge g = feelers_of(d);
    g.name = "straightedge";
    g.source = "DIN 874, grade 2 for its length (from memory); feeler gauges a usual set (from memory)";
    g.own_mm = u_of_straightedge(d) * std::min(1.0, straightedge_share(d.straightedge, over_mm));
    g.times = std::max(1.0, straightedge_share(d.straightedge, over_mm));
    return g;
}

/// Feelers in the joint of a flip test, over the length of the cut.
Gauge in_the_joint(const Drawing& d) {
    const Butted joint = butted(d);
    Gauge g = feelers_of(d);
    g.name = "joint of two pieces";
    g.source =
        "seats, saw marks and parallel edges invented; straightedge DIN 874, grade 2, feeler gauges a usual set (from "
        "memory)";
    g.own_mm = joint.straightedge_mm;
    g.repeat_mm = std::sqrt(square_of(g.repeat_mm) + square_of(joint.seat_mm) + square_of(joint.parallel_mm) +
                            square_of(joint.marks_mm));
    return g;
}

/// And over the board's thickness: both pieces lie flat on a table, and only the marks count.
Gauge across_the_joint(const Drawing& d) {
    Gauge g = feelers_of(d);
    g.name = "joint across the board's thickness";
    g.source = "saw marks invented; feeler gauges a usual set (from memory)";
    g.repeat_mm = std::sqrt(square_of(g.repeat_mm) + square_of(butted(d).marks_mm));
    return g;
}

/// An indicator on a block that comes to rest so many times, as far as that counts in one reading.
Gauge indicator_on_block(const Drawing& d, double times) {
    Gauge g = indicator;
    g.repeat_mm = std::sqrt(square_of(g.repeat_mm) + times * square_of(d.block.held_mm()));
    return g;
}

/// One that runs along a straightedge: its middle less half of each end.
Gauge indicator_along(const Drawing& d, double over_mm) {
    Gauge g = indicator_on_block(d, 1.5);
    g.source = "invented, and the block's fit; straightedge DIN 874, grade 2 for its length (from memory)";
    g.own_mm = u_of_straightedge(d) * straightedge_share(d.straightedge, over_mm);
    return g;
}

/// A caliper on something small or taken as a difference: its limits are two standard deviations over the whole scale,
/// and hardly count from one place to the next.
Gauge caliper_nearby(const Drawing& d, double readings) {
    return {"caliper", d.caliper.step_mm, 0.25 * d.caliper.limit_mm, d.caliper.repeat_mm / std::sqrt(readings),
            "a quarter of its limits"};
}

/// The tape along two lines that are nearly as long: as with a caliper, a quarter of its limits does not cancel.
Gauge tape_along(const Drawing& d) {
    return {"tape", d.tape.step_mm, 0.25 * d.tape.limit_mm, 0.25 * d.tape.step_mm, "a quarter of its limits"};
}

}  // namespace

// How thick a leaf really is, and how well a hand feels that it goes in. Its step is that of the shop's set
// (measure/gauges.h).
const Gauge feeler{"feeler gauges", 0.01, 0.012, 0.01,
                   "leaves in steps of 0.05 mm are a usual set (from memory), their limits invented"};
const Gauge indicator{"dial indicator", 0.01, 0.01, 0.005, "invented, and the block's fit where it rides on one"};
const Gauge bar{"inside bar", 0.01, 0.02, 0.015, "invented"};
const Gauge eye{"eye", 0.05, 0.06, 0.04, "invented"};

double square_limit_mm(double blade_mm) { return 0.020 + blade_mm / 10.0 * 1e-3; }
double square_on_fence_mm(const shop::Drawing& drawing) { return std::min(75.0, drawing.fence.height_mm); }
double square_on_blade_mm(const shop::Drawing& drawing) { return std::max(10.0, drawing.blade.height_mm - 10.0); }

double straightedge_share(const shop::Straightedge& edge, double over_mm) {
    return square_of(over_mm / edge.length_mm);
}

Butted butted(const Drawing& d) {
    const double seat = 0.5 * (d.board.width_mm - d.blade.kerf_mm);
    const double over = d.board.length_mm;
    Butted out;
    // Two points of each piece, so four in all; a piece turns by what they differ over its seat.
    out.seat_mm = over * 2.0 * d.board.rough_mm / seat;
    out.parallel_mm = over * d.board.parallel_mm / d.board.width_mm;
    // Two faces, where they touch and where the gauge goes in.
    out.marks_mm = 2.0 * d.board.marks_mm;
    // Chords of a parabola b high over its length L, beside each other from its middle: they turn by 4b*seat/L^2 each,
    // one to either side. A seat reaches to the end of the straightedge at most.
    const double bears = std::min(seat, 0.5 * d.straightedge.length_mm);
    out.straightedge_mm = over * 8.0 * u_of_straightedge(d) * bears / square_of(d.straightedge.length_mm);
    return out;
}

std::vector<Gauge> gauges_of(Check check, const Drawing& d) {
    const auto all = [&](const Gauge& g) { return std::vector<Gauge>(info(check).readings.size(), g); };
    switch (check) {
        case Check::flip: return {in_the_joint(d), across_the_joint(d)};
        case Check::square_on_cut: return {square_over(d, square_on_cut_mm), square_over(d, d.board.thickness_mm)};
        case Check::cut_face: return all(eye);
        case Check::fence_square: return all(square_over(d, square_on_fence_mm(d)));
        case Check::blade_square: return all(square_over(d, square_on_blade_mm(d)));
        case Check::fence_straightedge: return all(straightedge_over(d, d.fence.length_mm));
        case Check::edge_straightedge: return all(straightedge_over(d, d.board.width_mm));
        case Check::runner_straightedge: return all(straightedge_over(d, d.sled.runner_length_mm));
        case Check::runner_spacing:
        case Check::slot_widths: return all(bar);
        case Check::slot_ride: return all(indicator_along(d, d.table.depth_mm - d.block.length_mm));
        case Check::clamp_watch:
        case Check::wiggle:
        case Check::rim_indicator:
        case Check::half_turn:
        case Check::board_end: return all(indicator);
        case Check::diagonals: return all(tape_along(d));
        case Check::tooth_indicator: return all(indicator_on_block(d, 1.0));
        case Check::jaws: return all(caliper_nearby(d, 4.0));
        case Check::five_cut:
        case Check::same_again:
        case Check::brushed:
        case Check::long_and_short:
        case Check::kerf_width:
        case Check::runner_fit:
        case Check::gauge_in_jaws:
        case Check::stop_pieces:
        case Check::second_caliper:
        case Check::push_through: break;
    }
    return all(caliper_nearby(d, 1.0));
}

std::string limits_from(Check check) {
    if (check == Check::push_through) return "none: whether it goes is plain to see";
    if (info(check).strips != Strips::none)
        return "caliper: the scenario's, which grow with the length as in DIN 862 (from memory); three quarters cancel "
               "between two ends (invented). tape: the scenario's";
    std::string text;
    for (const Gauge& g : gauges_of(check, {})) {
        const std::string one = fmt::format("{}: {}", g.name, g.source);
        if (text.find(one) == std::string::npos) text += (text.empty() ? "" : ". ") + one;
    }
    return text;
}

double u_of(const Gauge& g) {
    return g.times * std::sqrt(square_of(0.5 * g.limit_mm) + square_of(g.own_mm) + square_of(g.repeat_mm) +
                               square_of(base::u_of_step(g.step_mm)));
}

double u_lasting_of(const Gauge& g, bool errs_the_same) {
    // The same gap lies between the same two leaves again, where the feel does not carry it over one.
    const double leaves = g.between_leaves ? lasting_step_variance(g.step_mm, g.repeat_mm) : 0.0;
    return g.times * std::sqrt((errs_the_same ? square_of(0.5 * g.limit_mm) + leaves : 0.0) + square_of(g.own_mm));
}

}  // namespace offsquare::measure
