// What a person can do at the saw, as values. The list of actions, with the scenario and the seed, is the whole state
// of a session. Each action has a file of its own in actions/: what it does, its sentence, its costs and its form in a
// file.
#pragma once

#include <concepts>
#include <string>
#include <variant>

#include "session/actions/cut_test.h"
#include "session/actions/make_check.h"
#include "session/actions/read_strip.h"
#include "session/actions/repair.h"
#include "session/actions/set_value.h"
#include "session/actions/shims.h"
#include "session/actions/type_readings.h"
#include "session/actions/work_out.h"

namespace offsquare::session {

using Action = std::variant<MakeCheck, TypeReadings, Repair, SetValue, SetBoth, CutTest, PushTest, Read, WorkOut,
                            PutShim, PutThickness, TakeShim>;

/// An action that lacks one of these does not compile.
template <class A>
concept WholeAction = requires(const A a, State& state, const Json& from, Json& to, const shop::Drawing& drawing) {
    { A::word } -> std::convertible_to<std::string_view>;  // its name in a file
    { a.sentence(drawing, base::Units::metric) } -> std::same_as<std::string>;
    { a.cost() } -> std::same_as<Cost>;
    { a.write(to) } -> std::same_as<void>;  // its form in a file, but for the name
    { A::read(from) } -> std::same_as<base::Result<A>>;
    { a.apply(state) } -> std::same_as<base::Result<void>>;
};
template <class V>
inline constexpr bool all_whole = false;
template <class... A>
inline constexpr bool all_whole<std::variant<A...>> = (WholeAction<A> && ...);
static_assert(all_whole<Action>);

/// What the action does, as one sentence: "Put brass 0.10 mm behind the left end of the fence."
std::string sentence_of(const Action& action, const shop::Drawing& drawing, base::Units units);
Cost cost_of(const Action& action);

/// As one line of a file, {"do": "cut"}, and back. What is wrong is Grade::bad_data.
Json form_of(const Action& action);
base::Result<Action> action_of(const Json& json);

}  // namespace offsquare::session
