#include "session/slips.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "diagnose/infer.h"
#include "diagnose/observe.h"
#include "measure/cutting.h"
#include "measure/instruments.h"
#include "session/findings.h"
#include "session/hunt_words.h"
#include "session/model.h"
#include "shop/fault.h"

namespace offsquare::session {
namespace {

using base::Units;
using measure::Check;
using measure::CheckReport;

/// A number and its name, as the person knows it.
struct Named {
    std::string name;
    double mm = 0.0;
};

/// Between which a size may lie, and what says so.
struct Bounds {
    double lo = 0.0;
    double hi = 0.0;
    std::string said;  ///< "the strip on the drawing is 12.000 mm wide"
    bool hold(double mm) const { return mm >= lo && mm <= hi; }
};

std::string shown(double mm, Units units) { return base::show_reading(mm, units); }

/// What would fit: another decimal place, or the other unit. Empty: neither does.
std::string what_would_fit(double mm, const Bounds& bounds, Units units) {
    struct Way {
        double factor;
        std::string_view words;
    };
    constexpr double inch = base::mm_per_inch;
    constexpr std::array<Way, 4> ways{
        {{0.1, "a decimal place"}, {10.0, "a decimal place"}, {inch, "inches"}, {1.0 / inch, "millimetres"}}};
    std::string fits;
    for (const Way& way : ways) {
        if (!bounds.hold(mm * way.factor)) continue;
        fits += fmt::format("{}{} ({})", fits.empty() ? "" : ", ", shown(mm * way.factor, units), way.words);
    }
    return fits.empty() ? "" : fmt::format(" Would fit: {}.", fits);
}

/// Why a size cannot be, or hardly can; empty: it can.
std::string against(const Named& size, const Bounds& bounds, Units units) {
    if (bounds.hold(size.mm)) return "";
    if (size.mm <= 0.0)
        return fmt::format("{}: {} is not a size; a size is above 0.", size.name, shown(size.mm, units));
    return fmt::format("{}: {} is too {}: {}.{}", size.name, shown(size.mm, units),
                       size.mm > bounds.hi ? "large" : "small", base::said_in(bounds.said, units),
                       what_would_fit(size.mm, bounds, units));
}

void add(Slips& slips, std::string sentence) {
    if (!sentence.empty()) slips.push_back(std::move(sentence));
}

// ---- strips ----

/// A fence off by 2.5 mrad, as hardly any is, makes a strip taper by this share of its length.
constexpr double usual_taper = 0.01;
/// One that is off by 20 mrad, where the model stops (shop/fault.h).
constexpr double most_taper = 0.08;

/// What a strip of five cuts is usually left at, where no drawing says it (common practice, no source).
constexpr double usual_strip_mm = 12.0;

struct Strip {
    Named fence_end;
    Named far_end;
    Named length;
    Bounds width;                      ///< of either end
    Bounds along;                      ///< of the length
    double usual_mm = usual_strip_mm;  ///< how wide such a strip usually is
};

/// One end is a few times the other: a decimal place, or another unit, at one of them.
std::string between_ends(const Strip& s, Units units) {
    const Named& wide = s.fence_end.mm > s.far_end.mm ? s.fence_end : s.far_end;
    const Named& thin = s.fence_end.mm > s.far_end.mm ? s.far_end : s.fence_end;
    constexpr double many_times = 5.0;
    if (wide.mm < many_times * thin.mm) return "";
    // The one whose other end is more like what strips are may be wrong.
    const auto off = [&](double mm) { return std::max(mm / s.usual_mm, s.usual_mm / mm); };
    const bool thin_is_wrong = off(wide.mm) < off(thin.mm);
    const Named& wrong = thin_is_wrong ? thin : wide;
    const Named& other = thin_is_wrong ? wide : thin;
    const Bounds like_the_other{0.5 * other.mm, 2.0 * other.mm, ""};
    return fmt::format("{}: {}, and {} {}: the two ends of one strip are hardly ever that far apart.{}", wrong.name,
                       shown(wrong.mm, units), other.name, shown(other.mm, units),
                       what_would_fit(wrong.mm, like_the_other, units));
}

void look_at_widths(const Strip& s, Units units, Slips& slips) {
    const double length = s.along.hold(s.length.mm) ? s.length.mm : s.along.lo;
    const double apart = std::abs(s.fence_end.mm - s.far_end.mm);
    const bool positive = s.fence_end.mm > 0.0 && s.far_end.mm > 0.0;
    const bool either_fits = s.width.hold(s.fence_end.mm) || s.width.hold(s.far_end.mm);
    // A thin end of a strip that tapers no more than strips do is one.
    if (positive && either_fits && apart <= usual_taper * length) return;
    const std::size_t before = slips.size();
    add(slips, against(s.fence_end, s.width, units));
    add(slips, against(s.far_end, s.width, units));
    if (slips.size() > before) return;
    add(slips, between_ends(s, units));
    if (slips.size() == before && apart > most_taper * length)
        slips.push_back(
            fmt::format("{} and {}: {} and {}, over {}: no fence that is modelled here is so far off "
                        "square. Are the widths and the length right?",
                        s.fence_end.name, s.far_end.name, shown(s.fence_end.mm, units), shown(s.far_end.mm, units),
                        shown(length, units)));
}

void look_at(const Strip& strip, Units units, Slips& slips) {
    look_at_widths(strip, units, slips);
    add(slips, against(strip.length, strip.along, units));
}

/// A strip comes from the board of the drawing: as wide as that says, within a factor of a few, and no longer than the
/// board.
Strip strip_of(std::span<const measure::CheckReading> three, const shop::Drawing& d, Units units) {
    const auto named = [&](std::size_t i) { return Named{name_of_reading(three[i].what), three[i].value}; };
    const double longest = std::max(d.board.width_mm, d.board.length_mm);
    const double shortest = std::min(d.board.width_mm, d.board.length_mm);
    constexpr double few_times = 5.0;
    const double widest = std::min(few_times * d.board.strip_mm, longest - d.blade.kerf_mm);
    // The tape's limits, and a board that is not square.
    const double slack = 0.02 * longest + 2.0 * d.tape.limit_mm;
    return {named(0),
            named(1),
            named(2),
            Bounds{d.board.strip_mm / few_times, std::max(widest, d.board.strip_mm),
                   fmt::format("the strip on the drawing is {} wide", base::show_size(d.board.strip_mm, units))},
            Bounds{0.2 * shortest, longest + slack,
                   fmt::format("the board on the drawing is {} by {}", base::show_size(d.board.width_mm, units),
                               base::show_size(d.board.length_mm, units))},
            d.board.strip_mm};
}

// ---- sizes that the drawing knows ----

/// What the drawing says of a reading that is a size; empty: it is a small number about 0.
std::optional<double> drawn(Check check, const shop::Drawing& d) {
    const double pitch = d.slots.right_x_mm - d.slots.left_x_mm;
    switch (check) {
        case Check::kerf_width: return d.blade.kerf_mm;
        case Check::runner_fit: return d.slots.width_mm;
        case Check::runner_spacing: return pitch;
        case Check::slot_widths: return pitch - d.slots.width_mm;
        default: return std::nullopt;
    }
}

void look_at_sizes(const CheckReport& report, const shop::Drawing& d, Units units, Slips& slips) {
    constexpr double few_times = 5.0;
    const auto size = drawn(report.occasion.check, d);
    if (!size) return;
    const Bounds bounds{*size / few_times, *size * few_times,
                        fmt::format("the drawing has {}", base::show_size(*size, units))};
    for (const measure::CheckReading& r : report.readings)
        add(slips, against({name_of_reading(r.what), r.value}, bounds, units));
}

/// What an instrument shows of marks or of a wobble is not below nothing.
void look_at_signs(const CheckReport& report, Units units, Slips& slips) {
    const Check check = report.occasion.check;
    if (check != Check::cut_face && check != Check::rim_indicator && check != Check::wiggle) return;
    for (const measure::CheckReading& r : report.readings) {
        // An indicator may show a hair less than nothing.
        if (r.value < -6.0 * r.u - 0.01)
            slips.push_back(
                fmt::format("{}: {}, and it is never below 0.", name_of_reading(r.what), shown(r.value, units)));
    }
}

// ---- repeats ----

bool stood_alike(const CheckReport& a, const CheckReport& b) { return a.occasion == b.occasion; }

/// Every strip has widths of its own: two strips and more that are the same to the last bit were written twice. Of a
/// single one that happens: its two widths, read to a hundredth, come out alike in one test of forty (simulated).
bool same_numbers(const CheckReport& a, const CheckReport& b) {
    const bool one_strip = a.readings.size() <= 3;
    if (!stood_alike(a, b) || one_strip || measure::info(a.occasion.check).strips == measure::Strips::none)
        return false;
    return std::equal(a.readings.begin(), a.readings.end(), b.readings.begin(), b.readings.end(),
                      [](const auto& x, const auto& y) { return x.value == y.value && x.u == y.u; });
}

/// As loose, as dusty and as unsteady as a saw may be that is believed in.
diagnose::Sizes as_loose_as_can_be(const diagnose::Prior& prior) {
    diagnose::Sizes sizes{};
    for (std::size_t i = 0; i < sizes.size(); ++i) sizes[i] = prior[i].front().mean;
    for (const shop::Fault f : {shop::Fault::dust, shop::Fault::clamp_creep, shop::Fault::left_play,
                                shop::Fault::right_play, shop::Fault::caliper_step}) {
        const diagnose::Lobe& most = prior[static_cast<std::size_t>(f)].back();
        sizes[static_cast<std::size_t>(f)] = most.mean + 2.0 * most.sd;
    }
    return sizes;
}

/// What a reading of this check may change by from one time to the next although nothing was touched: by chance, and by
/// a step of a caliper that sticks.
class Repeats {
public:
    explicit Repeats(const shop::Drawing& drawing)
        : drawing_(drawing), assumed_(usual_assumptions(drawing)), loose_(as_loose_as_can_be(assumed_.prior)) {}

