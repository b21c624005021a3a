// SVG written by hand: cairo's own SVG turns letters into outlines, and words shall stay words that can be searched and
// read aloud.
#pragma once

#include "picture/canvas.h"

namespace offsquare::picture {

class SvgCanvas : public Canvas {
public:
    SvgCanvas(double width, double height, const std::string& title);
    void path(const std::vector<Vec2>& points, bool closed, const Ink& ink) override;
    void rounded(Vec2 corner, Vec2 size, double radius, const Ink& ink) override;
    void circle(Vec2 centre, double radius, const Ink& ink) override;
    void words(Vec2 at, const std::string& text, double size, Weight weight, Align align, Rgba colour) override;
    /// The whole file.
    std::string finish() const { return text_ + "</svg>\n"; }

private:
    std::string text_;
};

}  // namespace offsquare::picture
