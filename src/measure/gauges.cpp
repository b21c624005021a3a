#include "measure/gauges.h"

#include <algorithm>
#include <cmath>

#include "base/uncertain.h"

namespace offsquare::measure {
namespace {

using shop::Drawing;

double square_of(double x) { return x * x; }

/// Feelers between a square and what it stands on.
Gauge square_over(double blade_mm) {
    Gauge g = feeler;
    g.name = "engineer's square";
    g.limit_mm = square_limit_mm(blade_mm);
    g.source = "DIN 875-1, grade 2 (from memory)";
    return g;
}

/// Its limits are two standard deviations, as those of every gauge.
double u_of_straightedge(const Drawing& d) { return 0.5 * shop::straightedge_limit_mm(d.straightedge); }

/// Feelers under a straightedge.
Gauge straightedge_over(const Drawing& d, double over_mm) {
    Gauge g = feeler;
    g.own_mm = u_of_straightedge(d) * std::min(1.0, straightedge_share(d.straightedge, over_mm));
    g.times = std::max(1.0, straightedge_share(d.straightedge, over_mm));
    return g;
}

/// An indicator that runs along a straightedge.
Gauge indicator_along(const Drawing& d, double over_mm) {
    Gauge g = indicator;
    g.own_mm = u_of_straightedge(d) * straightedge_share(d.straightedge, over_mm);
    return g;
}

/// A caliper on something small or taken as a difference: its limits are two standard deviations over the whole scale,
/// and hardly count from one place to the next.
Gauge caliper_nearby(const Drawing& d, double readings) {
    return {"caliper", d.caliper.step_mm, 0.25 * d.caliper.limit_mm, d.caliper.repeat_mm / std::sqrt(readings),
            "a quarter of its limits"};
}

}  // namespace

double straightedge_share(const shop::Straightedge& edge, double over_mm) {
    return square_of(over_mm / edge.length_mm);
}

std::vector<Gauge> gauges_of(Check check, const Drawing& d) {
    const auto all = [&](const Gauge& g) { return std::vector<Gauge>(info(check).readings.size(), g); };
    switch (check) {
        case Check::flip: return {feeler, feeler};
        case Check::square_on_cut: return {square_over(square_on_cut_mm), square_over(d.board.thickness_mm)};
        case Check::cut_face: return all(eye);
        case Check::fence_square: return all(square_over(square_on_fence_mm(d)));
        case Check::blade_square: return all(square_over(square_on_blade_mm(d)));
        case Check::fence_straightedge: return all(straightedge_over(d, d.fence.length_mm));
        case Check::edge_straightedge: return all(straightedge_over(d, d.board.width_mm));
        case Check::runner_straightedge: return all(straightedge_over(d, d.sled.runner_length_mm));
        case Check::runner_spacing:
        case Check::slot_widths: return all(bar);
        case Check::slot_ride: return all(indicator_along(d, d.table.depth_mm));
        case Check::clamp_watch:
        case Check::wiggle:
        case Check::tooth_indicator:
        case Check::rim_indicator: return all(indicator);
        case Check::jaws: return all(caliper_nearby(d, 4.0));
        case Check::five_cut:
        case Check::same_again:
        case Check::brushed:
        case Check::long_and_short:
        case Check::kerf_width:
        case Check::runner_fit:
        case Check::gauge_in_jaws:
        case Check::push_through: break;
    }
    return all(caliper_nearby(d, 1.0));
}

double u_of(const Gauge& g) {
    return g.times * std::sqrt(square_of(0.5 * g.limit_mm) + square_of(g.own_mm) + square_of(g.repeat_mm) +
                               square_of(base::u_of_step(g.step_mm)));
}

double u_lasting_of(const Gauge& g, bool errs_the_same) {
    return g.times * std::sqrt((errs_the_same ? square_of(0.5 * g.limit_mm) : 0.0) + square_of(g.own_mm));
}

}  // namespace offsquare::measure
