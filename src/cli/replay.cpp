// offsquare replay: run a saved list of actions again and check it.
#include <fmt/format.h>

#include "base/read.h"
#include "cli/json.h"
#include "cli/verb.h"
#include "session/log.h"
#include "session/story.h"

namespace offsquare::cli {

using base::Result;

namespace {

Result<session::Replay> replay_of(const std::string& operand, std::istream& in) {
    const std::string name = operand == "-" ? "standard input" : operand;
    const auto text = operand == "-" ? base::read_stream(in, name, base::session_wanted)
                                     : base::read_file(operand, name, base::session_wanted);
    if (!text) return tl::unexpected(text.error());
    return session::replay(*text, name);
}

std::string as_text(const session::Replay& replay, const Ink& ink) {
    const base::Units units = replay.log.scenario.units;
    std::vector<std::vector<std::string>> rows;
    for (const session::Action& action : replay.log.actions) {
        rows.push_back({fmt::format("{}", rows.size() + 1),
                        printable(session::sentence_of(action, replay.log.scenario.drawing, units))});
    }
    std::string text =
        fmt::format("{} (seed {})\n", ink.heading(printable(replay.log.scenario.title)), replay.log.seed) +
        columns(rows, 2, {0});
    if (!replay.trial.tests.empty() && replay.trial.tests.back().verdict)
        text += "\n" + session::verdict_sentence(replay.trial.tests.back(), units) + "\n";
    const std::size_t n = rows.size();
    return text + "\n" +
           ink.good(fmt::format("The replay agrees in every number: {} {}.", n, n == 1 ? "action" : "actions")) + "\n";
}

std::string as_json(const session::Replay& replay) {
    Json json = document(replay.log.seed);
    json["agrees"] = true;
    json["actions"] = replay.log.actions.size();
    json["tests"] = Json::array();
    for (const session::Test& test : replay.trial.tests) {
        Json one = Json::object();
        add_test(one, test);
        json["tests"].push_back(one);
    }
    return printed(json);
}

}  // namespace

base::Result<Answer> replay_verb_answer(const Arguments& arguments, const Door& door) {
    const auto replay = replay_of(*arguments.operand, door.in);
    if (!replay) return tl::unexpected(replay.error());
    return Answer{arguments.has("--json") ? as_json(*replay) : as_text(*replay, door.ink), replay->notes, 0};
}

}  // namespace offsquare::cli
