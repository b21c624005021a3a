// offsquare check: is this file a scenario, and what does it set up?
#include <fmt/format.h>

#include "cli/request.h"
#include "cli/json.h"
#include "cli/report.h"
#include "cli/verb.h"
#include "lesson/cases.h"
#include "shop/sense.h"

namespace offsquare::cli {

namespace {

/// How many errors there are would be half the answer.
constexpr const char* hidden_line = "The hidden errors are not told here; offsquare cut --reveal shows them.";

/// What makes it a case.
std::string case_lines(const scenario::Scenario& scenario) {
    if (scenario.complaint.empty()) return "";
    const std::string cost = lesson::cost_words(scenario.budget, scenario.units);
    return fmt::format("Its owner says: {}{}\n", lesson::in_quotes(printable(scenario.complaint)),
                       cost.empty() ? "" : fmt::format(" It may cost {}.", cost));
}

}  // namespace

base::Result<Answer> check_verb_answer(const Arguments& arguments, const Door& door) {
    const auto overrides = overrides_of(arguments);
    if (!overrides) return tl::unexpected(overrides.error());
    const auto loaded = load_scenario(*arguments.operand, *overrides, door.in);
    if (!loaded) return tl::unexpected(loaded.error());
    scenario::Scenario scenario = loaded->scenario;
    const auto units = units_of(arguments, scenario.units.system);
    if (!units) return tl::unexpected(units.error());
    scenario.units = *units;
    std::string text = fmt::format("{} (seed {})\n", door.ink.heading(printable(scenario.title)), scenario.seed);
    if (!scenario.story.empty()) text += wrapped(printable(scenario.story), 100) + "\n";
    text += case_lines(scenario);
    text += "\n" + set_up_lines(scenario) + "\n" + hidden_line + "\n\n";
    for (const shop::Advice& advice : shop::sense_of(scenario.drawing, scenario.units))
        text += wrapped(fmt::format("Advice ({}): {}", advice.key, advice.sentence), 100) + "\n\n";
    const std::size_t warnings = loaded->warnings.size();
    const std::string good =
        warnings == 0 ? "" : fmt::format(", with {} {}", warnings, warnings == 1 ? "warning" : "warnings");
    return Answer{text +
                      door.ink.good(fmt::format(
                          "{} is a good scenario{}.",
                          printable(*arguments.operand == "-" ? "standard input" : *arguments.operand), good)) +
                      "\n",
                  loaded->warnings, 0};
}

}  // namespace offsquare::cli
