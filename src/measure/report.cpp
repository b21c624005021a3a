#include "measure/report.h"

#include <cmath>

#include <fmt/format.h>

#include "measure/going.h"

namespace offsquare::measure {
namespace {

constexpr double farthest_mm = 1e6;
constexpr double coarsest_mm = 1000.0;
constexpr double thickest_mm = 20.0;
constexpr int most_clampings = 1000;

bool is_from(double value, double least, double most) {
    return value >= least && value <= most;
}  // false for what is not a number

std::string trouble_with_reading(const CheckInfo& check, const ReadingInfo& wanted, const CheckReading& read) {
    if (read.what != wanted.what || read.unit != wanted.unit)
        return fmt::format("the check {} reads {} here, not {}", check.name, wanted.what, read.what);
    if (!is_from(std::abs(read.value), 0.0, farthest_mm))
        return fmt::format("{} of the check {} must be a number within 1 km", wanted.what, check.name);
    if (!is_from(read.u, 0.0, coarsest_mm))
        return fmt::format("the standard uncertainty of {} must be from 0 to 1 m", wanted.what);
    if (wanted.what.starts_with("length") && read.value < 1.0)
        return fmt::format("a strip of the check {} is less than 1 mm long", check.name);
    return "";
}

}  // namespace

std::string trouble_with(const CheckReport& report) {
    const CheckInfo& check = info(report.occasion.check);
    if (report.readings.size() != check.readings.size())
        return fmt::format("the check {} has {} readings, not {}", check.name, check.readings.size(),
                           report.readings.size());
    for (std::size_t i = 0; i < check.readings.size(); ++i) {
        if (std::string trouble = trouble_with_reading(check, check.readings[i], report.readings[i]); !trouble.empty())
            return trouble;
    }
    const Occasion& o = report.occasion;
    if (!is_from(o.behind_left_mm, 0.0, thickest_mm) || !is_from(o.behind_right_mm, 0.0, thickest_mm))
        return "shims behind an end of the fence are from 0 to 20 mm thick";
    if (o.clamped_again < 0 || o.clamped_again > most_clampings)
        return fmt::format("a fence is clamped again 0 to {} times", most_clampings);
    return "";
}

CheckReport push_report(const Occasion& occasion, double went_mm) {
    const ReadingInfo& went = info(Check::push_through).readings.front();
    return {occasion, {{std::string(went.what), went.unit, went_mm, push_u_mm}}};
}

}  // namespace offsquare::measure
