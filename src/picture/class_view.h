// The table, the strip chart and the verdict for the back of a room: few words, large letters, thick lines. Sizes are
// given in points of the page.
#pragma once

#include "picture/table_view.h"

namespace offsquare::picture {

struct ClassPage {
    double width = 1000.0;  ///< of the place for this picture [points], more than twenty letters
    double height = 500.0;
    double letters = 32.0;  ///< em size of every word [points]
    double stroke = 4.0;    ///< no line is thinner
};

/// Both ways fit(picture, width, height, 0) puts the picture on the page with one point of its own scale where the
/// chart and the verdict are concerned.
Picture class_table(const session::Seen& seen, const ViewOptions& options, const ClassPage& page);
Picture class_chart(const session::Seen& seen, const ViewOptions& options, const ClassPage& page);
/// What the error can be (95 %) as a bar, against the tolerance as a band. Empty but for the band while the last test
/// is not judged.
Picture class_verdict(const session::Seen& seen, const ViewOptions& options, const ClassPage& page);

}  // namespace offsquare::picture
