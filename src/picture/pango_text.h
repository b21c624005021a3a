// Pango's side of words: one layout, measured or drawn. Only the files of this room that draw by cairo include it.
#pragma once

#include <pango/pangocairo.h>

#include <memory>
#include <string>

#include "picture/shapes.h"

namespace offsquare::picture {

struct Unref {
    void operator()(gpointer object) const { g_object_unref(object); }
};
using LayoutPtr = std::unique_ptr<PangoLayout, Unref>;

/// A layout of one line on this context, `size` in units of the context (em). Figures are tabular.
LayoutPtr layout_of(cairo_t* cr, const std::string& text, double size, Weight weight);

}  // namespace offsquare::picture
