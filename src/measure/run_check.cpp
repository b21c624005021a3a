#include "measure/run_check.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "base/elementary.h"
#include "contact/runners.h"
#include "cut/chance.h"
#include "cut/five_cut.h"
#include "cut/first_order.h"
#include "cut/strip_ends.h"
#include "measure/cutting.h"
#include "measure/gauges.h"
#include "measure/going.h"
#include "shop/truth.h"

namespace offsquare::measure {
namespace {

using base::Result;
using base::tan_of;
using shop::Drawing;
using shop::Truth;
using Values = std::vector<double>;

// ---- what is true ----

/// Height of a face's middle above the line through its ends.
double middle_of(const base::Profile& profile, double from, double to) {
    return profile.at(0.5 * (from + to)) - 0.5 * (profile.at(from) + profile.at(to));
}

double fence_bow(const Stand& s) {
    const double half = 0.5 * s.drawing.fence.length_mm;
    return s.truth.fence_bow_mm + middle_of(s.truth.fence_profile, -half, half);
}

double edge_bow(const Stand& s) {
    return s.truth.edge_bow_mm + middle_of(s.truth.edge_profile, 0.0, s.drawing.board.width_mm);
}

double runner_bow(const Stand& s) {
    const shop::RunnerReach reach = shop::runner_reach(s.drawing.sled);
    return s.truth.runner_bend_mm + middle_of(s.truth.left_runner_profile, reach.rear, reach.front);
}

/// How far the left slot's centre line stands to the right of its chord at y in T.
double left_slot_at(const Stand& s, double y) {
    const double half = 0.5 * s.drawing.table.depth_mm;
    return s.truth.left_slot_profile.at(y) + base::Profile::bow(-half, half, s.truth.slot_wander_mm).at(y);
}

/// How far a block in the left slot stands to the right of the slot's chord with its middle at y in T, where the slot's
/// centre line is at `slot`: it bears near its two ends, and is moved no farther than the slot reaches.
template <class Slot>
double block_on(const Stand& s, double y, const Slot& slot) {
    const double half_block = 0.5 * s.drawing.block.length_mm;
    const double most = std::max(0.0, 0.5 * s.drawing.table.depth_mm - half_block);
    const double at = std::clamp(y, -most, most);
    return 0.5 * (slot(at - half_block) + slot(at + half_block));
}

double block_at(const Stand& s, double y) {
    return block_on(s, y, [&](double at) { return left_slot_at(s, at); });
}

/// From end to end of the block's way. Of a bow over the whole slot that is a share: the square of that of its length.
double slot_middle(const Stand& s) {
    const double half = 0.5 * s.drawing.table.depth_mm;
    const auto profile = [&](double y) {
        return block_on(s, y, [&](double at) { return s.truth.left_slot_profile.at(at); });
    };
    const double way = std::max(0.0, 1.0 - s.drawing.block.length_mm / s.drawing.table.depth_mm);
    return s.truth.slot_wander_mm * way * way + profile(0.0) - 0.5 * (profile(-half) + profile(half));
}

/// x of the right slot's inner wall less that of the left one, at y in T.
double between_slots(const Stand& s, double y) {
    const shop::Slots& slots = s.drawing.slots;
    const double splay = tan_of(s.truth.slot_splay_rad);
    // Across x half a turned slot is wider.
    const double halves = 0.5 * slots.width_mm * (1.0 + std::sqrt(1.0 + splay * splay));
    return slots.right_x_mm - slots.left_x_mm - halves - splay * y + s.truth.right_slot_profile.at(y) -
           left_slot_at(s, y);
}

/// From middle to middle of the slots in the middle of the table, and of the runners in the middle of the sled.
Values spacings(const Stand& s) {
    const shop::RunnerReach reach = shop::runner_reach(s.drawing.sled);
    const double middle = reach.middle();
    const double spacing = s.drawing.slots.right_x_mm - s.drawing.slots.left_x_mm;
    const double bent =
        s.truth.right_runner_profile.at(middle) - s.truth.left_runner_profile.at(middle) - s.truth.runner_bend_mm;
    return {spacing + s.truth.right_slot_profile.at(0.0) - left_slot_at(s, 0.0),
            spacing + s.truth.pitch_error_mm + bent};
}

/// How far the sled moves sideways at an end of its runners, y in S, between a hand that pushes it there to the left
/// and one that pushes to the right, the runners in the middle of the table. The hand is a millimetre beyond that end,
/// so that it also turns the sled as far as it goes. Empty: it binds.
std::optional<double> wiggle_at(const Stand& s, double y) {
    const shop::RunnerReach reach = shop::runner_reach(s.drawing.sled);
    const double middle = reach.middle();
    const double arm = y - middle + (y > middle ? 1.0 : -1.0);
    const auto right = contact::seat_runners(s.drawing, s.truth, {1.0, -arm}, -middle);
    const auto left = contact::seat_runners(s.drawing, s.truth, {-1.0, arm}, -middle);
    if (!right || !left) return std::nullopt;
    return (right->x_mm - base::sin_of(right->yaw_rad) * y) - (left->x_mm - base::sin_of(left->yaw_rad) * y);
}

base::Problem binds() { return {base::Grade::usage, std::string(cut::sentence_of(cut::Outcome::runners_bind))}; }

Result<Values> wiggle(const Stand& s) {
    const shop::RunnerReach reach = shop::runner_reach(s.drawing.sled);
    const auto front = wiggle_at(s, reach.front);
    const auto rear = wiggle_at(s, reach.rear);
    if (!front || !rear) return tl::unexpected(binds());
    return Values{*front, *rear};
}

bool fits_at(const Stand& s, double travel) {
    return contact::seat_runners(s.drawing, s.truth, {}, travel).has_value();
}

/// To a millimetre, as a tape reads it; nobody errs about whether it goes at all.
Values push_through(const Stand& s) {
    constexpr int steps = 64;
    const WayIn way = way_in(s.drawing);
    if (!fits_at(s, way.from_mm)) return {0.0};
    double fits = way.from_mm;
    for (int i = 1; i <= steps; ++i) {
        double sticks = way.from_mm + (way.to_mm - way.from_mm) * i / steps;
        if (fits_at(s, sticks)) {
            fits = sticks;
            continue;
        }
        while (sticks - fits > 0.1) {
            const double middle = 0.5 * (fits + sticks);
            (fits_at(s, middle) ? fits : sticks) = middle;
        }
        const double first = gone_in_mm(s.drawing, way.from_mm);
        return {std::clamp(std::round(gone_in_mm(s.drawing, fits)), first, whole_way_mm(s.drawing) - 1.0)};
    }
    return {whole_way_mm(s.drawing)};
}

Values tooth(const Stand& s) {
    // 5 mm inside the chord at both ends, where the tooth is level with the table.
    const double y = std::max(5.0, 0.5 * shop::chord_mm(s.drawing.blade) - 5.0);
    const double slope = -tan_of(s.truth.blade_toe_rad);
    return {-slope * y - block_at(s, -y), slope * y - block_at(s, y)};
}

/// The gauges of gauge_in_jaws as marked [mm].
constexpr std::array<double, 5> gauge_sizes{0.50, 0.53, 0.57, 0.62, 0.68};

Values gauges_read(const Stand& s) {
    Values shown;
    for (const double size : gauge_sizes) shown.push_back(size + s.truth.caliper_zero_mm);
    return shown;
}

// ---- test cuts ----

cut::StripTest strip_test(const Stand& s, const Drawing& drawing, const cut::Chances& chances) {
    if (s.cuts == Cuts::fine) return cut::strip_of(cut::five_cut_each(drawing, s.truth, s.shims, chances));
    std::optional<cut::StripTest> quick;
    if (s.cuts == Cuts::first_order) quick = cut::first_order_strip(drawing, s.truth, s.shims, chances);
    return quick ? *quick : cut::strip_test(drawing, s.truth, s.shims, chances);
}

Result<cut::StripEnds> test_cut(const Stand& s, const Drawing& drawing, const cut::Chances& chances) {
    const cut::StripTest test = strip_test(s, drawing, chances);
    if (!test.ends) return base::fail(base::Grade::usage, std::string(cut::sentence_of(test.outcome)));
    return *test.ends;
}

struct Draws {
    std::uint64_t seed = 0;
    std::uint32_t run = 0;
    Precision precision = Precision::real;
};

/// Each check of a session has room for so many draws of one purpose.
constexpr std::uint32_t draws_per_run = 1024;

cut::Chances chances(const Stand& s, const Drawing& d, const Draws& draws, bool brushed, std::uint32_t n) {
    if (draws.precision == Precision::exact) return cut::steady(d);
    Truth truth = s.truth;
    if (brushed) truth.dust_mm = 0.0;
    return cut::chances_of(d, truth, draws.seed, check_tests + draws.run * draws_per_run + n);
}

/// The first cut of a test, of which no strip need come.
Result<cut::FirstCut> first_cut(const Stand& s, const Drawing& drawing, const Truth& truth, const cut::Chances& chances,
                                bool turned = true) {
    std::optional<cut::FirstCut> first;
    if (s.cuts == Cuts::first_order) first = cut::first_order_cut(drawing, truth, s.shims, chances, turned);
    if (!first) {
        const cut::Grain grain = s.cuts == Cuts::fine ? cut::Grain::fine : cut::Grain::coarse;
        const cut::FiveCut test = cut::first_cuts(drawing, truth, s.shims, chances, 1, grain, turned);
        first = cut::FirstCut{test.cuts_made < 1 ? test.outcome : cut::Outcome::done, test.cuts[0].corner_rad,
                              test.cuts[0].kerf_mm};
    }
    if (first->outcome != cut::Outcome::done)
        return base::fail(base::Grade::usage, std::string(cut::sentence_of(first->outcome)));
    return *first;
}

/// One single cut on straight edges, square to each other.
Result<double> single_corner(const Stand& s, const Draws& draws, bool turned = true) {
    Drawing drawing = s.drawing;
    drawing.board.first_edge_rad = 0.0;
    Truth truth = s.truth;
    truth.edge_bow_mm = 0.0;
    truth.edge_profile = {};
    const auto cut = first_cut(s, drawing, truth, chances(s, drawing, draws, false, 0), turned);
    if (!cut) return tl::unexpected(cut.error());
    return cut->corner_rad;
}

/// The kept piece's face stands out at the top when the blade leans to the other side.
Result<Values> on_a_cut(const Stand& s, double over_mm, double times, const Draws& draws) {
    const auto corner = single_corner(s, draws);
    if (!corner) return tl::unexpected(corner.error());
    const double tilt = s.drawing.board.kept == shop::Side::left ? s.truth.blade_tilt_rad : -s.truth.blade_tilt_rad;
    return Values{over_mm * tan_of(times * *corner), s.drawing.board.thickness_mm * tan_of(times * tilt)};
}

/// The scrap is clamped, and pushed until the whole blade is past its edge, wherever a test would stop.
Result<Values> kerf(const Stand& s) {
    Drawing drawing = s.drawing;
    drawing.sled.stop_y_mm = std::numeric_limits<double>::infinity();
    Truth clamped = s.truth;
    clamped.board_creep_rad = 0.0;
    const auto cut = first_cut(s, drawing, clamped, cut::steady(drawing));
    if (!cut) return tl::unexpected(cut.error());
    return Values{cut->kerf_mm + s.truth.caliper_zero_mm, s.drawing.blade.kerf_mm + s.truth.caliper_zero_mm};
}

/// A panel with parallel edges, whose ends are both cut square but for the corner: a parallelogram.
Result<Values> diagonals(const Stand& s, const Draws& draws) {
    const Drawing drawing = with_panel(s.drawing);
    const Stand as_panel{drawing, s.truth, s.shims, s.marked, s.clamped_again, s.cuts};
    const auto corner = single_corner(as_panel, draws, false);
    if (!corner) return tl::unexpected(corner.error());
    const double w = drawing.board.width_mm;
    const double l = drawing.board.length_mm;
    const double leans = 2.0 * w * l * base::sin_of(*corner);
    return Values{std::sqrt(w * w + l * l - leans), std::sqrt(w * w + l * l + leans)};
}

/// Lengths of three pieces, one after the other.
Values pieces_cut_to_the_stop(const Stand& s) {
    constexpr double first_mm = 60.0;
    const double zero = s.truth.caliper_zero_mm;
    const double slip = s.truth.stop_slip_mm;
    return {first_mm + zero, first_mm + slip + zero, first_mm + 2.0 * slip + zero};
}

/// Scraps whose widths fall anywhere between the steps of a caliper that sticks.
Values by_both_calipers(const Stand& s) {
    Values both;
    for (const double width : {12.37, 31.14, 58.61}) {
        both.push_back(width + s.truth.caliper_zero_mm);
        both.push_back(width);
    }
    return both;
}

Values clamp_moves(const Stand& s, const Draws& draws) {
    Values moved;
    for (std::uint32_t i = 0; i < 4; ++i) {
        const double z = draws.precision == Precision::exact
                             ? 0.0
                             : base::standard_normal({draws.seed, base::Purpose::clamp, check_tests + draws.run, i});
        moved.push_back(-s.drawing.fence.span_mm() * tan_of(s.truth.clamp_creep_rad * z));
    }
    return moved;
}

/// The numbers that the instruments are brought to, for every check but those that read strips.
Result<Values> true_values(Check check, const Stand& s, const Draws& draws) {
    const Drawing& d = s.drawing;
    const Truth& t = s.truth;
    const double zero = t.caliper_zero_mm;
    const double half_table = 0.5 * d.table.depth_mm;
    switch (check) {
        case Check::flip: return on_a_cut(s, d.board.length_mm, 2.0, draws);
        case Check::square_on_cut: return on_a_cut(s, square_on_cut_mm, 1.0, draws);
        case Check::cut_face: return Values{shop::chord_mm(d.blade) * std::abs(tan_of(t.blade_toe_rad))};
        case Check::kerf_width: return kerf(s);
        case Check::fence_straightedge: return Values{fence_bow(s)};
        case Check::fence_square: return Values{square_on_fence_mm(d) * tan_of(t.fence_lean_rad)};
        case Check::clamp_watch: return clamp_moves(s, draws);
        case Check::edge_straightedge: return Values{edge_bow(s)};
        case Check::wiggle: return wiggle(s);
        case Check::runner_fit:
            return Values{d.slots.width_mm + zero, d.slots.width_mm - t.left_play_mm + zero, d.slots.width_mm + zero,
                          d.slots.width_mm - t.right_play_mm + zero};
        case Check::runner_spacing: return spacings(s);
        case Check::runner_straightedge: return Values{runner_bow(s)};
        case Check::slot_widths: return Values{between_slots(s, -half_table), between_slots(s, half_table)};
        case Check::slot_ride: return Values{slot_middle(s)};
        case Check::tooth_indicator: return tooth(s);
        case Check::rim_indicator: return Values{t.blade_runout_mm + t.arbor_runout_mm};
        case Check::blade_square: return Values{square_on_blade_mm(d) * tan_of(t.blade_tilt_rad)};
        case Check::jaws: return Values{zero};
        case Check::gauge_in_jaws: return gauges_read(s);
        case Check::push_through: return push_through(s);
        case Check::board_end: return Values{d.board.length_mm * tan_of(t.board_creep_rad)};
        case Check::stop_pieces: return pieces_cut_to_the_stop(s);
        case Check::second_caliper: return by_both_calipers(s);
        case Check::half_turn:
            return Values{t.blade_runout_mm + t.arbor_runout_mm, std::abs(t.blade_runout_mm - t.arbor_runout_mm)};
        case Check::diagonals: return diagonals(s, draws);
        case Check::five_cut:
        case Check::same_again:
        case Check::brushed:
        case Check::long_and_short: break;
    }
    return Values{};
}

// ---- with what it is read ----

double read_gauge(const Gauge& g, double true_mm, double sticking_mm, bool lasting, const Draws& draws, Check check,
                  std::uint32_t index) {
    const std::uint32_t place = static_cast<std::uint32_t>(check) * 16 + index;
    const double limit =
        0.5 * g.limit_mm *
        base::standard_normal({draws.seed, base::Purpose::gauge_limit, lasting ? 0 : draws.run + 1, place});
    const double own = g.own_mm * base::standard_normal({draws.seed, base::Purpose::straightedge, 0, 0});
    const double noise =
        g.repeat_mm * base::standard_normal({draws.seed, base::Purpose::gauge_repeat, draws.run, place});
    const double brought_to = true_mm / g.times + limit + own + noise;
    return g.times * (g.between_leaves ? between_leaves(brought_to, g.step_mm)
                                       : rounded(brought_to, std::max(g.step_mm, sticking_mm)));
}

/// What a person makes of what the instrument shows: a gauge's own size is taken off, and nobody sees marks or a wobble
/// below none.
void as_written(Check check, Values& values) {
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (check == Check::gauge_in_jaws) values[i] -= gauge_sizes[i];
        if (check == Check::cut_face || check == Check::rim_indicator || check == Check::half_turn)
            values[i] = std::max(0.0, values[i]);
    }
}

// ---- strips ----

constexpr std::uint32_t repeats = 2;  ///< readings at each end of a strip

double read_end(const Stand& s, double width, double station, std::uint32_t end, std::uint32_t test, const Draws& draws,
                double& u) {
    std::vector<Reading> readings;
    for (std::uint32_t i = 0; i < repeats; ++i) {
        const Place place{draws.seed, test, end, i};
        readings.push_back(read_caliper(s.drawing.caliper, s.truth.caliper_zero_mm, width, station, place,
                                        draws.precision, s.truth.caliper_step_mm));
    }
    const base::Uncertain mean = mean_of_repeats(s.drawing.caliper, readings, draws.precision);
    u = mean.u;
    return mean.value;
}

void read_strip(const Stand& s, const cut::StripEnds& strip, std::uint32_t test, const Draws& draws, Values& values,
                Values& u) {
    std::array<double, 3> us{};
    values.push_back(read_end(s, strip.fence_end_mm, 0.0, 0, test, draws, us[0]));
    values.push_back(read_end(s, strip.far_end_mm, strip.length_mm, 1, test, draws, us[1]));
    const Reading length = read_tape(s.drawing.tape, strip.length_mm, {draws.seed, test, 2, 0}, draws.precision);
    values.push_back(length.value_mm);
    us[2] = length.u_mm;
    u.insert(u.end(), us.begin(), us.end());
}

CheckReport report_of(Check check, const Stand& s, const Values& values, const Values& u) {
    CheckReport report{{check, s.marked.left_mm, s.marked.right_mm, s.clamped_again}, {}};
    const auto& infos = info(check).readings;
    for (std::size_t i = 0; i < infos.size(); ++i)
        report.readings.push_back({std::string(infos[i].what), infos[i].unit, values[i], u[i]});
    return report;
}

Result<CheckReport> read_strips(Check check, const Cutting& cutting, const Stand& s, const Draws& draws) {
    Values values;
    Values u;
    for (std::uint32_t n = 0; n < cutting.boards.size(); ++n) {
        const Drawing& d = cutting.boards[n];
        // Exact tests of the same board are all alike.
        if (draws.precision == Precision::exact && n > 0 && d.board.width_mm == cutting.boards[n - 1].board.width_mm) {
            for (int k = 0; k < 3; ++k) values.push_back(values[values.size() - 3]);
            u.insert(u.end(), 3, 0.0);
            continue;
        }
        const auto test = test_cut(s, d, chances(s, d, draws, cutting.brushed, n));
        if (!test) return tl::unexpected(test.error());
        read_strip(s, *test, check_tests + draws.run * draws_per_run + n, draws, values, u);
    }
    return report_of(check, s, values, u);
}

}  // namespace

