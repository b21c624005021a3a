// Whether what was painted stays where it is when it has been shown. The headers of GLX are seen in gl_show.cpp only:
// X's define common words as macros.
#pragma once

#include "picture/shapes.h"

namespace offsquare::gui {

/// A processor that paints without a card keeps one picture and shows copies of it: then only what changed needs to be
/// painted. With a card two or three pictures take turns, and painting all of the next is cheap. Asks the OpenGL
/// context that is current, and tries it out: shows the ground of the window twice.
bool keeps_what_is_shown(picture::Rgba ground);

}  // namespace offsquare::gui
