#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/elementary.h"
#include "picture/parts.h"

namespace offsquare::picture {
namespace {

/// Places on the sheet's chart, in mm of the page's frame, below the table view.
struct Field {
    double left, right, zero_y, unit;   ///< `unit`: height of one corner's block
    double column(int cut) const { return left + (right - left) * (0.12 + 0.135 * cut); }
};

void add_bar(const Chart::Bar& bar, bool newest, double sign, const Field& field, double width, Picture& out) {
    const double x = field.column(bar.cut);
    add(out, Words{{x, field.zero_y}, {0.0, 22.0}, fmt::format("cut {}", bar.cut), newest ? Role::text : Role::quiet, 13.0, newest ? Weight::semibold : Weight::regular, Align::middle});
    for (int i = 0; i < bar.corners; ++i) {
        const double y0 = field.zero_y + sign * field.unit * i;
        const double y1 = field.zero_y + sign * field.unit * (i + 0.92);
        add(out, Polygon{rectangle(x - 0.5 * width, std::min(y0, y1), x + 0.5 * width, std::max(y0, y1)), i + 1 == bar.corners ? Role::read : Role::read_fill, Role::read, 1.0});
    }
    const double top = field.zero_y + sign * field.unit * std::max(0.5, bar.corners - 0.5);
    add(out, Words{{x + (bar.corners > 0 ? 0.5 * width : 0.0), bar.corners > 0 ? top : field.zero_y}, {bar.corners > 0 ? 9.0 : 0.0, bar.corners > 0 ? 4.5 : -6.0}, bar.label,
                   bar.corners > 0 ? Role::read : Role::quiet, 13.0, Weight::semibold, bar.corners > 0 ? Align::left : Align::middle});
}

/// The chart as a drawing under the table view, in a field of its own.
void add_chart(const Chart& chart, Picture& out) {
    const double height = 0.34 * (out.hi.y - out.lo.y);
    const double top = out.lo.y;
    out.lo.y -= height;
    const double sign = chart.bars.back().sum_rad < 0.0 ? -1.0 : 1.0;
    const double corner = std::fabs(chart.bars.back().sum_rad) / std::max(1, chart.bars.back().corners);
    Field field{out.lo.x + 6.0, out.hi.x - 6.0, top - (sign > 0.0 ? 0.84 : 0.30) * height, 0.13 * height};
    const double band = corner > 0.0 ? std::min(chart.tolerance_rad / corner * field.unit, 0.12 * height) : 0.12 * height;
    add(out, Line{{{out.lo.x, top - 2.0}, {out.hi.x, top - 2.0}}, Role::hairline, 1.0});
    add(out, Words{{field.left, top}, {0.0, 26.0}, "How the corner error adds up", Role::text, 15.0, Weight::semibold, Align::left});
    add(out, Words{{field.right, top}, {0.0, 26.0}, "cut 1 only makes the first edge", Role::quiet, 12.5, Weight::regular, Align::right});
    add(out, Polygon{rectangle(field.left, field.zero_y - band, field.right, field.zero_y + band), Role::good_fill, Role::none});
    add(out, Line{{{field.left, field.zero_y}, {field.right, field.zero_y}}, Role::quiet, 1.0});
    add(out, Words{{field.left, field.zero_y + sign * band}, {6.0, sign > 0.0 ? -6.0 : 15.0}, "tolerance on one corner", Role::good, 12.0, Weight::regular, Align::left});
    const double width = 0.075 * (field.right - field.left);
    for (const Chart::Bar& bar : chart.bars) add_bar(bar, bar.cut == chart.bars.back().cut, sign, field, width, out);
    if (chart.bars.back().cut < 5) return;
    const Vec2 last{field.column(5) + 0.5 * width, field.zero_y + sign * field.unit * 3.5};
    add(out, Words{last, {36.0, 4.5}, chart.total, Role::read, 13.5, Weight::semibold, Align::left});
    add(out, Words{last, {36.0, 21.5}, chart.over, Role::quiet, 12.0, Weight::regular, Align::left});
}

}  // namespace

Chart chart(const session::Trial& trial, const ViewOptions& options) {
    const Shown shown = shown_of(trial, options);
    Chart out;
    out.tolerance_rad = shown.drawing->tolerance_rad;
    out.known = shown.strip_read;
    const int whole = shown.travel >= 1.0 ? shown.cut : shown.cut - 1;
    for (int cut = 1; cut <= whole; ++cut) {
        const int corners = cut - 1;
        out.bars.push_back({cut, corners, out.known ? corners * shown.skew_rad : 0.0, corners == 0 ? "–" : fmt::format("{}×", corners)});
    }
    if (!out.known) return out;
    const diagnose::StripReadings& strip = *shown.test->strip;
    out.total = "= " + base::show_small(strip.fence_end_mm.value - strip.far_end_mm.value, options.units);
    out.over = "over " + base::show_size(strip.between_mm.value, options.units);
    return out;
}

Picture sheet(const session::Trial& trial, const ViewOptions& options) {
    Picture out = table_view(trial, options);
    const Chart data = chart(trial, options);
    if (data.known && !data.bars.empty()) add_chart(data, out);
    return out;
}

}  // namespace offsquare::picture
