// What a cut leaves to be seen: the width of the kerf, marks of the heel, a step where the push stopped short, a bevel.
#pragma once

#include <optional>

#include "cut/five_cut.h"
#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::cut {

/// What the rear teeth must take again so that a person sees it against the light [mm]; invented.
inline constexpr double visible_mark_mm = 0.05;

struct FaceMarks {
    double kerf_mm = 0.0;        ///< width of the kerf at the fence
    double step_mm = 0.0;        ///< how far the kept face, where the blade never quite passed, stands out at the fence
                                 ///< against the face of a whole pass; 0 after one
    double heel_depth_mm = 0.0;  ///< how much the rear teeth took again after the front teeth: chord * |tan toe|. After
                                 ///< a whole pass it is gone from all of that face: no step is left to be felt, but
                                 ///< that of single teeth, which is not modelled
    std::optional<shop::Side> heel_on;  ///< the piece whose face that is, the other has none of it; empty: no toe
    bool heel_marks = false;            ///< enough to be seen
    double bevel_rad = 0.0;             ///< the face against the board's face, > 0 its top leans to the right
};

FaceMarks marks_of(const shop::Drawing& drawing, const shop::Truth& truth, const Cut& cut);

}  // namespace offsquare::cut
