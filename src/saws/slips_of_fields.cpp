#include "saws/slips_of_fields.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "saws/meant.h"

namespace offsquare::saws {
namespace {

using base::Typed;
using base::Units;

// ---- what the log knows ----

/// Of the tests before this one.
struct Before {
    std::vector<double> widths, lengths, spans;
    std::vector<shop::Side> sides;
    std::optional<double> span_size;  ///< typed as a size
};

Before before(const Sled& sled, Date date, std::optional<int> corrects) {
    Before b;
    for (const Entry* e : in_effect(sled)) {
        if (e->date > date || e->number == corrects) continue;
        if (const auto* sizes = std::get_if<SizesTyped>(&e->what)) {
            for (const Size& s : sizes->sizes) {
                const auto mm = base::parse_length(s.value, base::LengthUnit::mm);
                if (s.key == "fence.span" && mm) b.span_size = mm->value;
            }
        }
        const auto* test = std::get_if<StripTest>(&e->what);
        if (test == nullptr) continue;
        for (const auto* end : {&test->strip.fence_end, &test->strip.far_end}) {
            for (const Typed& w : *end) b.widths.push_back(w.value);
        }
        b.lengths.push_back(test->strip.between->value);
        b.spans.push_back(test->strip.span->value);
        b.sides.push_back(*test->strip.fell);
    }
    return b;
}

Between around(const std::vector<double>& earlier, double times, Between usual, const char* what) {
    if (earlier.empty()) return usual;
    const auto [lo, hi] = std::minmax_element(earlier.begin(), earlier.end());
    return {std::max(usual.lo, *lo / times), std::min(usual.hi, *hi * times),
            fmt::format("{:.3g}", *lo) == fmt::format("{:.3g}", *hi)
                ? fmt::format("earlier strips were {:.3g} mm {}", *lo, what)
                : fmt::format("earlier strips were {:.3g} mm to {:.3g} mm {}", *lo, *hi, what)};
}

// ---- one field after the other ----

const Typed* last(const std::vector<Typed>& all) { return all.empty() ? nullptr : &all.back(); }

struct Fields {
    const Strip& strip;
    Before log;
    Units units;
};

Between width_bounds(const Fields& f) {
    return around(f.log.widths, 4.0, {1.0, 150.0, "a strip that you put a caliper on is from 1 mm to 150 mm wide"},
                  "wide");
}

Between length_bounds(const Fields& f) {
    return around(f.log.lengths, 3.5, {60.0, 1500.0, "the old edge of a strip is from 60 mm to 1500 mm long"}, "long");
}

Between span_bounds(const Fields& f) {
    const auto known = f.log.span_size       ? f.log.span_size
                       : f.log.spans.empty() ? std::nullopt
                                             : std::optional(f.log.spans.back());
    if (!known) return {100.0, 2000.0, "the shim points of a sled's fence are from 100 mm to 2 m apart"};
    const double slack = std::max(5.0, 0.03 * *known);
    return {*known - slack, *known + slack, fmt::format("the shim points were {:.5g} mm apart before", *known)};
}

/// How wide the strips before were; with none before, what a strip of five cuts usually is left at (common practice, no
/// source: a finger's width, so that it stays stiff and a caliper's jaws span it).
double usual_width(const std::vector<double>& earlier) {
    constexpr double usual_mm = 12.0;
    if (earlier.empty()) return usual_mm;
    double sum = 0.0;
    for (const double w : earlier) sum += w;
    return sum / static_cast<double>(earlier.size());
}

double off_from(double usual, double mm) { return std::max(mm / usual, usual / mm); }

/// The two ends of one strip are hardly ever far apart.
void look_at_ends(const Fields& f, Questions& out) {
    const Typed* fence = last(f.strip.fence_end);
    const Typed* far = last(f.strip.far_end);
    if (fence == nullptr || far == nullptr) return;
    const bool fence_is_thin = fence->value < far->value;
    const Typed& thin = fence_is_thin ? *fence : *far;
    const Typed& wide = fence_is_thin ? *far : *fence;
    // A fence off by 2.5 mrad, as hardly any is, tapers a strip by a hundredth of its length.
    constexpr double usual_taper = 0.01;
    constexpr double many_times = 2.5;
    const double length = f.strip.between && f.strip.between->value >= 60.0 ? f.strip.between->value : 300.0;
    if (wide.value - thin.value <= usual_taper * length || wide.value < many_times * thin.value) return;
    // Which of the two is wrong: the one whose other end is more like what strips are; then the other.
    const Between widths = width_bounds(f);
    const std::string said = fmt::format("the two ends of one strip are hardly ever so far apart");
    const double usual = usual_width(f.log.widths);
    const bool thin_first = off_from(usual, wide.value) < off_from(usual, thin.value);
    for (const bool thin_is_wrong : {thin_first, !thin_first}) {
        const Typed& wrong = thin_is_wrong ? thin : wide;
        const Typed& other = thin_is_wrong ? wide : thin;
        const bool is_fence = &wrong == fence;
        if (!widths.holds(other.value)) continue;
        const Between like_the_other{0.6 * other.value, 1.7 * other.value, said};
        auto q = against(is_fence ? Field::fence_end : Field::far_end,
                         (is_fence ? f.strip.fence_end : f.strip.far_end).size() - 1,
                         is_fence ? "The fence end" : "The far end", wrong, like_the_other, f.units);
        if (!q || (!q->meant && thin_is_wrong == thin_first)) continue;
        q->says += fmt::format(" The {} end is {}.", is_fence ? "far" : "fence", as_typed(other));
        out.push_back(std::move(*q));
        return;
    }
}

/// The first strip of a log has none before it: one that is many times as wide as strips are may have lost a decimal
/// place, or its unit, at both ends.
void look_at_both(const Fields& f, Questions& out) {
    const Typed* fence = last(f.strip.fence_end);
    const Typed* far = last(f.strip.far_end);
    if (!f.log.widths.empty() || fence == nullptr || far == nullptr) return;
    constexpr double many_times = 4.0;
    const double usual = usual_width({});
    if (std::min(fence->value, far->value) < many_times * usual) return;
    const Between strips{0.4 * usual, 2.0 * usual, "a strip of five cuts is usually 10 mm to 15 mm wide"};
    auto q = against(Field::fence_end, f.strip.fence_end.size() - 1, "The fence end", *fence, strips, f.units);
    if (!q || !q->meant) return;
    q->says += fmt::format(" The far end is {}.", as_typed(*far));
    out.push_back(std::move(*q));
}

/// Repeats at one place differ by no more than instrument and hand can make them.
void look_at_repeats(const Fields& f, Questions& out) {
    constexpr double at_least_mm = 0.1;
    for (const auto& [all, field, name] : {std::tuple{&f.strip.fence_end, Field::fence_end, "The fence end"},
                                           {&f.strip.far_end, Field::far_end, "The far end"}}) {
        if (all->size() < 2) continue;
        const auto [lo, hi] = std::minmax_element(all->begin(), all->end(),
                                                  [](const Typed& a, const Typed& b) { return a.value < b.value; });
        if (hi->value - lo->value <= std::max(at_least_mm, 4.0 * std::max(hi->step, lo->step))) continue;
        out.push_back({field,
                       static_cast<std::size_t>(hi - all->begin()),
                       fmt::format("{}: {} and {} at one place are further apart than the caliper can make them. Is a "
                                   "digit wrong?",
                                   name, as_typed(*lo), as_typed(*hi)),
                       {},
                       false,
                       {}});
    }
}

/// A strip is about as long as the shim points are apart, within a factor of a few: the board lies on the fence.
void look_at_length_and_span(const Fields& f, Questions& out) {
    if (!f.strip.between || !f.strip.span) return;
    const Typed& length = *f.strip.between;
    const Typed& span = *f.strip.span;
    const double ratio = length.value / span.value;
    if (ratio >= 0.2 && ratio <= 2.0) return;
    const Between lengths = length_bounds(f);
    const Between spans = span_bounds(f);
    const Between of_span{std::max(lengths.lo, 0.2 * span.value), std::min(lengths.hi, 2.0 * span.value),
                          "a strip is hardly ever so much longer or shorter than the shim points are apart"};
    const Between of_length{std::max(spans.lo, 0.5 * length.value), std::min(spans.hi, 5.0 * length.value),
                            of_span.said};
    auto a = against(Field::between, 0, "The length between the two places", length, of_span, f.units);
    auto b = against(Field::span, 0, "The distance between the shim points", span, of_length, f.units);
    // What one's own earlier sizes bear out is not asked about.
    const bool span_known = f.log.span_size || !f.log.spans.empty();
    if (a && (a->meant || !b || span_known)) {
        if (b && b->meant && !span_known)
            a->says += fmt::format(" Or, between the shim points, {} for {}?", as_typed(*b->meant), as_typed(span));
        out.push_back(std::move(*a));
    } else if (b) {
        out.push_back(std::move(*b));
    }
}

void look_at_side(const Fields& f, Questions& out) {
    if (!f.strip.fell || f.log.sides.size() < 2) return;
    if (std::any_of(f.log.sides.begin(), f.log.sides.end(), [&](shop::Side s) { return s == *f.strip.fell; })) return;
    const bool left = *f.strip.fell == shop::Side::left;
    out.push_back(
        {Field::fell,
         0,
         fmt::format("The strip fell on the {}: at every test before it fell on the {}. On the other side the "
                     "shim goes behind the other end.",
                     left ? "left" : "right", left ? "right" : "left"),
         {},
         false,
         {}});
}

Questions fields_of(const Strip& strip, const Before& log, Units units) {
    const Fields f{strip, log, units};
    Questions out;
    const auto add = [&](std::optional<Question> q) {
        if (q) out.push_back(std::move(*q));
    };
    // A thin end of a strip that tapers no more than strips do is one.
    const Typed* fence = last(strip.fence_end);
    const Typed* far = last(strip.far_end);
    const double length = strip.between && strip.between->value >= 60.0 ? strip.between->value : 300.0;
    const Between widths = width_bounds(f);
    const bool together = fence != nullptr && far != nullptr && fence->value > 0.0 && far->value > 0.0 &&
                          std::abs(fence->value - far->value) <= 0.01 * length &&
                          (widths.holds(fence->value) || widths.holds(far->value));
    if (!together) {
        for (std::size_t i = 0; i < strip.fence_end.size(); ++i)
            add(against(Field::fence_end, i, "The fence end", strip.fence_end[i], widths, units));
        for (std::size_t i = 0; i < strip.far_end.size(); ++i)
            add(against(Field::far_end, i, "The far end", strip.far_end[i], widths, units));
        if (out.empty()) look_at_ends(f, out);
    }
    if (out.empty()) look_at_both(f, out);
    if (strip.between)
        add(against(Field::between, 0, "The length between the two places", *strip.between, length_bounds(f), units));
    if (strip.span)
        add(against(Field::span, 0, "The distance between the shim points", *strip.span, span_bounds(f), units));
    if (out.empty()) look_at_repeats(f, out);
    if (out.empty()) look_at_length_and_span(f, out);
    look_at_side(f, out);
    return out;
}

/// Two fields exchanged: put right, nothing is asked any more.
std::optional<Question> exchanged(const Strip& strip, const Before& log, Units units) {
    const auto sound = [&](const Strip& s) { return fields_of(s, log, units).empty(); };
    const auto says = [](Field field, const char* a, const Typed& x, Field with, const char* b, const Typed& y) {
        const std::string text =
            fmt::format("{} is {} and {} is {}: are the two exchanged?", a, as_typed(x), b, as_typed(y));
        return Question{field, 0, text, y, false, {}, with};
    };
    if (!strip.between) return std::nullopt;
    for (const bool fence : {true, false}) {
        Strip other = strip;
        auto& end = fence ? other.fence_end : other.far_end;
        if (end.size() != 1) continue;
        std::swap(end.front(), *other.between);
        if (sound(other))
            return says(fence ? Field::fence_end : Field::far_end, fence ? "The fence end" : "The far end",
                        *other.between, Field::between, "the length between the two places", end.front());
    }
    if (!strip.span) return std::nullopt;
    Strip other = strip;
    std::swap(*other.between, *other.span);
    if (!sound(other)) return std::nullopt;
    return says(Field::between, "The length between the two places", *strip.between, Field::span,
                "the distance between the shim points", *strip.span);
}

}  // namespace

Questions in_fields(const Sled& sled, const Strip& strip, Date date, Units units, std::optional<int> corrects) {
    const Before log = before(sled, date, corrects);
    Questions out = fields_of(strip, log, units);
    if (!out.empty()) {
        if (auto q = exchanged(strip, log, units)) return {std::move(*q)};
    }
    return out;
}

}  // namespace offsquare::saws
