#include "cut/face_marks.h"

#include <cmath>

#include "base/elementary.h"
#include "shop/truth.h"

namespace offsquare::cut {
namespace {

/// Turned counter-clockwise, the blade's far end, where its rear teeth are, stands out to the left.
std::optional<shop::Side> heel_leads_out(double toe) {
    if (toe == 0.0) return std::nullopt;
    return toe > 0.0 ? shop::Side::left : shop::Side::right;
}

}  // namespace

FaceMarks marks_of(const shop::Drawing& drawing, const shop::Truth& truth, const Cut& cut) {
    const double depth = shop::chord_mm(drawing.blade) * std::abs(base::tan_of(truth.blade_toe_rad));
    return {cut.kerf_mm,         cut.step_mm, depth, heel_leads_out(truth.blade_toe_rad), depth >= visible_mark_mm,
            truth.blade_tilt_rad};
}

}  // namespace offsquare::cut
