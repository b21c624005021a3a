#include "session/actions/set_value.h"

#include <algorithm>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "session/state.h"

namespace offsquare::session {
namespace {

bool from_drawer(const Stack& placed) {
    return std::any_of(placed.begin(), placed.end(), [](const PlacedShim& p) { return p.picked.drawer_row >= 0; });
}

base::Result<void> set(State& state, const std::vector<scenario::Override>& changes) {
    auto& [saw, seen] = state;
    const bool drawer = std::any_of(changes.begin(), changes.end(),
                                    [](const scenario::Override& c) { return c.key.starts_with("drawer"); });
    if (drawer && (from_drawer(saw.behind_left) || from_drawer(saw.behind_right)))
        return base::fail(base::Grade::usage,
                          "the drawer cannot change while pieces of it stand behind the fence; take them out first");
    auto changed = scenario::with(saw.scenario, changes);
    if (!changed) return tl::unexpected(changed.error());
    saw.scenario = std::move(*changed);
    seen.drawing = saw.scenario.drawing;
    seen.title = saw.scenario.title;
    seen.story = saw.scenario.story;
    seen.units = saw.scenario.units;
    if (drawer) fill_drawer(state);
    strike_out(state, changes.front().key);
    begin_anew(state);
    for (RepairNote& r : seen.repairs) r.of_this_set_up = false;
    return {};
}

/// A length or an angle in the person's units; any other value as it was typed.
std::string value_words(const std::string& value, base::Units units) {
    const bool measured =
        base::parse_length(value, base::LengthUnit::mm) || base::parse_angle(value, base::AngleUnit::mrad);
    return measured ? base::said_in(value, units) : value;
}

}  // namespace

std::string SetValue::sentence(const shop::Drawing&, base::Units units) const {
    return fmt::format("Set {} to {}.", key, value_words(value, units));
}

void SetValue::write(Json& to) const {
    to["key"] = key;
    to["value"] = value;
}

base::Result<SetValue> SetValue::read(const Json& from) {
    if (session::word(from, "key").empty())
        return bad_form("key",
                        "a value that is set needs \"key\" and \"value\", for example "
                        "{\"do\":\"set\",\"key\":\"board.width\",\"value\":\"300mm\"}");
    return SetValue{session::word(from, "key"), session::word(from, "value")};
}

base::Result<void> SetValue::apply(State& state) const { return set(state, {{key, value}}); }

std::string SetBoth::sentence(const shop::Drawing&, base::Units units) const {
    return fmt::format("Set {} to {} and {} to {}.", first.key, value_words(first.value, units), second.key,
                       value_words(second.value, units));
}

void SetBoth::write(Json& to) const {
    first.write(to);
    to["other_key"] = second.key;
    to["other_value"] = second.value;
}

base::Result<SetBoth> SetBoth::read(const Json& from) {
    const SetValue other{session::word(from, "other_key"), session::word(from, "other_value")};
    auto one = SetValue::read(from);
    if (!one || other.key.empty())
        return bad_form(one ? "other_key" : "key",
                        "two values that are set need \"key\", \"value\", \"other_key\" and \"other_value\"");
    return SetBoth{std::move(*one), other};
}

base::Result<void> SetBoth::apply(State& state) const {
    return set(state, {{first.key, first.value}, {second.key, second.value}});
}

}  // namespace offsquare::session
