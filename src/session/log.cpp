#include "session/log.h"

#include <array>
#include <cmath>
#include <limits>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace offsquare::session {
namespace {

using base::fail;
using base::Grade;
using base::Result;
using Json = nlohmann::ordered_json;

constexpr int format_version = 1;

std::string end_word(End end) { return end == End::fence ? "fence" : "far"; }

// ---- writing ----

struct Writer {
    Json operator()(const SetValue& a) const { return {{"do", "set"}, {"key", a.key}, {"value", a.value}}; }
    Json operator()(const SetBoth& a) const {
        return {{"do", "set-both"},
                {"key", a.first.key},
                {"value", a.first.value},
                {"other_key", a.second.key},
                {"other_value", a.second.value}};
    }
    Json operator()(const MakeCheck& a) const { return {{"do", "check"}, {"check", measure::info(a.check).name}}; }
    Json operator()(const TypeReadings& a) const {
        Json json{{"do", "type-readings"}, {"check", measure::info(a.check).name}};
        for (const measure::CheckReading& r : a.readings) json["readings_mm"][r.what] = {r.value, r.u};
        if (!a.stood) return json;
        json["behind_left_mm"] = a.stood->behind_left_mm;
        json["behind_right_mm"] = a.stood->behind_right_mm;
        json["clamped_again"] = a.stood->clamped_again;
        return json;
    }
    Json operator()(const Repair& a) const { return {{"do", "repair"}, {"fault", shop::info(a.fault).key}}; }
    Json operator()(const CutTest&) const { return {{"do", "cut"}}; }
    Json operator()(const PushTest& a) const {
        Json json{{"do", "push-test"},
                  {"force_n", a.pass.hand.force_n},
                  {"x_mm", contact::grip_at(a.pass.hand, -std::numeric_limits<double>::infinity())}};
        if (std::isfinite(a.pass.stops_at_mm)) json["stops_at_mm"] = a.pass.stops_at_mm;
        for (std::size_t i = 1; i < a.pass.hand.grips.size(); ++i)
            json["then_x_mm_from_mm"].push_back({a.pass.hand.grips[i].x_mm, a.pass.hand.grips[i].from_mm});
        return json;
    }
    Json operator()(const Read& a) const { return {{"do", "read"}, {"end", end_word(a.end)}, {"in_mm", a.station_mm}}; }
    Json operator()(const WorkOut&) const { return {{"do", "work-out"}}; }
    Json operator()(const PutShim& a) const {
        return {{"do", "put-shim"}, {"at", shim::name_of(a.at)}, {"drawer_line", a.drawer_row}};
    }
    Json operator()(const PutThickness& a) const {
        return {{"do", "put-thickness"}, {"at", shim::name_of(a.at)}, {"thickness_mm", a.thickness_mm}};
    }
    Json operator()(const TakeShim& a) const { return {{"do", "take-shim"}, {"at", shim::name_of(a.at)}}; }
};

/// The numbers that stand after an action: enough to notice any change of the corridor.
Json outcome_of(const Trial& trial) {
    Json numbers;
    numbers["stage"] = name_of(trial.stage);
    numbers["tests"] = trial.tests.size();
    if (!trial.notebook.empty()) {
        numbers["checks"] = trial.notebook.size();
        for (const measure::CheckReading& r : trial.notebook.back().report.readings)
            numbers["read_mm"].push_back(r.value);
    }
    if (trial.tests.empty()) return numbers;
    const Test& test = trial.tests.back();
    numbers["outcome"] = cut::name_of(test.cut.outcome);
    if (!test.fence_end.empty()) numbers["fence_end_mm"] = test.fence_end.back().value_mm;
    if (!test.far_end.empty()) numbers["far_end_mm"] = test.far_end.back().value_mm;
    if (test.pooled_rad) {
        numbers["fence_skew_rad"] = test.pooled_rad->value;
        numbers["u_rad"] = test.pooled_rad->u;
        numbers["shim_mm"] = test.proposal->ideal_mm.value;
        numbers["at"] = shim::name_of(test.proposal->at);
    }
    return numbers;
}

// ---- reading ----

/// Where in the file we are, for messages.
struct Line {
    std::string_view name;
    std::size_t number = 0;
    tl::unexpected<base::Problem> bad(const std::string& what) const {
        return fail(Grade::bad_data, fmt::format("{}:{}: {}", name, number, what));
    }
};

Result<Json> json_of(const Line& line, std::string_view text) {
    constexpr int deepest = 16;
    bool too_deep = false;
    const auto guard = [&](int depth, Json::parse_event_t, Json&) {
        too_deep = too_deep || depth > deepest;
        return !too_deep;
    };
    Json json = Json::parse(text.begin(), text.end(), guard, false);
    if (too_deep) return line.bad("the line is nested too deeply; a session line is flat");
    if (json.is_discarded() || !json.is_object())
        return line.bad("this is not a line of a session; expected an object such as {\"do\":\"cut\"}");
    return json;
}

std::string word(const Json& json, const char* key) {
    return json.contains(key) && json[key].is_string() ? json[key].get<std::string>() : std::string();
}

std::optional<double> real(const Json& json, const char* key) {
    if (!json.contains(key) || !json[key].is_number()) return std::nullopt;
    const double value = json[key].get<double>();
    return std::isfinite(value) ? std::optional(value) : std::nullopt;
}

std::optional<shim::At> at_of(const Json& json) {
    const std::string at = word(json, "at");
    if (at == "left") return shim::At::left;
    if (at == "right") return shim::At::right;
    return std::nullopt;
}

Result<Action> read_action(const Line& line, const Json& json) {
    const std::string in = word(json, "end");
    const auto station = real(json, "in_mm");
    if ((in != "fence" && in != "far") || !station)
        return line.bad(
            "a reading needs \"end\":\"fence\" or \"far\" and a number \"in_mm\", for example "
            "{\"do\":\"read\",\"end\":\"far\",\"in_mm\":0}");
    return Read{in == "fence" ? End::fence : End::far, *station};
}

/// "then_x_mm_from_mm": [[x, s], ...].
std::optional<std::vector<contact::Grip>> later_grips(const Json& json) {
    std::vector<contact::Grip> grips;
    if (!json.contains("then_x_mm_from_mm")) return grips;
    const Json& list = json["then_x_mm_from_mm"];
    if (!list.is_array() || list.size() > most_grips) return std::nullopt;
    for (const Json& pair : list) {
        if (!pair.is_array() || pair.size() != 2 || !pair[0].is_number() || !pair[1].is_number()) return std::nullopt;
        grips.push_back({pair[1].get<double>(), pair[0].get<double>()});
    }
    return grips;
}

Result<Action> push_action(const Line& line, const Json& json) {
    const auto force = real(json, "force_n");
    const auto x = real(json, "x_mm");
    const auto later = later_grips(json);
    const bool stops = json.contains("stops_at_mm");
    const auto stop = real(json, "stops_at_mm");
    if (!force || !x || !later || (stops && !stop)) {
        return line.bad(
            "a pushed test needs numbers \"force_n\" and \"x_mm\", and may have \"stops_at_mm\" and a list of places, "
            "for example "
            "{\"do\":\"push-test\",\"force_n\":60,\"x_mm\":80,\"then_x_mm_from_mm\":[[-40,0]]}");
    }
    PushTest test;
    test.pass.hand.force_n = *force;
    test.pass.hand.grips.push_back({-std::numeric_limits<double>::infinity(), *x});
    test.pass.hand.grips.insert(test.pass.hand.grips.end(), later->begin(), later->end());
    if (stop) test.pass.stops_at_mm = *stop;
    if (const std::string trouble = trouble_with(test.pass); !trouble.empty()) return line.bad(trouble);
    return test;
}

Result<Action> shim_action(const Line& line, const Json& json, const std::string& what) {
    const auto at = at_of(json);
    if (!at) return line.bad("a shim needs \"at\":\"left\" or \"right\"");
    if (what == "take-shim") return TakeShim{*at};
    const char* key = what == "put-shim" ? "drawer_line" : "thickness_mm";
    const auto value = real(json, key);
    if (!value || std::abs(*value) > 1e6) return line.bad(fmt::format("{} needs a number \"{}\"", what, key));
    if (what == "put-shim" && std::trunc(*value) != *value)
        return line.bad("\"drawer_line\" must be a whole number, counted from 0");
    if (what == "put-shim") return PutShim{*at, static_cast<int>(*value)};
    return PutThickness{*at, *value};
}

Result<Action> check_action(const Line& line, const Json& json) {
    const auto check = measure::check_of(word(json, "check"));
    if (!check)
        return line.bad(
            "a check needs the name of one, as offsquare checks lists them, for example "
            "{\"do\":\"check\",\"check\":\"wiggle\"}");
    return MakeCheck{*check};
}

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

Result<Action> typed_action(const Line& line, const Json& json) {
    constexpr std::string_view example =
        "for example {\"do\":\"type-readings\",\"check\":\"jaws\",\"readings_mm\":{\"closed\":[0.02,0.01]}}";
    const auto check = measure::check_of(word(json, "check"));
    if (!check)
        return line.bad(
            fmt::format("typed readings need the name of a check, as offsquare checks lists them, {}", example));
    TypeReadings typed{*check, {}, stood_of(json)};
    const auto wanted = measure::info(*check).readings;
    const bool all =
        json.contains("readings_mm") && json["readings_mm"].is_object() && json["readings_mm"].size() == wanted.size();
    for (const measure::ReadingInfo& r : wanted) {
        const auto reading = all ? typed_reading(json["readings_mm"], r) : std::nullopt;
        if (!reading)
            return line.bad(fmt::format(
                "the check {} needs {} readings in \"readings_mm\", each a value and its standard uncertainty, {}",
                measure::info(*check).name, wanted.size(), example));
        typed.readings.push_back(*reading);
    }
    return typed;  // step() looks at the numbers
}

Result<Action> repair_action(const Line& line, const Json& json) {
    const auto fault = shop::fault_of(word(json, "fault"));
    if (!fault)
        return line.bad(
            "a repair needs the key of a fault, as offsquare faults lists them, for example "
            "{\"do\":\"repair\",\"fault\":\"blade_toe\"}");
    return Repair{*fault};
}

Result<Action> action_of(const Line& line, const Json& json) {
    const std::string what = word(json, "do");
    if (what == "check") return check_action(line, json);
    if (what == "type-readings") return typed_action(line, json);
    if (what == "repair") return repair_action(line, json);
    if (what == "cut") return CutTest{};
    if (what == "push-test") return push_action(line, json);
    if (what == "work-out") return WorkOut{};
    if (what == "read") return read_action(line, json);
    if (what == "put-shim" || what == "put-thickness" || what == "take-shim") return shim_action(line, json, what);
    if (what == "set" && !word(json, "key").empty()) return SetValue{word(json, "key"), word(json, "value")};
    if (what == "set-both" && !word(json, "key").empty() && !word(json, "other_key").empty()) {
        return SetBoth{{word(json, "key"), word(json, "value")}, {word(json, "other_key"), word(json, "other_value")}};
    }
    return line.bad(
        fmt::format("\"{}\" is no action; allowed are set, set-both, cut, push-test, read, work-out, put-shim, "
                    "put-thickness, take-shim, check, type-readings, repair; for example {{\"do\":\"cut\"}}",
                    what));
}

Result<Log> head_of(const Line& line, const Json& json) {
    if (!json.contains("offsquare_session"))
        return line.bad("the first line of a session names its format: {\"offsquare_session\":1, ...}");
    const auto version = real(json, "offsquare_session");
    if (!version || *version != format_version)
        return line.bad(fmt::format("this session is of another format; this program reads format {}", format_version));
    if (!json.contains("seed") || !json["seed"].is_number_unsigned())
        return line.bad("\"seed\" must be a whole number, 0 or more");
    Log log;
    log.seed = json["seed"].get<std::uint64_t>();
    if (json.contains("real_saw") && !json["real_saw"].is_boolean())
        return line.bad("\"real_saw\" must be true or false");
    log.real_saw = json.contains("real_saw") && json["real_saw"].get<bool>();
    const std::string readings = word(json, "readings");
    if (readings != "exact" && readings != "real") return line.bad("\"readings\" must be \"real\" or \"exact\"");
    log.precision = readings == "exact" ? measure::Precision::exact : measure::Precision::real;
    Result<scenario::Loaded> loaded =
        scenario::parse(word(json, "scenario"), fmt::format("{} (scenario in line 1)", line.name));
    if (!loaded) return tl::unexpected(loaded.error());
    log.scenario = std::move(loaded->scenario);
    return log;
}

/// Compares what the file says came of an action with what comes of it now.
Result<void> check_outcome(const Line& line, const Json& json, const Trial& trial) {
    if (!json.contains("then") || !json["then"].is_object()) return {};
    const Json now = outcome_of(trial);
    for (const auto& [key, recorded] : json["then"].items()) {
        if (now.contains(key) && now[key] == recorded) continue;
        const std::string present = now.contains(key) ? now[key].dump() : "nothing";
        return line.bad(fmt::format("the replay differs after action {}: {} was {} and is now {}", line.number - 1, key,
                                    recorded.dump(), present));
    }
    return {};
}

std::vector<std::string_view> lines_of(std::string_view text) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        lines.push_back(text.substr(0, end));
        text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
    }
    return lines;
}

