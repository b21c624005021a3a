#include "session/actions/type_readings.h"

#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "measure/report.h"
#include "session/state.h"

namespace offsquare::session {
namespace {

constexpr std::string_view example =
    "for example {\"do\":\"type-readings\",\"check\":\"jaws\",\"readings_mm\":{\"closed\":[0.02,0.01]}}";

/// The pair of one reading: value and standard uncertainty.
std::optional<measure::CheckReading> typed_reading(const Json& all, const measure::ReadingInfo& wanted) {
    const std::string key(wanted.what);
    if (!all.contains(key) || !all[key].is_array() || all[key].size() != 2 || !all[key][0].is_number() ||
        !all[key][1].is_number())
        return std::nullopt;
    return measure::CheckReading{key, wanted.unit, all[key][0].get<double>(), all[key][1].get<double>()};
}

/// How the fence stood, when the line says it at all; a value that cannot be becomes one that is refused.
std::optional<FenceStood> stood_of(const Json& json) {
    if (!json.contains("behind_left_mm") && !json.contains("behind_right_mm") && !json.contains("clamped_again"))
        return std::nullopt;
    const auto or_bad = [&](const char* key) { return json.contains(key) ? real(json, key).value_or(-1.0) : 0.0; };
    const double clamped = or_bad("clamped_again");
    const bool whole = clamped >= 0.0 && clamped < 1e6 && std::trunc(clamped) == clamped;
    return FenceStood{or_bad("behind_left_mm"), or_bad("behind_right_mm"), whole ? static_cast<int>(clamped) : -1};
}

}  // namespace

std::string TypeReadings::sentence(const shop::Drawing&, base::Units) const {
    return fmt::format("Write down what was read by hand: {}.", lower_first(measure::info(check).title));
}

void TypeReadings::write(Json& to) const {
    to["check"] = measure::info(check).name;
    for (const measure::CheckReading& r : readings) to["readings_mm"][r.what] = {r.value, r.u};
    if (!stood) return;
    to["behind_left_mm"] = stood->behind_left_mm;
    to["behind_right_mm"] = stood->behind_right_mm;
    to["clamped_again"] = stood->clamped_again;
}

base::Result<TypeReadings> TypeReadings::read(const Json& from) {
    const auto check = measure::check_of(session::word(from, "check"));
    if (!check)
        return bad_form(
            "check",
            fmt::format("typed readings need the name of a check, as offsquare checks lists them, {}", example));
    TypeReadings typed{*check, {}, stood_of(from)};
    const auto wanted = measure::info(*check).readings;
    const bool all =
        from.contains("readings_mm") && from["readings_mm"].is_object() && from["readings_mm"].size() == wanted.size();
    for (const measure::ReadingInfo& r : wanted) {
        const auto reading = all ? typed_reading(from["readings_mm"], r) : std::nullopt;
        if (!reading)
            return bad_form(
                "readings_mm",
                fmt::format(
                    "the check {} needs {} readings in \"readings_mm\", each a value and its standard uncertainty, {}",
                    measure::info(*check).name, wanted.size(), example));
        typed.readings.push_back(*reading);
    }
    return typed;  // apply() looks at the numbers
}

base::Result<void> TypeReadings::apply(State& state) const {
    Seen& seen = state.seen;
    if (!stood) clamp(state);
    const FenceStood s =
        stood.value_or(FenceStood{marked_mm(seen.behind_left), marked_mm(seen.behind_right), seen.clamped_again});
    measure::CheckReport report{{check, s.behind_left_mm, s.behind_right_mm, s.clamped_again}, readings};
    if (std::string trouble = measure::trouble_with(report); !trouble.empty())
        return base::fail(base::Grade::usage, std::move(trouble));
    const bool push = check == measure::Check::push_through;
    const measure::Going felt =
        push ? measure::going_of(report.readings.front().value, seen.drawing) : measure::Going::goes;
    seen.checks.push_back({this_event(state), std::move(report), true, stood.has_value(), {}});
    if (push || measure::needs_the_sled_to_go(check)) strike_out(state, felt);
    return {};
}

}  // namespace offsquare::session
