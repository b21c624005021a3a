#include "picture/class_view.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "picture/parts.h"

namespace offsquare::picture {
namespace {

/// Width of the longest name beside the table, "angles drawn", in em; and of the gap to it.
constexpr double column_em = 7.4;
constexpr double gap_em = 0.5;
constexpr double line_em = 1.2;

Words word(Vec2 at, Vec2 nudge, std::string text, const ClassPage& page, Align align, Role role = Role::text) {
    return {at, nudge, std::move(text), role, page.letters, Weight::semibold, align};
}

// ---- the table ----

bool is_grain(const Shape& shape) {
    const auto* line = std::get_if<Line>(&shape);
    return line != nullptr && line->line == Role::grain;
}

/// Lines as thick as the page wants; grain would only be noise.
Picture thickened(const Picture& in, const ClassPage& page) {
    Picture out = in;
    out.items.clear();
    for (Item item : in.items) {
        if (is_grain(item.shape)) continue;
        if (auto* p = std::get_if<Polygon>(&item.shape); p != nullptr) {
            // A bright rim around steel would be thicker than the part.
            if (p->line == Role::card) p->line = Role::none;
            p->stroke = std::max(p->stroke, page.stroke);
        }
        if (auto* l = std::get_if<Line>(&item.shape)) l->stroke = std::max(l->stroke, page.stroke);
        if (auto* d = std::get_if<Dot>(&item.shape)) *d = Dot{d->at, 2.0 * page.stroke, Role::text, Role::none, false};
        out.items.push_back(item);
    }
    return out;
}

/// What must be seen, and how many points a millimetre takes then.
double place_on(const Scene& scene, const ClassPage& page, Picture& out) {
    Picture bounds;
    set_bounds(scene, bounds);
    const double half = scene.side_edge();
    const double columns = 2.0 * (column_em + gap_em) * page.letters;
    const double height = bounds.hi.y - bounds.lo.y;
    const double scale =
        std::min(page.height / height, std::max(0.2 * page.width, page.width - columns) / (2.0 * half));
    const double reach = half + 0.5 * columns / scale;
    out.lo = {-reach, bounds.lo.y};
    out.hi = {reach, bounds.hi.y};
    return scale;
}

/// A name in the column beside the table and a line to what it names.
void name_beside(const Scene& scene, const ClassPage& page, double side, double y, Vec2 part, std::string text,
                 Role role, Picture& out) {
    const Vec2 foot{side * (scene.side_edge() + 6.0), y};
    add(out, Line{{foot, part}, role, page.stroke});
    add(out, word(foot, {side * gap_em * page.letters, 0.36 * page.letters}, std::move(text), page,
                  side > 0.0 ? Align::left : Align::right, role));
}

void add_class_names(const Scene& scene, const ClassPage& page, double scale, Picture& out) {
    const shop::Drawing& d = scene.drawing();
    const double line = line_em * page.letters / scale;
    const double m = scene.mirror;
    const double top = 0.5 * d.table.depth_mm - line;
    const double blade = std::min(top, 0.5 * scene.chord);
    name_beside(scene, page, m, blade, {0.0, 0.5 * scene.chord - 6.0}, "blade", Role::text, out);
    const int cut = std::max(scene.shown.cut, 1);
    const bool parted = scene.parted();
    if (parted) {
        const Quad off = scene.offcut(cut);
        const Vec2 middle = scene.table(0.5 * (off.fence_blade + off.far_blade));
        name_beside(scene, page, m, std::min(middle.y, blade - line), middle, cut == 5 ? "strip" : "offcut", Role::text,
                    out);
    }
    const Quad piece = parted ? scene.kept(cut) : scene.before(cut);
    const Vec2 middle = scene.table(0.25 * (piece.fence_blade + piece.far_blade + piece.far_out + piece.fence_out));
    add(out, word(middle, {0.0, 0.36 * page.letters}, parted ? "kept" : "board", page, Align::middle));
    const double x = -m * 0.5 * d.fence.length_mm;
    const Vec2 fence = scene.table({x + m * 12.0, scene.face(x) - 0.5 * d.fence.thickness_mm});
    name_beside(scene, page, -m, std::max(fence.y, out.lo.y + line), fence, "fence", Role::text, out);
}

/// No angle is drawn larger without saying so.
void add_factor(const Scene& scene, const ClassPage& page, Picture& out) {
    const Vec2 at{-scene.mirror * (scene.side_edge() + 6.0), out.hi.y};
    const Align align = scene.mirror > 0.0 ? Align::right : Align::left;
    const double x = -scene.mirror * gap_em * page.letters;
    const bool known = scene.shown.skew_known;
    const Role role = known ? Role::wrong : Role::quiet;
    add(out, word(at, {x, line_em * page.letters}, known ? "angles drawn" : "error hidden", page, align, role));
    add(out, word(at, {x, 2.0 * line_em * page.letters}, known ? factor_text(scene.factor) : "until read", page, align,
                  role));
}

// ---- chart and verdict: on the page's own points, y up ----

std::vector<Vec2> box(double x0, double y0, double x1, double y1) {
    return rectangle(std::min(x0, x1), std::min(y0, y1), std::max(x0, x1), std::max(y0, y1));
}

Picture blank(const ClassPage& page, std::string title) {
    Picture out;
    out.lo = {0.0, 0.0};
    out.hi = {page.width, page.height};
    out.title = std::move(title);
    return out;
}

/// The chart's field: sums above zero stand up, below zero hang.
struct Field {
    double zero = 0.0;
    double per_rad = 0.0;
    double column = 0.0;
    double x(int cut) const { return column * (static_cast<double>(cut) + 0.1); }
};

Field field_of(const Chart& chart, const ClassPage& page) {
    double most = chart.tolerance_rad;
    double least = -chart.tolerance_rad;
    double lowest = 0.0;
    for (const Chart::Bar& b : chart.bars) {
        most = std::max(most, b.sum_rad);
        least = std::min(least, b.sum_rad);
        lowest = std::min(lowest, b.sum_rad);
    }
    const double head = 1.4 * page.letters;
    const auto scale_over = [&](double foot) { return (page.height - foot - head) / std::max(most - least, 1e-12); };
    // Room for the names of the cuts, and of the columns where they hang down to those.
    const double names = 1.6 * page.letters;
    const bool hangs = lowest < 0.0 && (lowest - least) * scale_over(names) < 1.2 * page.letters;
    const double foot = hangs ? 2.8 * page.letters : names;
    const double per_rad = scale_over(foot);
    return {foot - least * per_rad, per_rad, page.width / 6.0};
}

void add_column(const Chart::Bar& bar, const Field& f, bool newest, const ClassPage& page, Picture& out) {
    const double x = f.x(bar.cut);
    const double half = 0.3 * f.column;
    const double each = bar.corners == 0 ? 0.0 : bar.sum_rad / bar.corners * f.per_rad;
    for (int i = 0; i < bar.corners; ++i) {
        add(out, Polygon{box(x - half, f.zero + each * i, x + half, f.zero + each * (i + 1)),
                         i + 1 == bar.corners ? Role::read : Role::read_fill, Role::read, page.stroke});
    }
    if (bar.corners > 0) {
        const double end = f.zero + each * bar.corners;
        add(out, word({x, end}, {0.0, each < 0.0 ? 1.05 * page.letters : -0.4 * page.letters}, bar.label, page,
                      Align::middle, Role::read));
    }
    add(out, word({x, 0.0}, {0.0, -0.35 * page.letters}, fmt::format("cut {}", bar.cut), page, Align::middle,
                  newest ? Role::text : Role::quiet));
}

}  // namespace

Picture class_table(const session::Seen& seen, const ViewOptions& options, const ClassPage& page) {
    const Scene scene = scene_of(seen, options);
    Picture parts;
    add_table(scene, parts);
    add_base(scene, parts);
    add_fence(scene, parts);
    add_pieces(scene, parts);
    add_blade(scene, parts);
    add_calipers(scene, options, parts);
    Picture out = thickened(parts, page);
    ViewOptions shown = options;
    shown.revealed.reset();  // here the truth is never drawn
    out.title = table_view(seen, shown).title;
    const double scale = place_on(scene, page, out);
    add_class_names(scene, page, scale, out);
    add_factor(scene, page, out);
    return out;
}

Picture class_chart(const session::Seen& seen, const ViewOptions& options, const ClassPage& page) {
    Picture out = blank(page, "How the corner error adds up.");
    const Chart data = chart(seen, options);
    const Field f = field_of(data, page);
    const double tolerance = data.tolerance_rad * f.per_rad;
    add(out, Polygon{box(0.0, f.zero - tolerance, page.width, f.zero + tolerance), Role::good_fill, Role::none});
    add(out, Line{{{0.0, f.zero}, {page.width, f.zero}}, Role::quiet, page.stroke});
    for (const Chart::Bar& bar : data.bars) add_column(bar, f, bar.cut == data.bars.back().cut, page, out);
    add(out, word({0.0, f.zero + std::min(tolerance, f.per_rad * data.tolerance_rad)},
                  {0.4 * page.letters, -0.4 * page.letters}, "tolerance", page, Align::left, Role::good));
    return out;
}

Picture class_verdict(const session::Seen& seen, const ViewOptions& options, const ClassPage& page) {
    Picture out = blank(page, "The verdict: what the error can be, against the tolerance.");
    const session::Test* last = seen.last_test();
    const session::Test* test = last != nullptr && last->verdict ? last : nullptr;
    const double tolerance = test == nullptr ? seen.drawing.tolerance_rad : test->verdict->tolerance_rad;
    const double lo = test == nullptr ? 0.0 : test->verdict->coverage95.lo;
    const double hi = test == nullptr ? 0.0 : test->verdict->coverage95.hi;
    const double reach = 1.5 * std::max({tolerance, std::fabs(lo), std::fabs(hi)});
    const double middle = 0.5 * page.width;
    const double low = 2.6 * page.letters;
    const double high = page.height - 1.4 * page.letters;
    const auto x = [&](double rad) { return middle * (1.0 + rad / reach); };
    // The unit stands once, above: three times it would not leave room for letters that are read from the back.
    const auto words = [&](double rad) { return skew_number(rad, options.units); };
    add(out, Polygon{box(x(-tolerance), low, x(tolerance), high), Role::good_fill, Role::good, page.stroke});
    add(out, Line{{{middle, low}, {middle, high}}, Role::quiet, page.stroke, true});
    add(out,
        word({middle, high}, {0.0, -0.4 * page.letters},
             fmt::format("tolerance ({})", base::show_angle_unit(options.units)), page, Align::middle, Role::good));
    // Outwards from the band, so that they keep apart however narrow it is.
    add(out, word({x(-tolerance), low}, {page.letters, 1.1 * page.letters}, words(-tolerance), page, Align::right,
                  Role::good));
    add(out, word({x(tolerance), low}, {-page.letters, 1.1 * page.letters}, words(tolerance), page, Align::left,
                  Role::good));
    const bool room = x(tolerance) - x(-tolerance) > 7.0 * page.letters;
    if (room) add(out, word({middle, low}, {0.0, 1.1 * page.letters}, "square", page, Align::middle, Role::quiet));
    if (test == nullptr) return out;
    const double y = low + 0.45 * (high - low);
    const double half = 0.5 * page.letters;
    add(out, Line{{{x(lo), y}, {x(hi), y}}, Role::read, 2.0 * page.stroke});
    for (const double end : {lo, hi})
        add(out, Line{{{x(end), y - half}, {x(end), y + half}}, Role::read, 2.0 * page.stroke});
    const double best = test->pooled_rad->value;
    add(out, Dot{{x(best), y}, 3.0 * page.stroke, Role::read, Role::none, false});
    add(out, word({x(best), y}, {0.0, -1.0 * page.letters}, fmt::format("read {}", words(best)), page, Align::middle,
                  Role::read));
    return out;
}

}  // namespace offsquare::picture
