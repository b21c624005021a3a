// The cases: the saws that ship with the program, each known by what its owner says. Compiled in, so that an installed
// program has them without any file. Nothing that names a case tells what is wrong with it.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "scenario/scenario.h"

namespace offsquare::lesson {

struct Case {
    std::string name;             ///< what a person types for it, "two-boards"; never the fault
    scenario::Scenario scenario;  ///< with its complaint, which is never empty, and its budget; its errors sealed
};

/// All of them, the cheaper first: by minutes, then by board, then by name.
std::span<const Case> cases();

const Case* find_case(std::string_view name);  ///< nullptr when there is none
/// As scenario::load has it, with values changed. No such case: Grade::no_input.
base::Result<scenario::Loaded> load_case(std::string_view name, const std::vector<scenario::Override>& overrides);
/// The case that this saw is, told by its owner's sentence, whatever was changed in it since; nullptr: none.
const Case* case_of(const scenario::Scenario& scenario);

/// "“No two tests agree.”", as every list has it.
std::string in_quotes(std::string_view complaint);
/// What it may cost: "45 min, 200 mm"; "30 min, 8 in"; "30 min"; empty: whatever it takes. An inch is rounded to an
/// eighth.
std::string cost_words(const scenario::Budget& budget, base::Units units);

}  // namespace offsquare::lesson
