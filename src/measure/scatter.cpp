// What chance does to the readings of a check, in closed forms.
#include <algorithm>
#include <cmath>
#include <limits>

#include "contact/runners.h"
#include "measure/cutting.h"
#include "measure/instruments.h"
#include "measure/run_check.h"
#include "shop/truth.h"

namespace offsquare::measure {
namespace {

using shop::Drawing;
using Values = std::vector<double>;

double squared(double x) { return x * x; }

/// A chip on a face that falls away from it: beyond its reach it is not touched at all.
struct ChipOnFace {
    double chip_mm = 0.0;
    double curve_per_mm = 0.0;  ///< how much the slope falls for each mm along it
    double reach_mm = std::numeric_limits<double>::infinity();

    ChipOnFace(double chip, double curve) : chip_mm(chip), curve_per_mm(curve) {
        if (curve > 0.0) reach_mm = std::sqrt(2.0 * chip / curve);
    }

    /// How far the chip turns the board, beside the middle of an edge whose end is `half` away to either side. The
    /// board then touches the chip and the far end; on a bellied face the face before that end, where the line through
    /// the chip grazes it; a hollow face swallows the chip.
    double turn(double half_mm, double beside_mm) const {
        if (beside_mm >= reach_mm) return 0.0;
        if (beside_mm > reach_mm - half_mm) return curve_per_mm * (reach_mm - beside_mm);
        const double above_ends = chip_mm + 0.5 * curve_per_mm * (squared(half_mm) - squared(beside_mm));
        return std::max(0.0, above_ends) / (half_mm + beside_mm);
    }
};

/// Variance of one cut's corner by a chip at every second cut, anywhere along an edge of this length: half of all cuts,
/// times the mean square of the turn. On a straight face that is (chip/edge)^2; a bellied one lets the board rock,
/// which can be ten times as much for a speck. Where it stops: a face's own profile, and the bow of the edge.
double chip_variance(double chip_mm, double edge_mm, double curve_per_mm) {
    if (chip_mm == 0.0) return 0.0;
    constexpr int parts = 32;
    const ChipOnFace chip(chip_mm, curve_per_mm);
    const double half = 0.5 * edge_mm;
    double sum = 0.0;
    for (int i = 0; i < parts; ++i) sum += squared(chip.turn(half, half * (i + 0.5) / parts));
    return 0.5 * sum / parts;
}

/// Of a bow over the whole fence.
double curve_of_fence(const Stand& s) { return 8.0 * s.truth.fence_bow_mm / squared(s.drawing.fence.length_mm); }

/// Variance of the yaw under a wandering hand (cut/chance.h): half of the pushes leave the sled square, the others turn
/// it as far as it goes, to either side.
double hand_variance(const Stand& s) {
    if (s.drawing.sled.hand != shop::Hand::wandering) return 0.0;
    const double travel = -0.5 * s.drawing.board.length_mm;
    const auto most = contact::seat_runners(s.drawing, s.truth, {0.0, 1.0}, travel);
    const auto least = contact::seat_runners(s.drawing, s.truth, {0.0, -1.0}, travel);
    if (!most || !least) return 0.0;
    return 0.5 * squared(0.5 * (most->yaw_rad - least->yaw_rad));
}

/// How much of an edge lies on the fence when its corner stands so far beside the blade.
double edge_on_fence(const Drawing& d, double edge_mm, double beside_mm) {
    return std::min(edge_mm, 0.5 * d.fence.length_mm + 0.5 * d.blade.kerf_mm + beside_mm);
}

/// Variance of one cut's corner.
double corner_variance(const Stand& s, double edge_mm, double beside_mm, bool brushed) {
    return (brushed ? 0.0
                    : chip_variance(s.truth.dust_mm, edge_on_fence(s.drawing, edge_mm, beside_mm), curve_of_fence(s))) +
           hand_variance(s);
}

/// Variance that steps add to the mean of two readings at one place, over places that lie anywhere between two of them.
double sticking_variance(double step, double noise) {
    return 0.5 * (squared(base::u_of_step(step)) + lasting_step_variance(step, noise));
}

/// A strip shows the sum of the corners of cuts 2 to 5; written as what they do to the width at the fence end.
double strip_scatter(const Stand& s, const Drawing& d, bool brushed) {
    const double lost = d.board.trim_mm + d.blade.kerf_mm;
    const double length = d.board.length_mm;
    const double width = d.board.width_mm;
    const Stand board{d, s.truth, s.shims, s.marked, s.clamped_again};
    double corners = corner_variance(board, width - 2.0 * lost, d.board.strip_mm, brushed);
    for (const double edge : {length, width - lost, length - lost})
        corners += corner_variance(board, edge, d.board.trim_mm, brushed);
    return std::sqrt(squared(length - 2.0 * lost) * corners +
                     2.0 * sticking_variance(s.truth.caliper_step_mm, d.caliper.repeat_mm));
}

Values strips_scatter(const Cutting& cutting, const Stand& s) {
    Values scatter;
    for (const Drawing& d : cutting.boards) {
        scatter.push_back(strip_scatter(s, d, cutting.brushed));
        scatter.insert(scatter.end(), 2, 0.0);
    }
    return scatter;
}

/// Both diagonals scatter alike, to either side; written as what that does to the first.
double diagonal_scatter(const Stand& s) {
    const Drawing d = with_panel(s.drawing);
    const Stand panel{d, s.truth, s.shims, s.marked, s.clamped_again, s.cuts};
    const double corner = std::sqrt(corner_variance(panel, d.board.width_mm, d.board.trim_mm, false));
    return 2.0 * d.board.width_mm * d.board.length_mm /
           std::sqrt(squared(d.board.width_mm) + squared(d.board.length_mm)) * corner;
}

}  // namespace

std::vector<double> scatter_of(Check check, const Stand& stand) {
    if (const auto cutting = cutting_of(check, stand.drawing)) return strips_scatter(*cutting, stand);
    const Drawing& d = stand.drawing;
    const double single = std::sqrt(corner_variance(stand, d.board.width_mm, d.board.trim_mm, false));
    const double step = base::u_of_step(stand.truth.caliper_step_mm);
    switch (check) {
        case Check::flip: return {2.0 * d.board.length_mm * single, 0.0};
        case Check::square_on_cut: return {square_on_cut_mm * single, 0.0};
        case Check::clamp_watch: return Values(4, d.fence.span_mm() * stand.truth.clamp_creep_rad);
        case Check::five_cut:
        case Check::same_again:
        case Check::brushed:
        case Check::long_and_short:
        case Check::cut_face:
        case Check::kerf_width:
        case Check::fence_straightedge:
        case Check::fence_square:
        case Check::edge_straightedge:
        case Check::wiggle:
        case Check::runner_fit:
        case Check::runner_spacing:
        case Check::runner_straightedge:
        case Check::slot_widths:
        case Check::slot_ride:
        case Check::tooth_indicator:
        case Check::rim_indicator:
        case Check::blade_square:
        case Check::jaws:
        case Check::gauge_in_jaws:
        case Check::board_end:
        case Check::stop_pieces:
        case Check::half_turn:
        case Check::push_through: break;
        case Check::second_caliper: return {step, 0.0, step, 0.0, step, 0.0};
        case Check::diagonals: return {diagonal_scatter(stand), 0.0};
    }
    return Values(info(check).readings.size(), same_sizes_by_caliper(check) ? step : 0.0);
}

}  // namespace offsquare::measure
