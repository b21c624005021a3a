// What a picture is painted on: paths and words on a page in points, y down. SVG writes its own file, PNG and PDF go
// through cairo.
#pragma once

#include <string>
#include <vector>

#include "picture/shapes.h"

namespace offsquare::picture {

/// How a path is filled and drawn. Alpha 0: not at all.
struct Ink {
    Rgba fill{0, 0, 0, 0};
    Rgba line{0, 0, 0, 0};
    double stroke = 1.0;
    bool dashed = false;
};

class Canvas {
public:
    virtual ~Canvas() = default;
    virtual void path(const std::vector<Vec2>& points, bool closed, const Ink& ink) = 0;
    /// A rectangle with round corners, not turned.
    virtual void rounded(Vec2 corner, Vec2 size, double radius, const Ink& ink) = 0;
    virtual void circle(Vec2 centre, double radius, const Ink& ink) = 0;
    /// Words whose baseline begins, has its middle, or ends at `at`.
    virtual void words(Vec2 at, const std::string& text, double size, Weight weight, Align align, Rgba colour) = 0;
};

/// Paints the picture, fitted to the page. The page is filled with the card colour first.
void paint(const Picture& picture, double width, double height, Scheme scheme, Canvas& canvas);

}  // namespace offsquare::picture
