#include "gui/state/typing.h"

#include <fmt/format.h>

#include "measure/run_check.h"
#include "session/hunt_words.h"

namespace offsquare::gui {

std::vector<Typing::Entry>& Typing::entries(measure::Check check) {
    std::vector<Entry>& all = entries_[check];
    all.resize(measure::info(check).readings.size());
    return all;
}

std::vector<double> Typing::usual_u(measure::Check check, const Bench& bench) {
    return measure::instrument_u(check, bench.seen().drawing);
}

session::FenceStood Typing::stood_last(const Bench& bench) {
    if (bench.notes().empty()) return {};
    const measure::Occasion& o = bench.notes().back().report.occasion;
    return {o.behind_left_mm, o.behind_right_mm, o.clamped_again};
}

base::Result<session::TypeReadings> Typing::action(measure::Check check, const Bench& bench) {
    const auto wanted = measure::info(check).readings;
    const std::vector<double> usual = usual_u(check, bench);
    const std::vector<Entry>& typed = entries(check);
    session::TypeReadings action{check, {}, {}};
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        const std::string name = session::name_of_reading(wanted[i].what);
        if (!typed[i].value)
            return base::fail(base::Grade::usage,
                              fmt::format("\"{}\" is still to be typed: {}. Expected "
                                          "a length, such as {}{}.",
                                          name, base::said_in(wanted[i].meaning, bench.view.units),
                                          base::said_in("12.03 mm", bench.view.units),
                                          check == measure::Check::push_through ? ", or goes" : ""));
        if (typed[i].u_is_bad)
            return base::fail(
                base::Grade::usage,
                fmt::format(
                    "The standard uncertainty of \"{}\" cannot be read. Expected a length from 0 up, such as {}.", name,
                    base::said_in("0.02 mm", bench.view.units)));
        action.readings.push_back(
            {std::string(wanted[i].what), wanted[i].unit, *typed[i].value, typed[i].u.value_or(usual[i])});
    }
    if (!bench.of_a_real_saw()) return action;
    // A fence whose shims are others now was loosened and clamped since.
    session::FenceStood stood = stood_last(bench);
    const session::FenceStood before = stood;
    stood.behind_left_mm = behind_left_mm.value_or(before.behind_left_mm);
    stood.behind_right_mm = behind_right_mm.value_or(before.behind_right_mm);
    if (stood.behind_left_mm != before.behind_left_mm || stood.behind_right_mm != before.behind_right_mm)
        ++stood.clamped_again;
    action.stood = stood;
    return action;
}

void Typing::written(measure::Check check) {
    entries_.erase(check);
    asked.clear();
    behind_left_mm.reset();
    behind_right_mm.reset();
}

}  // namespace offsquare::gui
