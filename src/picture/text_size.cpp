#include "picture/text_size.h"

#include <algorithm>
#include <cmath>

#include "picture/pango_text.h"

namespace offsquare::picture {
namespace {

using SurfacePtr = std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)>;
using ContextPtr = std::unique_ptr<cairo_t, decltype(&cairo_destroy)>;

PangoWeight pango_weight(Weight weight) {
    if (weight == Weight::semibold) return PANGO_WEIGHT_SEMIBOLD;
    return weight == Weight::medium ? PANGO_WEIGHT_MEDIUM : PANGO_WEIGHT_NORMAL;
}

}  // namespace

LayoutPtr layout_of(cairo_t* cr, const std::string& text, double size, Weight weight) {
    LayoutPtr layout(pango_cairo_create_layout(cr));
    PangoFontDescription* font = pango_font_description_from_string("Inter, sans-serif");
    pango_font_description_set_weight(font, pango_weight(weight));
    pango_font_description_set_absolute_size(font, std::round(size * PANGO_SCALE));
    pango_layout_set_font_description(layout.get(), font);
    pango_font_description_free(font);
    PangoAttrList* attributes = pango_attr_list_new();
    pango_attr_list_insert(attributes, pango_attr_font_features_new("tnum=1"));
    pango_layout_set_attributes(layout.get(), attributes);
    pango_attr_list_unref(attributes);
    // Without this the letters are moved to whole pixels, and a word is as wide as the surface's resolution says.
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(pango_layout_get_context(layout.get()), options);
    cairo_font_options_destroy(options);
    pango_layout_context_changed(layout.get());
    pango_layout_set_text(layout.get(), text.data(), static_cast<int>(text.size()));
    return layout;
}

double text_width(const std::string& text, double size, Weight weight) {
    const SurfacePtr surface(cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, nullptr),
                             &cairo_surface_destroy);
    const ContextPtr context(cairo_create(surface.get()), &cairo_destroy);
    PangoRectangle logical;
    pango_layout_get_extents(layout_of(context.get(), text, size, weight).get(), nullptr, &logical);
    return static_cast<double>(logical.width) / PANGO_SCALE;
}

Box box_of(const Words& words, const Fit& fit) {
    const Vec2 at = fit.page(words.at) + words.nudge;
    const double width = text_width(words.text, words.size, words.weight);
    const double share = words.align == Align::left ? 0.0 : words.align == Align::middle ? 0.5 : 1.0;
    const double left = at.x - share * width;
    return {left, at.y - 0.76 * words.size, left + width, at.y + 0.24 * words.size};
}

Box box_of(const Tag& tag, const Fit& fit) {
    const Vec2 near = fit.page(tag.at) + tag.nudge;
    const bool figure = !tag.figure.empty();
    double width =
        2.0 * metrics::tag_pad + text_width(tag.word, metrics::tag_word, figure ? Weight::medium : Weight::semibold);
    if (figure) width += metrics::tag_gap + text_width(tag.figure, metrics::tag_figure, Weight::semibold);
    const double left = tag.nudge.x >= 0.0 ? near.x : near.x - width;
    return {left, near.y - 0.5 * metrics::tag_height, left + width, near.y + 0.5 * metrics::tag_height};
}

}  // namespace offsquare::picture
