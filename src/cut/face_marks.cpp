#include "cut/face_marks.h"

#include <cmath>

#include "base/elementary.h"
#include "shop/truth.h"

namespace offsquare::cut {
FaceMarks marks_of(const shop::Drawing& drawing, const shop::Truth& truth, const Cut& cut) {
    const double depth = shop::chord_mm(drawing.blade) * std::abs(base::tan_of(truth.blade_toe_rad));
    return {cut.kerf_mm, cut.step_mm, depth, depth >= visible_mark_mm, truth.blade_tilt_rad};
}

}  // namespace offsquare::cut
