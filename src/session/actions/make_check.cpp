#include "session/actions/make_check.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "measure/run_check.h"
#include "session/state.h"

namespace offsquare::session {

std::string MakeCheck::sentence(const shop::Drawing&, base::Units) const {
    return fmt::format("Do a check: {}.", lower_first(measure::info(check).title));
}

Cost MakeCheck::cost() const { return {measure::info(check).minutes, measure::info(check).stock_mm}; }

void MakeCheck::write(Json& to) const { to["check"] = measure::info(check).name; }

base::Result<MakeCheck> MakeCheck::read(const Json& from) {
    const auto check = measure::check_of(session::word(from, "check"));
    if (!check)
        return bad_form("check",
                        "a check needs the name of one, as offsquare checks lists them, for example "
                        "{\"do\":\"check\",\"check\":\"wiggle\"}");
    return MakeCheck{*check};
}

namespace {

/// The sled was to go for it, and jams: that is what was read. Any other trouble is handed on.
base::Result<measure::CheckReport> or_jam(base::Result<measure::CheckReport> report, measure::Check check,
                                          const measure::Stand& stand, const State& state) {
    if (report || !measure::needs_the_sled_to_go(check)) return report;
    auto push = measure::run_check(measure::Check::push_through, stand, state.seen.seed, state.saw.checks_made,
                                   state.seen.precision);
    const bool jams = push && measure::going_of(push->readings.front().value, stand.drawing) != measure::Going::goes;
    return jams ? push : report;
}

measure::Going felt_by(const measure::CheckReport& report, const shop::Drawing& drawing) {
    if (report.occasion.check != measure::Check::push_through) return measure::Going::goes;
    return measure::going_of(report.readings.front().value, drawing);
}

}  // namespace

base::Result<void> MakeCheck::apply(State& state) const {
    const bool needs_it = measure::needs_the_sled_to_go(check);
    if (needs_it && jams(state.seen))
        return base::fail(base::Grade::usage, fmt::format("{} This check needs it to go; first find what jams it",
                                                          jam_sentence(state.seen, state.seen.units)));
    clamp(state);
    auto& [saw, seen] = state;
    const shop::Truth truth = as_clamped(saw);
    const contact::Shims marked{marked_mm(seen.behind_left), marked_mm(seen.behind_right)};
    const measure::Stand stand{
        seen.drawing,       truth,
        true_shims(saw),    marked,
        seen.clamped_again, seen.grain == cut::Grain::fine ? measure::Cuts::fine : measure::Cuts::coarse};
    auto report =
        or_jam(measure::run_check(check, stand, seen.seed, saw.checks_made, seen.precision), check, stand, state);
    if (!report) return tl::unexpected(report.error());
    ++saw.checks_made;
    const measure::Going felt = felt_by(*report, seen.drawing);
    const bool pushed = needs_it || report->occasion.check == measure::Check::push_through;
    seen.checks.push_back({this_event(state), std::move(*report), false, false, {}});
    if (pushed) strike_out(state, felt);
    return {};
}

}  // namespace offsquare::session
