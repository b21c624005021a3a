// How much room words take, by Pango with the project's font (Inter, or the sans that stands in for it). No display is
// needed.
#pragma once

#include <string>

#include "picture/shapes.h"

namespace offsquare::picture {

/// Where words stand on a page, in points, y down.
struct Box {
    double left = 0.0, top = 0.0, right = 0.0, bottom = 0.0;
    double width() const { return right - left; }
    double height() const { return bottom - top; }
};

/// Width of one line of words [points]; `size` in points (em).
double text_width(const std::string& text, double size, Weight weight);

/// The room of Words, from the top of the capitals to the foot of the descenders.
Box box_of(const Words& words, const Fit& fit);
/// The room of a Tag's label, without its leader line.
Box box_of(const Tag& tag, const Fit& fit);

}  // namespace offsquare::picture