/// A session that a crash cut off ends in half a line: that line is dropped.
bool drop_partial(std::vector<std::string_view>& lines, std::string_view text) {
    if (lines.size() < 2 || text.ends_with('\n') || Json::accept(lines.back())) return false;
    lines.pop_back();
    return true;
}

/// The first line: where the session starts.
Result<void> open(const Line& line, const Json& json, Replay& result, Run& now) {
    Result<Log> head = head_of(line, json);
    if (!head) return tl::unexpected(head.error());
    result.log = std::move(*head);
    if (word(json, "program") != OFFSQUARE_VERSION)
        result.notes.push_back("recorded by version " + word(json, "program"));
    now = start(result.log.scenario, result.log.seed, result.log.precision);
    return {};
}

/// Any other line: one action.
Result<void> act(const Line& line, const Json& json, Replay& result, Run& now) {
    Result<Action> action = action_of(line, json);
    if (!action) return tl::unexpected(action.error());
    if (const Result<void> done = step(now, *action); !done) return line.bad(done.error().message);
    result.log.actions.push_back(std::move(*action));
    return {};
}

}  // namespace

std::string to_text(const Log& log) {
    Json head{{"offsquare_session", format_version},
              {"program", OFFSQUARE_VERSION},
              {"seed", log.seed},
              {"readings", log.precision == measure::Precision::exact ? "exact" : "real"},
              {"scenario", scenario::to_text(log.scenario)}};
    if (log.real_saw) head["real_saw"] = true;
    std::string text = head.dump() + "\n";
    Run now = start(log.scenario, log.seed, log.precision);
    bool possible = true;
    for (std::size_t i = 0; i < log.actions.size(); ++i) {
        Json line = std::visit(Writer{}, log.actions[i]);
        line["n"] = i + 1;
        possible = possible && step(now, log.actions[i]).has_value();
        if (possible) {
            line["says"] = sentence_of(log.actions[i], now.trial.scenario.drawing, now.trial.scenario.units);
            line["then"] = outcome_of(now.trial);
        }
        text += line.dump() + "\n";
    }
    return text;
}

Result<Replay> replay(std::string_view text, std::string_view name) {
    std::vector<std::string_view> lines = lines_of(text);
    Replay result;
    if (drop_partial(lines, text)) result.notes.push_back("the last line was incomplete and has been left out");
    if (lines.empty())
        return fail(Grade::bad_data,
                    fmt::format("{}: the file is empty; a session starts with a line that names its format", name));
    if (lines.size() > most_actions + 1)
        return fail(Grade::bad_data,
                    fmt::format("{}: {} lines; a session has {} actions at most", name, lines.size(), most_actions));
    Run now;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const Line line{name, i + 1};
        const Result<Json> json = json_of(line, lines[i]);
        if (!json) return tl::unexpected(json.error());
        const Result<void> done = i == 0 ? open(line, *json, result, now) : act(line, *json, result, now);
        if (!done) return tl::unexpected(done.error());
        if (const Result<void> same = check_outcome(line, *json, now.trial); !same) return tl::unexpected(same.error());
    }
    result.trial = std::move(now.trial);
    return result;
}

}  // namespace offsquare::session
