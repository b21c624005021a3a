#include "saws/meant.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace offsquare::saws {

std::string as_typed(const base::Typed& t) {
    const double unit = t.inches ? base::mm_per_inch : 1.0;
    const double step = t.step / unit;
    int decimals = 0;
    for (double s = 1.0; decimals < 6 && s > 1.0001 * step; s /= 10.0) ++decimals;
    return base::print_length(t.value, t.inches ? base::LengthStyle::inch : base::LengthStyle::mm, decimals);
}

base::Typed meant_by(const base::Typed& typed, const Way& way) {
    base::Typed meant = typed;
    meant.value *= way.factor;
    meant.step *= way.factor;
    if (way.other_unit) meant.inches = way.factor > 1.0;
    return meant;
}

std::optional<Question> against(Field field, std::size_t index, const char* name, const base::Typed& typed,
                                const Between& bounds, base::Units units) {
    if (bounds.holds(typed.value)) return std::nullopt;
    Question q{field, index, {}, {}, false, {}};
    // Of several that would fit, the one that lies most in the middle.
    const double middle = std::sqrt(bounds.lo * bounds.hi);
    const auto off = [&](double mm) { return std::max(mm / middle, middle / mm); };
    for (const Way& way : ways) {
        const base::Typed meant = meant_by(typed, way);
        if (bounds.holds(meant.value) && (!q.meant || off(meant.value) < off(q.meant->value))) q.meant = meant;
    }
    q.says = fmt::format("{}: {} is too {}: {}.{}", name, as_typed(typed), typed.value > bounds.hi ? "large" : "small",
                         base::said_in(bounds.said, units),
                         q.meant ? fmt::format(" Was {} meant?", as_typed(*q.meant)) : "");
    return q;
}

std::optional<double> turned_into(double mm, const std::vector<double>& known) {
    for (const Way& way : ways) {
        for (const double k : known) {
            if (std::abs(mm * way.factor - k) <= 0.02 * k) return k;
        }
    }
    return std::nullopt;
}

}  // namespace offsquare::saws
