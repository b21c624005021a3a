#include "gui/state/my_checks.h"

#include <fmt/format.h>

#include "measure/going.h"
#include "measure/run_check.h"
#include "session/hunt_words.h"

namespace offsquare::gui {

std::vector<std::string>& MyChecks::texts() {
    std::vector<std::string>& all = texts_[check];
    all.resize(measure::info(check).readings.size());
    return all;
}

base::Result<saws::CheckMade> MyChecks::made(const shop::Drawing& drawing, base::Units units) {
    const auto wanted = measure::info(check).readings;
    const std::vector<double> u = measure::instrument_u(check, drawing);
    const std::vector<std::string>& typed = texts();
    const auto assumed = units == base::Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch;
    saws::CheckMade made{check, {}};
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        const std::string name = session::name_of_reading(wanted[i].what);
        const bool goes = check == measure::Check::push_through;
        if (typed[i].empty())
            return base::fail(base::Grade::usage,
                              fmt::format("Still to type: {}, {}.", name, base::said_in(wanted[i].meaning, units)));
        const auto went = goes ? measure::went_of(typed[i], drawing) : std::nullopt;
        const auto length = base::parse_length(typed[i], assumed);
        if (!went && !length)
            return base::fail(base::Grade::usage, fmt::format("{}: {}", name, length.error().message));
        made.readings.push_back({std::string(wanted[i].what), wanted[i].unit, went ? *went : length->value,
                                 went ? u[i] : std::max(u[i], base::u_of_step(length->step))});
    }
    return made;
}

}  // namespace offsquare::gui
