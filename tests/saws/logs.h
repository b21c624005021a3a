// Logs of invented sleds for the tests of this room.
#pragma once

#include <string>
#include <vector>

#include "saws/sled.h"
#include "saws/set_up.h"

namespace logs {

using namespace offsquare;
using namespace offsquare::saws;

inline Date day(int year, unsigned month, unsigned d) {
    return {std::chrono::year(year), std::chrono::month(month), std::chrono::day(d)};
}
inline const Date today = day(2026, 11, 29);

inline base::Typed mm(const std::string& text) { return *base::parse_length(text, base::LengthUnit::mm); }

inline Strip strip(const std::string& fence_end, const std::string& far_end, const std::string& between = "305",
                   const std::string& span = "500") {
    Strip s;
    s.fence_end = {mm(fence_end)};
    s.far_end = {mm(far_end)};
    s.between = mm(between);
    s.span = mm(span);
    s.fell = shop::Side::right;
    return s;
}

/// Adds, or throws what was refused.
inline Sled with(const Sled& sled, What what, Date date = today, std::optional<int> corrects = std::nullopt) {
    auto more = added(sled, std::move(what), date, today, corrects);
    if (!more) throw std::runtime_error(more.error().message);
    return *more;
}

/// A test, a shim, a test that passes, and more: every kind of entry.
inline Sled blue_sled() {
    Sled s{"the blue sled", "cabinet saw", base::Units::metric, {}};
    s = with(s, SizesTyped{{{"fence.span", "500 mm"}, {"tolerance.corner", "0.35 mrad"}}}, day(2026, 3, 3));
    s = with(s, DrawerTyped{{{"brass", 0.1, 0.003, 4}, {"paper", 0.05, 0.005, 5}}}, day(2026, 3, 3));
    s = with(s, StripTest{strip("12.62", "12.02")}, day(2026, 3, 3));
    s = with(s, ShimsMoved{{{"brass", 0.1, 0.003}, {"brass", 0.1, 0.003}, {"paper", 0.05, 0.005}}, {}, {}, {}},
             day(2026, 3, 3));
    s = with(s, StripTest{strip("12.11", "12.10")}, day(2026, 3, 4));
    s = with(s, CheckMade{measure::Check::fence_straightedge, {{"bow", shop::FaultUnit::mm, 0.05, 0.02}}},
             day(2026, 5, 1));
    s = with(s, PutRight{std::nullopt, "slots waxed"}, day(2026, 10, 20));
    s = with(s, Remark{"new blade"}, day(2026, 10, 21));
    return s;
}

}  // namespace logs
