#include "session/log.h"

#include <algorithm>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "session/log_form.h"

namespace offsquare::session {
namespace {

using base::fail;
using base::Grade;
using base::Result;

constexpr std::string_view take_back_word = "take-back";
constexpr std::string_view again_word = "again";

// ---- writing ----

/// What format 1 cannot say.
bool needs_format_2(const std::vector<Entry>& entries) {
    return std::any_of(entries.begin(), entries.end(),
                       [](const Entry& e) { return e.kind != Entry::Kind::act || e.joins; });
}

Json line_of(const Entry& entry) {
    if (entry.kind != Entry::Kind::act)
        return {{"do", entry.kind == Entry::Kind::take_back ? take_back_word : again_word}};
    Json line = form_of(entry.action);
    if (entry.joins) line["joins"] = true;
    return line;
}

/// In the units of the scenario, as things stand before it.
std::string sentence_of(const Entry& entry, const History& before) {
    const base::Units units = before.seen().units;
    switch (entry.kind) {
        case Entry::Kind::take_back: return "Taken back: " + before.last_intention(units);
        case Entry::Kind::again: return "Done again: " + before.next_intention(units);
        case Entry::Kind::act: break;
    }
    return "";
}

// ---- reading ----

/// Where in the file we are, for messages.
struct Line {
    std::string_view name;
    std::size_t number = 0;
    std::string_view text;
    tl::unexpected<base::Problem> bad_at(std::size_t column, const std::string& what) const {
        return fail(Grade::bad_data, fmt::format("{}:{}:{}: {}", name, number, column, what));
    }
    /// At the value of a key, or of a key in that value.
    tl::unexpected<base::Problem> bad(std::initializer_list<std::string_view> keys, const std::string& what) const {
        return bad_at(column_of(text, keys), what);
    }
};

Result<Json> json_of(const Line& line) {
    auto json = object_of(line.text, "this is not a line of a session; expected an object such as {\"do\":\"cut\"}");
    if (!json) return line.bad_at(column_of_fault(line.text), json.error().message);
    return json;
}

Result<Entry> entry_of(const Line& line, const Json& json) {
    const std::string what = word(json, "do");
    if (what == take_back_word) return Entry::taking_back();
    if (what == again_word) return Entry::doing_again();
    Result<Action> action = action_of(json);
    if (!action) return line.bad({action.error().part}, action.error().message);
    Entry entry(std::move(*action));
    if (json.contains("joins") && !json["joins"].is_boolean())
        return line.bad({"joins"}, "\"joins\" must be true or false");
    entry.joins = json.contains("joins") && json["joins"].get<bool>();
    return entry;
}

Result<Log> head_of(const Line& line, const Json& json) {
    if (!json.contains("offsquare_session"))
        return line.bad_at(1, "the first line of a session names its format: {\"offsquare_session\":1, ...}");
    const auto version = real(json, "offsquare_session");
    if (!version || (*version != 1 && *version != 2))
        return line.bad({"offsquare_session"}, "this session is of another format; this program reads formats 1 and 2");
    if (!json.contains("seed") || !json["seed"].is_number_unsigned())
        return line.bad({"seed"}, "\"seed\" must be a whole number, 0 or more");
    Log log;
    log.seed = json["seed"].get<std::uint64_t>();
    if (json.contains("real_saw") && !json["real_saw"].is_boolean())
        return line.bad({"real_saw"}, "\"real_saw\" must be true or false");
    log.real_saw = json.contains("real_saw") && json["real_saw"].get<bool>();
    const std::string cuts = json.contains("cuts") ? word(json, "cuts") : "coarse";
    if (cuts != "fine" && cuts != "coarse") return line.bad({"cuts"}, "\"cuts\" must be \"fine\" or \"coarse\"");
    log.grain = cuts == "fine" ? cut::Grain::fine : cut::Grain::coarse;
    const std::string readings = word(json, "readings");
    if (readings != "exact" && readings != "real")
        return line.bad({"readings"}, "\"readings\" must be \"real\" or \"exact\"");
    log.precision = readings == "exact" ? measure::Precision::exact : measure::Precision::real;
    const Result<std::string> text = scenario_text(json);
    if (!text) return line.bad({"sealed"}, text.error().message);
    Result<scenario::Loaded> loaded =
        scenario::parse_recorded(*text, fmt::format("{} (scenario in line 1)", line.name));
    if (!loaded) return tl::unexpected(loaded.error());
    log.scenario = std::move(loaded->scenario);
    return log;
}

/// Numbers in a value of the outcome; a word, such as that of the stage, is none.
std::size_t numbers_in(const Json& value) { return value.is_array() ? value.size() : value.is_number() ? 1 : 0; }

/// Compares what the file says came of an action with what comes of it now. The value is how many numbers agreed.
Result<std::size_t> check_outcome(const Line& line, const Json& json, const Seen& seen) {
    if (!json.contains("then") || !json["then"].is_object()) return 0;
    const Json now = outcome_of(seen);
    std::size_t compared = 0;
    for (const auto& [key, recorded] : json["then"].items()) {
        if (now.contains(key) && now[key] == recorded) {
            compared += numbers_in(recorded);
            continue;
        }
        const std::string present = now.contains(key) ? now[key].dump() : "nothing";
        return line.bad({"then", key}, fmt::format("the replay differs after action {}: {} was {} and is now {}",
                                                   line.number - 1, key, recorded.dump(), present));
    }
    return compared;
}

/// A session that a crash cut off ends in half a line: that line is dropped.
bool drop_partial(std::vector<std::string_view>& lines, std::string_view text) {
    if (lines.size() < 2 || text.ends_with('\n') || Json::accept(lines.back())) return false;
    lines.pop_back();
    return true;
}

/// The lines of a file, the first of them read.
struct Pages {
    std::vector<std::string_view> lines;
    Line first;
    Json head;
    bool partial = false;  ///< half a line at the end was left out
};
Result<Pages> pages_of(std::string_view text, std::string_view name) {
    Pages pages;
    pages.lines = lines_of(text);
    pages.partial = drop_partial(pages.lines, text);
    if (pages.lines.empty())
        return fail(Grade::bad_data,
                    fmt::format("{}: the file is empty; a session starts with a line that names its format", name));
    if (pages.lines.size() > most_entries + 1)
        return fail(Grade::bad_data, fmt::format("{}: {} lines; a session has {} actions at most", name,
                                                 pages.lines.size(), most_entries));
    pages.first = {name, 1, pages.lines.front()};
    Result<Json> head = json_of(pages.first);
    if (!head) return tl::unexpected(head.error());
    pages.head = std::move(*head);
    return pages;
}

/// The first line: where the session starts.
Result<Replay> open(const Line& line, const Json& json) {
    Result<Log> head = head_of(line, json);
    if (!head) return tl::unexpected(head.error());
    History start(head->scenario, head->seed, head->precision, head->real_saw, head->grain);
    Replay result{std::move(*head), std::move(start), {}};
    if (word(json, "program") != OFFSQUARE_VERSION)
        result.notes.push_back("recorded by version " + word(json, "program"));
    return result;
}

/// Any other line: one entry.
Result<void> act(const Line& line, const Json& json, Replay& result) {
    Result<Entry> entry = entry_of(line, json);
    if (!entry) return tl::unexpected(entry.error());
    if (const Result<void> done = result.history.add(*entry); !done) return line.bad({"do"}, done.error().message);
    result.log.entries.push_back(std::move(*entry));
    const Result<std::size_t> compared = check_outcome(line, json, result.history.seen());
    if (!compared) return tl::unexpected(compared.error());
    result.compared += *compared;
    return {};
}

}  // namespace

std::vector<Entry> entries_of(std::span<const Action> actions) { return {actions.begin(), actions.end()}; }

Log log_of(const History& history) {
    const Seen& seen = history.seen();
    return {history.start(), seen.seed, seen.precision, history.record(), seen.real_saw, seen.grain};
}

std::string to_text(const Log& log) {
    Json head{{"offsquare_session", needs_format_2(log.entries) ? 2 : 1},
              {"program", OFFSQUARE_VERSION},
              {"seed", log.seed},
              {"readings", log.precision == measure::Precision::exact ? "exact" : "real"}};
    put_scenario(head, log.scenario);
    if (log.grain == cut::Grain::fine) head["cuts"] = "fine";
    if (log.real_saw) head["real_saw"] = true;
    std::string text = head.dump() + "\n";
    History now(log.scenario, log.seed, log.precision, log.real_saw, log.grain);
    bool possible = true;
    for (std::size_t i = 0; i < log.entries.size(); ++i) {
        const Entry& entry = log.entries[i];
        Json line = line_of(entry);
        line["n"] = i + 1;
        std::string says = sentence_of(entry, now);
        possible = possible && now.add(entry).has_value();
        if (possible) {
            line["says"] = entry.kind == Entry::Kind::act ? now.seen().events.back().says : std::move(says);
            line["then"] = outcome_of(now.seen());
        }
        text += line.dump() + "\n";
    }
    return text;
}

Result<Log> read_log(std::string_view text, std::string_view name) {
    const Result<Pages> pages = pages_of(text, name);
    if (!pages) return tl::unexpected(pages.error());
    Result<Log> log = head_of(pages->first, pages->head);
    for (std::size_t i = 1; log && i < pages->lines.size(); ++i) {
        const Line line{name, i + 1, pages->lines[i]};
        const Result<Json> json = json_of(line);
        if (!json) return tl::unexpected(json.error());
        Result<Entry> entry = entry_of(line, *json);
        if (!entry) return tl::unexpected(entry.error());
        log->entries.push_back(std::move(*entry));
    }
    return log;
}

std::vector<Action> standing(std::span<const Entry> record) {
    std::vector<std::vector<Action>> done, undone;
    const auto move_last = [](auto& from, auto& to) {
        if (from.empty()) return;
        to.push_back(std::move(from.back()));
        from.pop_back();
    };
    for (const Entry& entry : record) {
        if (entry.kind == Entry::Kind::take_back) move_last(done, undone);
        else if (entry.kind == Entry::Kind::again) move_last(undone, done);
        else {
            undone.clear();
            if (!entry.joins || done.empty()) done.emplace_back();
            done.back().push_back(entry.action);
        }
    }
    std::vector<Action> all;
    for (const auto& intention : done) all.insert(all.end(), intention.begin(), intention.end());
    return all;
}

Result<Replay> replay(std::string_view text, std::string_view name) {
    const Result<Pages> pages = pages_of(text, name);
    if (!pages) return tl::unexpected(pages.error());
    Result<Replay> result = open(pages->first, pages->head);
    if (!result) return result;
    if (pages->partial)
        result->notes.insert(result->notes.begin(), "the last line was incomplete and has been left out");
    for (std::size_t i = 1; i < pages->lines.size(); ++i) {
        const Line line{name, i + 1, pages->lines[i]};
        const Result<Json> json = json_of(line);
        if (!json) return tl::unexpected(json.error());
        if (const Result<void> done = act(line, *json, *result); !done) return tl::unexpected(done.error());
    }
    return result;
}

}  // namespace offsquare::session
