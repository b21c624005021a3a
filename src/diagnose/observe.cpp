#include "diagnose/observe.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "diagnose/five_cut.h"
#include "measure/gauges.h"

namespace offsquare::diagnose {
namespace {

using base::Grade;
using base::Result;
using measure::Check;
using measure::CheckReading;

using Values = std::vector<base::Uncertain>;  // in the order of the check's readings

const char* word_of(shop::FaultUnit unit) { return unit == shop::FaultUnit::mm ? "a length" : "an angle"; }

Result<base::Uncertain> one(const measure::CheckInfo& check, const measure::ReadingInfo& wanted,
                            const std::vector<CheckReading>& readings) {
    const auto is_it = [&](const CheckReading& r) { return r.what == wanted.what; };
    const auto found = std::find_if(readings.begin(), readings.end(), is_it);
    if (found == readings.end())
        return base::fail(Grade::bad_data, fmt::format("the check {} has no reading `{}` ({})", check.name, wanted.what,
                                                       wanted.meaning));
    if (std::count_if(readings.begin(), readings.end(), is_it) > 1) {
        return base::fail(Grade::bad_data,
                          fmt::format("the check {} has the reading `{}` twice; write a check of its own for each time",
                                      check.name, wanted.what));
    }
    if (found->unit != wanted.unit)
        return base::fail(Grade::bad_data, fmt::format("`{}` of the check {} is {}, not {}", wanted.what, check.name,
                                                       word_of(wanted.unit), word_of(found->unit)));
    if (!std::isfinite(found->value) || !(found->u >= 0.0))
        return base::fail(Grade::bad_data,
                          fmt::format("`{}` of the check {} needs a number, and an uncertainty of 0 or above",
                                      wanted.what, check.name));
    return base::Uncertain{found->value, found->u};
}

Result<Values> in_order(const measure::CheckReport& report) {
    const measure::CheckInfo& check = measure::info(report.occasion.check);
    Values values;
    values.reserve(check.readings.size());
    for (const measure::ReadingInfo& wanted : check.readings) {
        const auto value = one(check, wanted, report.readings);
        if (!value) return tl::unexpected(value.error());
        values.push_back(*value);
    }
    return values;
}

double both(double a, double b) { return std::sqrt(a * a + b * b); }

/// The difference of two readings with one instrument: its zero cancels; what else the limits allow does not.
Observable difference(const base::Uncertain& a, const base::Uncertain& b, double lasting) {
    return {a.value - b.value, both(a.u, b.u), lasting};
}

Observable as_it_is(const base::Uncertain& a, double lasting) { return {a.value, a.u, std::min(a.u, lasting)}; }

/// Three readings for each strip.
std::vector<Observable> skews_of(const Values& v, shop::Side fell) {
    std::vector<Observable> skews;
    for (std::size_t i = 0; i + 2 < v.size(); i += 3) {
        const base::Uncertain skew = skew_from_strip({v[i], v[i + 1], v[i + 2], fell});
        skews.push_back({skew.value, skew.u, 0.0});
    }
    return skews;
}

/// Each reading by itself, with what of its error stays when it is read again.
std::vector<Observable> each_as_it_is(Check check, const Values& v, const shop::Drawing& d) {
    const auto gauges = measure::gauges_of(check, d);
    std::vector<Observable> all;
    for (std::size_t i = 0; i < v.size(); ++i)
        all.push_back(as_it_is(v[i], measure::u_lasting_of(gauges[i], measure::info(check).errs_the_same)));
    return all;
}

/// Whatever zeros the two have cancels between the pieces: the first against the other two, and these against each
/// other, which share no error.
std::vector<Observable> where_two_calipers_part(const Values& v) {
    const auto parts = [&](std::size_t i) {
        return base::Uncertain{v[2 * i].value - v[2 * i + 1].value, both(v[2 * i].u, v[2 * i + 1].u)};
    };
    const base::Uncertain a = parts(0);
    const base::Uncertain b = parts(1);
    const base::Uncertain c = parts(2);
    return {{a.value - 0.5 * (b.value + c.value), both(a.u, 0.5 * both(b.u, c.u)), 0.0},
            {b.value - c.value, both(b.u, c.u), 0.0}};
}

std::vector<Observable> reduce(Check check, const Values& v, const shop::Drawing& d) {
    const shop::Side fell = d.board.kept == shop::Side::left ? shop::Side::right : shop::Side::left;
    switch (check) {
        case Check::five_cut:
        case Check::brushed:
        case Check::long_and_short:
        case Check::same_again: return skews_of(v, fell);
        case Check::kerf_width:
        case Check::runner_spacing:
        case Check::slot_widths: return {difference(v[0], v[1], 0.0)};
        case Check::tooth_indicator: return {difference(v[1], v[0], 0.0)};
        case Check::runner_fit: return {difference(v[0], v[1], 0.0), difference(v[2], v[3], 0.0)};
        case Check::push_through: return {};
        case Check::diagonals: return {difference(v[1], v[0], 0.0)};
        case Check::stop_pieces: return {difference(v[2], v[0], 0.0)};
        case Check::second_caliper: return where_two_calipers_part(v);
        case Check::fence_square:
        case Check::blade_square:
        case Check::square_on_cut:
        case Check::fence_straightedge:
        case Check::edge_straightedge:
        case Check::runner_straightedge:
        case Check::flip:
        case Check::cut_face:
        case Check::clamp_watch:
        case Check::wiggle:
        case Check::slot_ride:
        case Check::rim_indicator:
        case Check::board_end:
        case Check::half_turn:
        case Check::jaws:
        case Check::gauge_in_jaws: break;
    }
    return each_as_it_is(check, v, d);
}

}  // namespace

std::size_t observables_of(Check check) { return measure::info(check).observables; }

Result<std::vector<Observable>> observe(const measure::CheckReport& report, const shop::Drawing& drawing) {
    const auto values = in_order(report);
    if (!values) return tl::unexpected(values.error());
    for (std::size_t i = 0; i < values->size(); ++i) {
        const bool too_short =
            measure::info(report.occasion.check).readings[i].what.starts_with("length") && !((*values)[i].value >= 1.0);
        if (too_short)
            return base::fail(Grade::bad_data, fmt::format("a strip of the check {} is less than 1 mm long",
                                                           measure::info(report.occasion.check).name));
    }
    return reduce(report.occasion.check, *values, drawing);
}

}  // namespace offsquare::diagnose
