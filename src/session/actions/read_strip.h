// Put the caliper on the strip and read it. Several readings at one end are repeats.
#pragma once

#include "session/actions/act.h"

namespace offsquare::session {

/// An end of the strip: the one that lay at the fence during the fifth cut, or the far one.
enum class End { fence, far };

struct Read {
    static constexpr std::string_view word = "read";
    End end = End::fence;
    double station_mm = 0.0;  ///< how far in from that end, along the old edge, >= 0

    std::string sentence(const shop::Drawing& drawing, base::Units units) const;
    Cost cost() const { return {}; }  ///< it is in the test's
    void write(Json& to) const;
    static base::Result<Read> read(const Json& from);
    base::Result<void> apply(State& state) const;
};

}  // namespace offsquare::session
