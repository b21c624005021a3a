// Whether the sled goes through its slots: what the check push_through reads, as words and as a number.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/quantity.h"
#include "shop/drawing.h"

namespace offsquare::measure {

enum class Going {
    does_not_go_in,  ///< the runners do not even start in their slots
    sticks,          ///< they go in, and stick on the way
    goes,            ///< the whole way, past the blade
};

/// The travels s (the fence's face in T) between which it is tried: from where the front ends of the runners have just
/// gone in until the fence has passed the blade, or the stop.
struct WayIn {
    double from_mm = 0.0;
    double to_mm = 0.0;
};
WayIn way_in(const shop::Drawing& drawing);

/// Standard uncertainty of how far it went: a tape along a table, read to the millimetre.
inline constexpr double push_u_mm = 1.0;

/// How far the front ends of the runners are past the table's near edge with the fence's face at `s_mm` [mm].
double gone_in_mm(const shop::Drawing& drawing, double s_mm);

/// The number that stands for "goes": how far they are past it at the end of the way [mm].
double whole_way_mm(const shop::Drawing& drawing);

/// What a number says: below the start of the way it does not go in, from its end on it goes.
Going going_of(double went_mm, const shop::Drawing& drawing);

/// The number for "goes" and "does not go in"; empty for anything else.
std::optional<double> went_of(std::string_view words, const shop::Drawing& drawing);

/// "goes", "does not go in" or "sticks 212 mm in".
std::string words_of_went(double went_mm, const shop::Drawing& drawing, base::Units units);

}  // namespace offsquare::measure
