// offsquare replay: run a saved list of actions again and check it.
#include <algorithm>
#include <fmt/format.h>

#include "base/read.h"
#include "cli/json.h"
#include "cli/request.h"
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

/// What was done, whether it was taken back or not; taking back is no action of its own.
std::size_t acts_in(const session::Replay& replay) {
    const auto& record = replay.history.record();
    return static_cast<std::size_t>(std::count_if(
        record.begin(), record.end(), [](const session::Entry& e) { return e.kind == session::Entry::Kind::act; }));
}

/// What was done in each entry, and what became of it.
std::vector<std::vector<std::string>> rows_of(const session::Replay& replay, base::Units units) {
    std::vector<std::vector<std::string>> rows;
    const shop::Drawing& drawing = replay.log.scenario.drawing;
    for (const session::Entry& entry : replay.history.record()) {
        const std::string number = fmt::format("{}", rows.size() + 1);
        switch (entry.kind) {
            case session::Entry::Kind::take_back: rows.push_back({number, "Taken back."}); continue;
            case session::Entry::Kind::again: rows.push_back({number, "Done again."}); continue;
            case session::Entry::Kind::act: break;
        }
        const std::string what = printable(session::sentence_of(entry.action, drawing, units));
        rows.push_back({number, entry.taken_back ? what + " (taken back)" : what});
    }
    return rows;
}

std::string counted(std::size_t n, const char* one, const char* more) {
    return fmt::format("{} {}", n, n == 1 ? one : more);
}

/// Where nothing was recorded, nothing can agree.
std::string agreement(const session::Replay& replay, const Ink& ink) {
    const std::string actions = counted(acts_in(replay), "action", "actions");
    if (replay.compared == 0) return fmt::format("Replayed: {}. The file records no number to compare with.", actions);
    return ink.good(fmt::format("The replay agrees in every number: {}, {} compared.", actions,
                                counted(replay.compared, "number", "numbers")));
}

std::string as_text(const session::Replay& replay, base::Units units, const Ink& ink) {
    const session::Seen& seen = replay.history.seen();
    const auto rows = rows_of(replay, units);
    std::string text =
        fmt::format("{} (seed {})\n", ink.heading(printable(replay.log.scenario.title)), replay.log.seed) +
        columns(rows, 2, {0});
    if (seen.last_test() != nullptr && seen.last_test()->verdict)
        text += "\n" + session::verdict_sentence(*seen.last_test(), units) + "\n";
    return text + "\n" + agreement(replay, ink) + "\n";
}

std::string as_json(const session::Replay& replay) {
    const session::Seen& seen = replay.history.seen();
    Json json = document(replay.log.seed);
    json["agrees"] = true;
    json["actions"] = acts_in(replay);
    json["compared"] = replay.compared;
    json["tests"] = Json::array();
    for (std::size_t i = 0; i < seen.tests_now(); ++i) {
        Json one = Json::object();
        add_test(one, seen.test_now(i));
        json["tests"].push_back(one);
    }
    return printed(json);
}

}  // namespace

base::Result<Answer> replay_verb_answer(const Arguments& arguments, const Door& door) {
    const auto replay = replay_of(*arguments.operand, door.in);
    if (!replay) return tl::unexpected(replay.error());
    const auto units = units_of(arguments, replay->log.scenario.units.system);
    if (!units) return tl::unexpected(units.error());
    return Answer{arguments.has("--json") ? as_json(*replay) : as_text(*replay, *units, door.ink), replay->notes, 0};
}

}  // namespace offsquare::cli
