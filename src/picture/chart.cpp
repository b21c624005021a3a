#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/elementary.h"
#include "picture/parts.h"

namespace offsquare::picture {
namespace {

/// Places on the sheet's chart, in mm of the page's frame, below the table view.
struct ChartField {
    double left, right, foot, height;  ///< `foot`: where the names of the cuts stand; `height` of the whole chart
    double zero_y, per_rad;            ///< sums above zero stand up, below zero hang
    double column(int cut) const { return left + (right - left) * (0.12 + 0.135 * cut); }
    double width() const { return 0.075 * (right - left); }
    double y(double sum_rad) const { return zero_y + per_rad * sum_rad; }
    /// Where words beside a column stand: at its end, but as far from the zero line as they are high (`share` of the
    /// chart's height), on the column's side of it.
    double beside(double y_end, double sign, double share) const {
        return sign > 0.0 ? std::max(y_end, zero_y + share * height) : std::min(y_end, zero_y - share * height);
    }
};

ChartField field_of(const Chart& chart, const Picture& view) {
    const double height = 0.34 * (view.hi.y - view.lo.y);
    double least = -chart.tolerance_rad;
    double most = chart.tolerance_rad;
    for (const Chart::Bar& bar : chart.bars) {
        least = std::min(least, bar.sum_rad);
        most = std::max(most, bar.sum_rad);
    }
    // Title above, names of the cuts below.
    const double foot = view.lo.y - 0.86 * height;
    const double per_rad = 0.64 * height / std::max(most - least, 1e-12);
    return {view.lo.x + 6.0, view.hi.x - 6.0, foot, height, foot - least * per_rad, per_rad};
}

void add_bar(const Chart::Bar& bar, bool newest, double sign, const ChartField& field, Picture& out) {
    const double x = field.column(bar.cut);
    const double half = 0.5 * field.width();
    add(out, Words{{x, field.foot},
                   {0.0, 20.0},
                   fmt::format("cut {}", bar.cut),
                   newest ? Role::text : Role::quiet,
                   13.0,
                   newest ? Weight::semibold : Weight::regular,
                   Align::middle});
    if (bar.corners == 0)
        return add(
            out, Words{{x, field.zero_y}, {0.0, -6.0}, bar.label, Role::quiet, 13.0, Weight::semibold, Align::middle});
    const double each = bar.sum_rad / bar.corners;
    for (int i = 0; i < bar.corners; ++i) {
        const double y0 = field.y(each * i);
        const double y1 = field.y(each * (i + 0.92));
        add(out, Polygon{rectangle(x - half, std::min(y0, y1), x + half, std::max(y0, y1)),
                         i + 1 == bar.corners ? Role::read : Role::read_fill, Role::read, 1.0});
    }
    const double y = field.beside(field.y(each * (bar.corners - 0.5)), sign, 0.07);
    add(out, Words{{x + half, y}, {9.0, 4.5}, bar.label, Role::read, 13.0, Weight::semibold, Align::left});
}

/// The chart as a drawing under the table view, in a field of its own.
void add_chart(const Chart& chart, Picture& out) {
    const ChartField field = field_of(chart, out);
    const double top = out.lo.y;
    out.lo.y -= field.height;
    const Chart::Bar& newest = chart.bars.back();
    const double sign = newest.sum_rad < 0.0 ? -1.0 : 1.0;
    const double band = field.per_rad * chart.tolerance_rad;
    add(out, Line{{{out.lo.x, top - 2.0}, {out.hi.x, top - 2.0}}, Role::hairline, 1.0});
    add(out, Words{{field.left, top},
                   {0.0, 26.0},
                   "How the corner error adds up",
                   Role::text,
                   15.0,
                   Weight::semibold,
                   Align::left});
    add(out, Words{{field.right, top},
                   {0.0, 26.0},
                   "cut 1 only makes the first edge",
                   Role::quiet,
                   12.5,
                   Weight::regular,
                   Align::right});
    add(out, Polygon{rectangle(field.left, field.zero_y - band, field.right, field.zero_y + band), Role::good_fill,
                     Role::none});
    add(out, Line{{{field.left, field.zero_y}, {field.right, field.zero_y}}, Role::quiet, 1.0}, Handle::zero_line);
    add(out, Words{{field.left, field.zero_y + sign * std::max(band, 0.02 * field.height)},
                   {6.0, sign > 0.0 ? -6.0 : 15.0},
                   "tolerance on one corner",
                   Role::good,
                   12.0,
                   Weight::regular,
                   Align::left});
    for (const Chart::Bar& bar : chart.bars) add_bar(bar, bar.cut == newest.cut, sign, field, out);
    if (newest.cut < 5) return;
    // Two lines: the upper one level with the label of the column where that is far from the zero line.
    const double end = field.y(newest.sum_rad * (1.0 - 0.5 / newest.corners));
    const Vec2 last{field.column(5) + 0.5 * field.width(), field.beside(end, sign, sign > 0.0 ? 0.19 : 0.07)};
    add(out, Words{last, {36.0, 4.5}, chart.total, Role::read, 13.5, Weight::semibold, Align::left});
    add(out, Words{last, {36.0, 21.5}, chart.over, Role::quiet, 12.0, Weight::regular, Align::left});
}

}  // namespace

Chart chart(const session::Seen& seen, const ViewOptions& options) {
    const Shown shown = shown_of(seen, options);
    Chart out;
    out.tolerance_rad = shown.drawing->tolerance_rad;
    out.known = shown.strip_read;
    const int whole = shown.travel >= 1.0 ? shown.cut : shown.cut - 1;
    for (int cut = 1; cut <= whole; ++cut) {
        const int corners = cut - 1;
        out.bars.push_back({cut, corners, out.known ? corners * shown.skew_rad : 0.0,
                            corners == 0 ? "–" : fmt::format("{}×", corners)});
    }
    if (!out.known) return out;
    const diagnose::StripReadings& strip = *shown.test->strip;
    out.total = "= " + base::show_small(strip.fence_end_mm.value - strip.far_end_mm.value, options.units);
    out.over = "over " + base::show_size(strip.between_mm.value, options.units);
    return out;
}

Picture sheet(const session::Seen& seen, const ViewOptions& options) {
    Picture out = table_view(seen, options);
    const Chart data = chart(seen, options);
    if (data.known && !data.bars.empty()) add_chart(data, out);
    return out;
}

}  // namespace offsquare::picture
