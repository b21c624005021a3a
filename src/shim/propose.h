// From a skew to a shim: how thick, behind which end, from which pieces, and what will be left. Sees estimates only.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/uncertain.h"
#include "shop/drawing.h"

namespace offsquare::shim {

enum class At { none, left, right };
std::string_view name_of(At at);  ///< "none", "left", "right"

/// One piece out of the drawer.
struct PickedShim {
    std::string name;
    double thickness_mm = 0.0;
    double u_mm = 0.0;
    int drawer_row = 0;  ///< which line of the drawer
};

/// Some pieces behind one end, and what the fence will be like then.
struct Stack {
    At at = At::none;
    std::vector<PickedShim> pieces;  ///< thickest first
    double thickness_mm = 0.0;
    base::Uncertain remainder_rad;  ///< predicted skew with the stack in
};

/// What already stands behind the fence.
struct Behind {
    std::vector<PickedShim> left;
    std::vector<PickedShim> right;
};

/// The other end used as well: a shim taken out from behind it, or a thinner one put there against a thicker one here
/// (the difference counts).
struct OtherWay {
    std::vector<PickedShim> add_left;
    std::vector<PickedShim> add_right;
    std::vector<PickedShim> take_left;  ///< to be taken out; at most one piece in take_left and take_right together
    std::vector<PickedShim> take_right;
    base::Uncertain remainder_rad;
};
/// What to do, as part of a sentence: "put brass 0.400 mm behind the left end, and put brass 0.300 mm behind the right
/// end (the difference counts)".
std::string words_of(const OtherWay& way, base::Units units);

struct Proposal {
    base::Uncertain ideal_mm;  ///< thickness that would square the fence, >= 0 (span*tan|skew|), with its uncertainty
    At at = At::none;          ///< behind which end; none: no shim needed, or it cannot be told
    bool tells_end = true;     ///< false: the 95 % interval holds zero, so not even the end is sure
    Stack best;
    std::optional<OtherWay> other_way;
    std::string why;  ///< one plain sentence: why that end, or why none
};

/// Ideal shim for a skew: span * tan(|skew|), behind the end that sits too near the operator (left for a skew > 0).
base::Uncertain ideal_shim(const base::Uncertain& skew_rad, double span_mm);

/// `left_in_drawer[i]` pieces of drawer line i are still there (the rest is behind the fence already). Exact
/// enumeration: no other choice of pieces at that end leaves less; among choices that leave the same (within 1e-9 mm)
/// the fewest pieces. The scenario room allows 20 pieces at most, so this takes a moment at worst. The other way uses
/// at most two pieces an end, and is offered when it leaves less than half of what the best stack leaves, and that
/// matters (more than a tenth of the tolerance).
Proposal propose(const base::Uncertain& skew_rad, const shop::Drawing& drawing, const std::vector<int>& left_in_drawer,
                 const Behind& behind = {});

}  // namespace offsquare::shim
