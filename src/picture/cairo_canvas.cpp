#include "picture/cairo_canvas.h"

#include <algorithm>
#include <array>

#include "base/quantity.h"
#include "picture/pango_text.h"

namespace offsquare::picture {
namespace {

void set_colour(cairo_t* cr, Rgba c) { cairo_set_source_rgba(cr, c.r / 255.0, c.g / 255.0, c.b / 255.0, c.a / 255.0); }

}  // namespace

void CairoCanvas::fill_and_stroke(const Ink& ink) {
    if (ink.fill.a != 0) {
        set_colour(cr_, ink.fill);
        cairo_fill_preserve(cr_);
    }
    if (ink.line.a != 0) {
        const std::array<double, 2> dashes{metrics::dash_on, metrics::dash_off};
        set_colour(cr_, ink.line);
        cairo_set_line_width(cr_, ink.stroke);
        cairo_set_line_join(cr_, CAIRO_LINE_JOIN_ROUND);
        cairo_set_dash(cr_, dashes.data(), ink.dashed ? 2 : 0, 0.0);
        cairo_stroke_preserve(cr_);
    }
    cairo_new_path(cr_);
}

void CairoCanvas::path(const std::vector<Vec2>& points, bool closed, const Ink& ink) {
    for (const Vec2& p : points) cairo_line_to(cr_, p.x, p.y);
    if (closed) cairo_close_path(cr_);
    fill_and_stroke(ink);
}

void CairoCanvas::rounded(Vec2 corner, Vec2 size, double radius, const Ink& ink) {
    const double r = std::min({radius, 0.5 * size.x, 0.5 * size.y});
    const double quarter = 0.5 * base::pi;
    cairo_new_sub_path(cr_);
    cairo_arc(cr_, corner.x + size.x - r, corner.y + r, r, -quarter, 0.0);
    cairo_arc(cr_, corner.x + size.x - r, corner.y + size.y - r, r, 0.0, quarter);
    cairo_arc(cr_, corner.x + r, corner.y + size.y - r, r, quarter, 2.0 * quarter);
    cairo_arc(cr_, corner.x + r, corner.y + r, r, 2.0 * quarter, 3.0 * quarter);
    cairo_close_path(cr_);
    fill_and_stroke(ink);
}

void CairoCanvas::circle(Vec2 centre, double radius, const Ink& ink) {
    cairo_new_sub_path(cr_);
    cairo_arc(cr_, centre.x, centre.y, radius, 0.0, 2.0 * base::pi);
    fill_and_stroke(ink);
}

void CairoCanvas::words(Vec2 at, const std::string& text, double size, Weight weight, Align align, Rgba colour) {
    const LayoutPtr layout = layout_of(cr_, text, size, weight);
    PangoRectangle logical;
    pango_layout_get_extents(layout.get(), nullptr, &logical);
    const double width = static_cast<double>(logical.width) / PANGO_SCALE;
    const double share = align == Align::left ? 0.0 : align == Align::middle ? 0.5 : 1.0;
    const double baseline = static_cast<double>(pango_layout_get_baseline(layout.get())) / PANGO_SCALE;
    set_colour(cr_, colour);
    cairo_move_to(cr_, at.x - share * width, at.y - baseline);
    pango_cairo_show_layout(cr_, layout.get());
    cairo_new_path(cr_);
}

}  // namespace offsquare::picture
