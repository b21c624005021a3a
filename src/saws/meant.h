// What may have been meant by a length that cannot be: another decimal place, or the other unit.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "saws/slips.h"

namespace offsquare::saws {

/// As it was typed: with as many digits, in its own unit.
std::string as_typed(const base::Typed& typed);

struct Way {
    double factor;    ///< what was meant is so many times what was typed
    bool other_unit;  ///< inches for millimetres, or the other way round
};
/// The likeliest first.
inline constexpr std::array<Way, 6> ways{{{10.0, false},
                                          {0.1, false},
                                          {base::mm_per_inch, true},
                                          {1.0 / base::mm_per_inch, true},
                                          {100.0, false},
                                          {0.01, false}}};
base::Typed meant_by(const base::Typed& typed, const Way& way);

/// Between which a length may lie [mm], and what says so.
struct Between {
    double lo = 0.0;
    double hi = 0.0;
    std::string said;  ///< "strips before were 11 mm to 13 mm wide", in mm
    bool holds(double mm) const { return mm >= lo && mm <= hi; }
};

/// The question about a length that lies outside; nothing where it lies inside.
std::optional<Question> against(Field field, std::size_t index, const char* name, const base::Typed& typed,
                                const Between& bounds, base::Units units);

/// One of these lengths that one of the ways makes of it, within 2 % [mm].
std::optional<double> turned_into(double mm, const std::vector<double>& known);

}  // namespace offsquare::saws
