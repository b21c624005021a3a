#include "session/actions/make_check.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "measure/run_check.h"
#include "session/state.h"

namespace offsquare::session {

std::string MakeCheck::sentence(const shop::Drawing&, base::Units) const {
    return fmt::format("Make a check: {}.", lower_first(measure::info(check).title));
}

Cost MakeCheck::cost() const { return {measure::info(check).minutes, measure::info(check).stock_mm}; }

void MakeCheck::write(Json& to) const { to["check"] = measure::info(check).name; }

base::Result<MakeCheck> MakeCheck::read(const Json& from) {
    const auto check = measure::check_of(session::word(from, "check"));
    if (!check)
        return bad_form(
            "a check needs the name of one, as offsquare checks lists them, for example "
            "{\"do\":\"check\",\"check\":\"wiggle\"}");
    return MakeCheck{*check};
}

base::Result<void> MakeCheck::apply(State& state) const {
    clamp(state);
    auto& [saw, seen] = state;
    const shop::Truth truth = as_clamped(saw);
    const contact::Shims marked{marked_mm(seen.behind_left), marked_mm(seen.behind_right)};
    const measure::Stand stand{seen.drawing, truth, true_shims(saw), marked, seen.clamped_again};
    auto report = measure::run_check(check, stand, seen.seed, saw.checks_made, seen.precision);
    if (!report) return tl::unexpected(report.error());
    ++saw.checks_made;
    seen.checks.push_back({this_event(state), std::move(*report), false, false, {}});
    return {};
}

}  // namespace offsquare::session