    bool agree(const CheckReport& a, const CheckReport& b) const {
        const auto x = diagnose::observe(a, drawing_);
        const auto y = diagnose::observe(b, drawing_);
        if (!x || !y) return true;  // others say what is wrong with them
        const std::vector<double> chance = assumed_.model.chance_on(a.occasion, loose_);
        for (std::size_t i = 0; i < x->size(); ++i) {
            const double by_chance = i < chance.size() ? std::max(0.0, chance[i]) : 0.0;
            const double u = std::sqrt((*x)[i].u * (*x)[i].u + (*y)[i].u * (*y)[i].u + 2.0 * by_chance);
            if (std::abs((*x)[i].value - (*y)[i].value) > far * u + step_of(a.occasion.check)) return false;
        }
        return true;
    }

private:
    /// Six standard deviations: once in five hundred million, were they normal.
    static constexpr double far = 6.0;
    double step_of(Check check) const {
        const bool sticks = measure::same_sizes_by_caliper(check);
        return sticks ? loose_[static_cast<std::size_t>(shop::Fault::caliper_step)] : 0.0;
    }

    const shop::Drawing& drawing_;
    Assumptions assumed_;
    diagnose::Sizes loose_;
};

std::string numbers_of(const CheckReport& report, Units units) {
    std::string text;
    for (const measure::CheckReading& r : report.readings)
        text += (text.empty() ? "" : ", ") + name_of_reading(r.what) + " " + shown(r.value, units);
    return text;
}

void look_at_repeats(std::span<const CheckReport> reports, const shop::Drawing& drawing, Units units, Slips& slips) {
    const CheckReport& last = reports.back();
    std::optional<Repeats> repeats;
    for (std::size_t i = 0; i + 1 < reports.size(); ++i) {
        if (!stood_alike(reports[i], last)) continue;
        if (same_numbers(reports[i], last)) {
            slips.push_back(
                fmt::format("The same numbers stand as check {} of the list already: is it there twice?", i + 1));
            return;
        }
        if (!repeats) repeats.emplace(drawing);
        if (repeats->agree(reports[i], last)) continue;
        slips.push_back(
            fmt::format("{}. The same check, number {} of the list, read {}: they are further apart than "
                        "the instrument and chance can make them.",
                        numbers_of(last, units), i + 1, numbers_of(reports[i], units)));
        return;
    }
}

/// A report that is whole; others say what is wrong with one that is not.
bool whole(const CheckReport& report) {
    return report.readings.size() == measure::info(report.occasion.check).readings.size();
}

void look_at_report(const CheckReport& report, const shop::Drawing& drawing, Units units, Slips& slips) {
    if (const auto cutting = measure::cutting_of(report.occasion.check, drawing)) {
        for (std::size_t i = 0; i < cutting->boards.size(); ++i)
            look_at(strip_of(std::span(report.readings).subspan(3 * i, 3), cutting->boards[i], units), units, slips);
        return;
    }
    look_at_sizes(report, drawing, units, slips);
    look_at_signs(report, units, slips);
}

std::string on_check(const CheckReport& report, std::size_t number, const std::string& sentence) {
    return fmt::format("Check {} ({}): {}", number, measure::info(report.occasion.check).title, sentence);
}

// ---- lengths without a drawing ----

constexpr double no_strip_so_wide_mm = 150.0;
constexpr double shortest_length_mm = 60.0;
constexpr double longest_length_mm = 1500.0;
constexpr double shortest_span_mm = 100.0;
constexpr double longest_span_mm = 2000.0;

Bounds width_bounds() {
    return {1.0, no_strip_so_wide_mm, "a strip that you put a caliper on is from 1 mm to 150 mm wide"};
}
Bounds length_bounds(double width_mm) {
    return {std::max(shortest_length_mm, std::min(4.0 * width_mm, longest_length_mm)), longest_length_mm,
            "the old edge is far longer than the strip is wide, and no longer than 1.5 m"};
}
Bounds span_bounds() {
    return {shortest_span_mm, longest_span_mm, "the shim points of a sled's fence are from 100 mm to 2 m apart"};
}

/// A number without a unit beside another in inches: as inches it could be meant as well.
bool may_be_inches(const TypedLength& one, const Bounds& bounds) {
    return one.bare && !one.typed.inches && bounds.hold(one.typed.value * base::mm_per_inch);
}

std::string bare_sentence(const TypedLength& one, const TypedLength& in_inches) {
    return fmt::format(
        "{} has no unit and counts as {}, but {} is in inches. Write the unit with each, or --units "
        "inch ({} would be {}).",
        one.name, shown(one.typed.value, Units::metric), in_inches.name,
        shown(one.typed.value * base::mm_per_inch, Units::imperial),
        shown(one.typed.value * base::mm_per_inch, Units::metric));
}

}  // namespace

Slips slips_in_last(std::span<const CheckReport> reports, const shop::Drawing& drawing, Units units) {
    Slips slips;
    if (!whole(reports.back())) return slips;
    look_at_report(reports.back(), drawing, units, slips);
    if (slips.empty()) look_at_repeats(reports, drawing, units, slips);
    return slips;
}

Slips slips_in(std::span<const CheckReport> reports, const shop::Drawing& drawing, Units units) {
    Slips all;
    for (std::size_t i = 0; i < reports.size(); ++i) {
        for (const std::string& slip : slips_in_last(reports.first(i + 1), drawing, units))
            all.push_back(on_check(reports[i], i + 1, slip));
    }
    return all;
}

Slips contradictions_of_last(std::span<const CheckReport> reports, const shop::Drawing& drawing) {
    const Assumptions assumed = usual_assumptions(drawing);
    const diagnose::Model model = diagnose::remembering(assumed.model);
    const auto open_ones = [&](std::span<const CheckReport> some) {
        std::vector<diagnose::Contradiction> open;
        if (const auto d = diagnose::infer(some, drawing, model, assumed.prior)) open = d->contradictions;
        std::erase_if(open, [](const diagnose::Contradiction& c) { return c.settled; });
        return open;
    };
    const auto with = open_ones(reports);
    if (with.empty() || with.size() <= open_ones(reports.first(reports.size() - 1)).size()) return {};
    const auto last = std::find_if(with.begin(), with.end(),
                                   [&](const diagnose::Contradiction& c) { return c.report + 1 == reports.size(); });
    return {sentence_of(last != with.end() ? *last : with.back())};
}

Slips slips_in(const History& history, const TypeReadings& typed, Units units) {
    History trial = history;
    if (!trial.act(typed)) return {};
    std::vector<CheckReport> reports = holding(trial.seen());
    // What was written last need not stand last: they are in the order in which the fence was clamped.
    const auto is_it = [&](const CheckReport& r) {
        return r.occasion.check == typed.check &&
               std::equal(r.readings.begin(), r.readings.end(), typed.readings.begin(), typed.readings.end(),
                          [](const auto& a, const auto& b) { return a.value == b.value && a.u == b.u; });
    };
    const auto last = std::find_if(reports.rbegin(), reports.rend(), is_it);
    if (last == reports.rend()) return {};
    std::rotate(last.base() - 1, last.base(), reports.end());
    const shop::Drawing& drawing = trial.seen().drawing;
    Slips slips = slips_in_last(reports, drawing, units);
    return slips.empty() ? contradictions_of_last(reports, drawing) : slips;
}

Slips slips_in(const TypedStrip& s, Units units) {
    const Bounds width = width_bounds();
    // The thinner end: the wider one may be the slip.
    const Bounds length = length_bounds(std::min(s.fence_end.typed.value, s.far_end.typed.value));
    const std::array<std::pair<const TypedLength*, Bounds>, 4> all{
        {{&s.fence_end, width}, {&s.far_end, width}, {&s.length, length}, {&s.span, span_bounds()}}};
    const auto in_inches = std::find_if(all.begin(), all.end(),
                                        [](const auto& one) { return !one.first->bare && one.first->typed.inches; });
    Slips slips;
    if (in_inches != all.end() && !s.units_said) {
        for (const auto& [one, bounds] : all) {
            if (may_be_inches(*one, bounds)) slips.push_back(bare_sentence(*one, *in_inches->first));
        }
    }
    if (!slips.empty()) return slips;
    const auto named = [](const TypedLength& one) { return Named{one.name, one.typed.value}; };
    look_at({named(s.fence_end), named(s.far_end), named(s.length), width, length, usual_strip_mm}, units, slips);
    add(slips, against(named(s.span), span_bounds(), units));
    return slips;
}

const shop::Caliper& common_caliper() {
    static const shop::Caliper caliper{"common caliper", 0.01, 0.02, 0.01, 0};
    return caliper;
}

double u_of_common_caliper(double typed_step_mm) {
    shop::Caliper caliper = common_caliper();
    caliper.step_mm = std::max(caliper.step_mm, typed_step_mm);
    const std::array<measure::Reading, 1> once{};
    return measure::mean_of_repeats(caliper, once, measure::Precision::real).u;
}

std::string common_caliper_words(Units units) {
    return fmt::format(
        "a common caliper ({} steps, limits of error {}; DIN 862, from memory; a quarter of them does not cancel "
        "between two ends)",
        base::show_reading(common_caliper().step_mm, units), base::show_reading(common_caliper().limit_mm, units));
}

std::string_view which_end_sentence() {
    return "Two widths do not show which end is which: the fence end is the one that lay at the fence during the fifth "
           "cut. The other way round, the shim goes behind the other end.";
}

}  // namespace offsquare::session
