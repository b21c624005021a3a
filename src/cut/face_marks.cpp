#include "cut/face_marks.h"

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "shop/truth.h"

namespace offsquare::cut {
namespace {

/// Where the blade passed wholly, the face is the line of its last stretch; a pass that stopped short leaves the near
/// end of the face off that line.
double step_of(const Kerf& kerf, shop::Side kept) {
    if (kerf.whole) return 0.0;
    const Face& face = kept == shop::Side::left ? kerf.left : kerf.right;
    if (face.size() < 3) return 0.0;
    const Vec2 a = face[face.size() - 2];
    const Vec2 b = face.back();
    const double line = b.x + (b.x - a.x) / (b.y - a.y) * (face.front().y - b.y);
    return std::abs(face.front().x - line);
}

}  // namespace

FaceMarks marks_of(const shop::Drawing& drawing, const shop::Truth& truth, const Cut& cut) {
    const double depth = shop::chord_mm(drawing.blade) * std::abs(base::tan_of(truth.blade_toe_rad));
    return {cut.kerf_mm, step_of(cut.kerf, drawing.board.kept), depth, depth >= visible_mark_mm, truth.blade_tilt_rad};
}

}  // namespace offsquare::cut
