#include "session/watch.h"

#include <fmt/format.h>

#include "measure/run_check.h"
#include "session/saw.h"

namespace offsquare::session {

base::Result<measure::CheckReading> watch(const History& history, measure::Check check, std::size_t place) {
    const measure::CheckInfo& info = measure::info(check);
    if (place >= info.readings.size())
        return base::fail(base::Grade::usage,
                          fmt::format("\"{}\" reads in {} places: no place {} among them (0 is the first)", info.title,
                                      info.readings.size(), place));
    if (info.stock_mm > 0.0)
        return base::fail(base::Grade::usage,
                          fmt::format("\"{}\" cuts a board: nothing shows until it is made", info.title));
    const Saw& saw = saw_of(history);
    const shop::Truth truth = as_clamped(saw);
    const measure::Stand stand{history.seen().drawing, truth, true_shims(saw), {}, history.seen().clamped_again};
    auto report = measure::run_check(check, stand, 0, 0, measure::Precision::exact);
    if (!report) return tl::unexpected(report.error());
    return std::move(report->readings[place]);
}

WatchedSled::WatchedSled(const History& history, double s_mm)
    : drawing_(history.seen().drawing),
      truth_(saw_of(history).truth()),
      play_{truth_->left_play_mm, truth_->right_play_mm},
      sled_(drawing_, *truth_, contact::rub_of(drawing_.feed), s_mm) {}

PushNow WatchedSled::under(double x_mm, double force_n) const {
    return push_now(drawing_, *truth_, state().pose.s_mm, x_mm, force_n);
}

contact::PushedPass watch_push(const scenario::Scenario& scenario, const contact::HandPush& hand,
                               const contact::Rub& rub, const contact::PushRange& range) {
    return contact::push_sled(scenario.drawing, *scenario.truth, hand, rub, range.from_mm, range.to_mm);
}

contact::LivePass watch_live_push(const scenario::Scenario& scenario, const contact::HandPush& hand,
                                  const contact::Rub& rub, const contact::PushRange& range) {
    return contact::live_pass(scenario.drawing, *scenario.truth, hand, rub, range.from_mm, range.to_mm);
}

}  // namespace offsquare::session
