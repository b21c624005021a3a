// Look at the working: the readings count as final. (The numbers themselves follow from the readings alone.)
#pragma once

#include "session/actions/act.h"

namespace offsquare::session {

struct WorkOut {
    static constexpr std::string_view word = "work-out";
    std::string sentence(const shop::Drawing& drawing, base::Units units) const;
    Cost cost() const { return {}; }
    void write(Json& to) const;
    static base::Result<WorkOut> read(const Json& from);
    base::Result<void> apply(State& state) const;
};

}  // namespace offsquare::session
