// PNG and PDF, by cairo and Pango.
#pragma once

#include <cairo.h>

#include "picture/canvas.h"

namespace offsquare::picture {

class CairoCanvas : public Canvas {
public:
    explicit CairoCanvas(cairo_t* cr) : cr_(cr) {}
    void path(const std::vector<Vec2>& points, bool closed, const Ink& ink) override;
    void rounded(Vec2 corner, Vec2 size, double radius, const Ink& ink) override;
    void circle(Vec2 centre, double radius, const Ink& ink) override;
    void words(Vec2 at, const std::string& text, double size, Weight weight, Align align, Rgba colour) override;

private:
    void fill_and_stroke(const Ink& ink);
    cairo_t* cr_;  ///< not owned
};

}  // namespace offsquare::picture
