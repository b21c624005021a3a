// offsquare cases: the saws to practise on, by what their owners say.
#include "lesson/cases.h"

#include <algorithm>
#include <fmt/format.h>

#include "base/folders.h"
#include "cli/json.h"
#include "cli/request.h"
#include "cli/verb.h"
#include "lesson/results.h"

namespace offsquare::cli {

namespace {

std::string_view became_word(lesson::Became became) {
    switch (became) {
        case lesson::Became::fresh: return "new";
        case lesson::Became::open: return "open";
        case lesson::Became::failed: return "not-proved";
        case lesson::Became::proved: return "proved";
    }
    return "new";
}

std::string as_json(const lesson::Results& results) {
    Json json{{"schema_version", schema_version}, {"cases", Json::array()}};
    for (const lesson::Case& c : lesson::cases()) {
        const lesson::Result result = results.of(c.name);
        Json one{{"name", c.name},
                 {"complaint", c.scenario.complaint},
                 {"may_cost",
                  {{"minutes", number(c.scenario.budget.minutes)}, {"board_mm", number(c.scenario.budget.board_mm)}}},
                 {"became", std::string(became_word(result.became))}};
        if (result.became != lesson::Became::fresh) {
            one["spent"] = {{"minutes", number(result.minutes)}, {"board_mm", number(result.board_mm)}};
            if (result.became == lesson::Became::proved) one["within_cost"] = lesson::within(result, c.scenario.budget);
        }
        json["cases"].push_back(std::move(one));
    }
    return printed(json);
}

}  // namespace

base::Result<Answer> cases_verb_answer(const Arguments& arguments, const Door& door) {
    const auto units = units_of(arguments, base::Units::metric);
    if (!units) return tl::unexpected(units.error());
    const lesson::Results results(base::folders_of(base::own_environment()).data);
    if (arguments.has("--json")) return Answer{as_json(results), {}, 0};
    std::vector<std::vector<std::string>> rows{{"name", "what the owner says", "may cost", "so far"}};
    std::size_t proved = 0;
    for (const lesson::Case& c : lesson::cases()) {
        const lesson::Result result = results.of(c.name);
        proved += result.became == lesson::Became::proved ? 1 : 0;
        rows.push_back({c.name, lesson::in_quotes(c.scenario.complaint),
                        lesson::cost_words(c.scenario.budget, c.scenario.units), lesson::words_of(result)});
    }
    return Answer{
        columns(rows, 0) + fmt::format("\n{} of {} proved in the window.\n\n", proved, rows.size() - 1) +
            door.ink.strong(
                "Open one by its name: offsquare window two-boards, or with any verb that takes a scenario.") +
            "\n",
        {},
        0};
}

}  // namespace offsquare::cli