Result<CheckReport> run_check(Check check, const Stand& stand, std::uint64_t seed, std::uint32_t run,
                              Precision precision) {
    const Draws draws{seed, run, precision};
    if (const auto cutting = cutting_of(check, stand.drawing)) return read_strips(check, *cutting, stand, draws);
    auto values = true_values(check, stand, draws);
    if (!values) return tl::unexpected(values.error());
    if (check == Check::push_through)
        return report_of(check, stand, *values, Values(1, precision == Precision::exact ? 0.0 : push_u_mm));
    if (precision == Precision::exact) {
        as_written(check, *values);
        return report_of(check, stand, *values, Values(values->size(), 0.0));
    }
    const std::vector<Gauge> gauges = gauges_of(check, stand.drawing);
    const double sticking = same_sizes_by_caliper(check) ? stand.truth.caliper_step_mm : 0.0;
    Values u;
    for (std::size_t i = 0; i < values->size(); ++i) {
        const double sticks = check == Check::second_caliper && i % 2 == 1 ? 0.0 : sticking;
        (*values)[i] = read_gauge(gauges[i], (*values)[i], sticks, info(check).errs_the_same, draws, check,
                                  static_cast<std::uint32_t>(i));
        u.push_back(u_of(gauges[i]));
    }
    as_written(check, *values);
    return report_of(check, stand, *values, u);
}

std::vector<double> instrument_u(Check check, const Drawing& drawing) {
    Values u;
    if (const auto cutting = cutting_of(check, drawing)) {
        const std::array<Reading, repeats> pair{};
        const double width = mean_of_repeats(drawing.caliper, pair, Precision::real).u;
        const double length = read_tape(drawing.tape, 300.0, {}, Precision::real).u_mm;
        for (std::size_t i = 0; i < cutting->boards.size(); ++i) u.insert(u.end(), {width, width, length});
        return u;
    }
    if (check == Check::push_through) return {push_u_mm};
    for (const Gauge& g : gauges_of(check, drawing)) u.push_back(u_of(g));
    return u;
}

}  // namespace offsquare::measure
