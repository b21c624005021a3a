// offsquare check: is this file a scenario, and what does it set up?
#include <algorithm>
#include <fmt/format.h>

#include "cli/request.h"
#include "cli/json.h"
#include "cli/report.h"
#include "cli/verb.h"
#include "session/reveal.h"
#include "shop/sense.h"

namespace offsquare::cli {

namespace {

std::string hidden_line(const scenario::Scenario& scenario) {
    const session::Revealed hidden = session::reveal(scenario);
    auto set = std::count_if(hidden.sizes.begin(), hidden.sizes.end(), [](double size) { return size != 0.0; });
    for (const session::HiddenShape& s : hidden.shapes) set += s.profile.straight() ? 0 : 1;
    if (set == 0) return "No hidden error is set: this saw is perfect.";
    return fmt::format("{} hidden {} set; offsquare cut --reveal shows them.", set,
                       set == 1 ? "error is" : "errors are");
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
    text += "\n" + set_up_lines(scenario) + "\n" + hidden_line(scenario) + "\n\n";
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
