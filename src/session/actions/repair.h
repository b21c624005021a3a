// Put one fault right, as well as that goes. What was read about it no longer holds.
#pragma once

#include "session/actions/act.h"
#include "shop/fault.h"

namespace offsquare::session {

struct Repair {
    static constexpr std::string_view word = "repair";
    shop::Fault fault = shop::Fault::fence_skew;
    /// A fence is squared as it stands: as it was clamped, with the shims behind it. False only in sessions of version
    /// 0.1.0 before it was so: there the bare fence was squared, and its clamping and shims turned it again.
    bool with_shims = true;

    std::string sentence(const shop::Drawing& drawing, base::Units units) const;
    Cost cost() const;
    void write(Json& to) const;
    static base::Result<Repair> read(const Json& from);
    base::Result<void> apply(State& state) const;
};

}  // namespace offsquare::session
