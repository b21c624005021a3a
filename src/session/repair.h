// What a repair leaves: nobody gets a saw to nothing.
#pragma once

#include <cstdint>

#include "measure/instruments.h"
#include "shop/fault.h"

namespace offsquare::session {

/// The size of a fault after it was put right, as its row says (shop/fault.h) [mm or rad]. `n`: which repair of the
/// session. Read exactly, the repair is perfect too.
double left_over(shop::Fault fault, std::uint64_t seed, std::uint32_t n, measure::Precision precision);

/// As the row says.
double repair_minutes(shop::Fault fault);

}  // namespace offsquare::session
