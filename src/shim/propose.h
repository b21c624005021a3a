// From a skew to a shim: how thick, behind which end, from which pieces, and what will be left. Sees estimates only.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/uncertain.h"
#include "shop/drawing.h"

namespace offsquare::shim {

enum class At { none, left, right };
std::string_view name_of(At at);   ///< "none", "left", "right"

/// One piece out of the drawer.
struct PickedShim {
    std::string name;
    double thickness_mm = 0.0;
    double u_mm = 0.0;
    int drawer_row = 0;            ///< which line of the drawer
};

/// Some pieces behind one end, and what the fence will be like then.
struct Stack {
    At at = At::none;
    std::vector<PickedShim> pieces;      ///< thickest first
    double thickness_mm = 0.0;
    base::Uncertain remainder_rad;       ///< predicted skew with the stack in
};

/// Shims on both ends, or a shim taken from the far end, when that comes closer than the drawer can at one end.
struct OtherWay {
    std::vector<PickedShim> add_left;
    std::vector<PickedShim> add_right;
    base::Uncertain remainder_rad;
    std::string sentence;                ///< what to do, and what it gains
};

struct Proposal {
    base::Uncertain ideal_mm;            ///< thickness that would square the fence, >= 0 (span*tan|skew|), with its uncertainty
    At at = At::none;                    ///< behind which end; none: no shim needed, or it cannot be told
    bool tells_end = true;               ///< false: the 95 % interval holds zero, so not even the end is sure
    Stack best;
    std::optional<OtherWay> other_way;
    std::string why;                     ///< one plain sentence: why that end, or why none
};

/// Ideal shim for a skew: span * tan(|skew|), behind the end that sits too near the operator (left for a skew > 0).
base::Uncertain ideal_shim(const base::Uncertain& skew_rad, double span_mm);

/// `left_in_drawer[i]` pieces of drawer line i are still there (the rest is behind the fence already). Exact enumeration: no other choice of pieces at that end leaves
/// less; among choices that leave the same (within 1e-9 mm) the fewest pieces. At most 20 pieces are considered (see scenario limits).
Proposal propose(const base::Uncertain& skew_rad, const shop::Drawing& drawing, const std::vector<int>& left_in_drawer);

}  // namespace offsquare::shim
