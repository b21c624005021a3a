// Put pieces behind an end of the fence, and take them out.
#pragma once

#include "session/actions/act.h"
#include "shim/propose.h"

namespace offsquare::session {

/// One piece from the drawer.
struct PutShim {
    static constexpr std::string_view word = "put-shim";
    shim::At at = shim::At::left;
    int drawer_row = 0;

    std::string sentence(const shop::Drawing& drawing, base::Units units) const;
    Cost cost() const { return {}; }
    void write(Json& to) const;
    static base::Result<PutShim> read(const Json& from);
    base::Result<void> apply(State& state) const;
};

/// Something of exactly this thickness (from the command line: a shim that is not in the drawer).
struct PutThickness {
    static constexpr std::string_view word = "put-thickness";
    shim::At at = shim::At::left;
    double thickness_mm = 0.0;

    std::string sentence(const shop::Drawing& drawing, base::Units units) const;
    Cost cost() const { return {}; }
    void write(Json& to) const;
    static base::Result<PutThickness> read(const Json& from);
    base::Result<void> apply(State& state) const;
};

/// The last piece put behind this end is taken out again.
struct TakeShim {
    static constexpr std::string_view word = "take-shim";
    shim::At at = shim::At::left;

    std::string sentence(const shop::Drawing& drawing, base::Units units) const;
    Cost cost() const { return {}; }
    void write(Json& to) const;
    static base::Result<TakeShim> read(const Json& from);
    base::Result<void> apply(State& state) const;
};

}  // namespace offsquare::session
