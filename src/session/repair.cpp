#include "session/repair.h"

#include <algorithm>
#include <array>

#include "base/random.h"
#include "diagnose/prior.h"

namespace offsquare::session {

double left_over(shop::Fault fault, std::uint64_t seed, std::uint32_t n, measure::Precision precision) {
    if (precision == measure::Precision::exact) return 0.0;
    constexpr double worse_than_new = 1.5;
    const diagnose::Lobe& good = diagnose::declared_prior()[static_cast<std::size_t>(fault)].front();
    const double z = base::standard_normal({seed, base::Purpose::repair, n, static_cast<std::uint32_t>(fault)});
    return std::max(good.mean + worse_than_new * good.sd * z,
                    shop::info(fault).min == 0.0 ? 0.0 : shop::info(fault).min);
}

double repair_minutes(shop::Fault fault) {
    // In the order of the enum: fence, runners and slots, blade, board, instruments.
    constexpr std::array<double, shop::fault_count> minutes{10, 45, 20, 1,  10, 30, 30, 30, 60,
                                                            60, 40, 20, 10, 30, 8,  1,  5};
    return minutes[static_cast<std::size_t>(fault)];
}

}  // namespace offsquare::session
