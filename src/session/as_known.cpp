#include "session/as_known.h"

#include "cut/five_cut.h"
#include "session/reveal.h"
#include "shop/truth.h"

namespace offsquare::session {
namespace {

Offcuts offcuts_in(const cut::FiveCut& cuts) {
    Offcuts out;
    for (int cut = 1; cut <= cuts.cuts_made && cut <= static_cast<int>(out.size()); ++cut) {
        for (const cut::Corner& c : cuts.offcut(cut)) out[static_cast<std::size_t>(cut - 1)].push_back(c.p);
    }
    return out;
}

}  // namespace

Offcuts offcuts_as_known(const Test& test) {
    shop::Truth assumed;
    if (test.skew_rad) assumed.fence_skew_rad = test.skew_rad->value;
    return offcuts_in(cut::five_cut(test.drawing, assumed, {}));
}

Offcuts offcuts_of(const TrueTest& test) { return offcuts_in(*test.cut); }

}  // namespace offsquare::session
