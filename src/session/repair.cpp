#include "session/repair.h"

#include <algorithm>

#include "base/random.h"

namespace offsquare::session {

double left_over(shop::Fault fault, std::uint64_t seed, std::uint32_t n, measure::Precision precision) {
    if (precision == measure::Precision::exact) return 0.0;
    const shop::FaultInfo& row = shop::info(fault);
    const double z = base::standard_normal({seed, base::Purpose::repair, n, static_cast<std::uint32_t>(fault)});
    return std::max(row.repair_leaves.mean + row.repair_leaves.sd * z, row.min);
}

double repair_minutes(shop::Fault fault) { return shop::info(fault).repair_minutes; }

}  // namespace offsquare::session
