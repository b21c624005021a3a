// Make one of the checks and write down what it reads; where the sled jams at it, that it jams.
#pragma once

#include "measure/check.h"
#include "session/actions/act.h"

namespace offsquare::session {

struct MakeCheck {
    static constexpr std::string_view word = "check";
    measure::Check check = measure::Check::five_cut;

    std::string sentence(const shop::Drawing& drawing, base::Units units) const;
    Cost cost() const;
    void write(Json& to) const;
    static base::Result<MakeCheck> read(const Json& from);
    base::Result<void> apply(State& state) const;
};

}  // namespace offsquare::session
