// A picture on paper or in a file.
#pragma once

#include <string>

#include "base/result.h"
#include "picture/shapes.h"

namespace offsquare::picture {

struct Page {
    double width = 1000.0;  ///< points (pixels for PNG)
    double height = 700.0;
    Scheme scheme = Scheme::light;
    double scale = 1.0;  ///< PNG only: pixels per point
};

/// By the file's ending: .svg, .png or .pdf (any other: Grade::usage). Same picture, same bytes. Words stay words in
/// SVG and PDF.
base::Result<void> write(const Picture& picture, const Page& page, const std::string& path);
/// The same to memory; `kind` is "svg", "png" or "pdf".
base::Result<std::string> render(const Picture& picture, const Page& page, const std::string& kind);

}  // namespace offsquare::picture
