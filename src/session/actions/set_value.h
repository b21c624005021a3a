// Change values of the scenario: a size, an instrument, a hidden error. What was read before belongs to another set-up.
#pragma once

#include "session/actions/act.h"

namespace offsquare::session {

struct SetValue {
    static constexpr std::string_view word = "set";
    std::string key;    ///< dotted path, "fence.shim_left"
    std::string value;  ///< as typed

    std::string sentence(const shop::Drawing& drawing, base::Units units) const;
    Cost cost() const { return {}; }
    void write(Json& to) const;
    static base::Result<SetValue> read(const Json& from);
    base::Result<void> apply(State& state) const;
};

/// Two values at once, as one thing that is done and undone: the sizes of a board whose corner was dragged.
struct SetBoth {
    static constexpr std::string_view word = "set-both";
    SetValue first;
    SetValue second;

    std::string sentence(const shop::Drawing& drawing, base::Units units) const;
    Cost cost() const { return {}; }
    void write(Json& to) const;
    static base::Result<SetBoth> read(const Json& from);
    base::Result<void> apply(State& state) const;
};

}  // namespace offsquare::session
