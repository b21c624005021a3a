#include "lesson/hand_in.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "session/log_form.h"

namespace offsquare::lesson {
namespace {

using base::fail;
using base::Grade;
using session::Json;

constexpr const char* format_key = "offsquare_hunt";

// ---- writing ----

Json keys_of(const std::vector<shop::Fault>& faults) {
    Json keys = Json::array();
    for (const shop::Fault f : faults) keys.push_back(shop::info(f).key);
    return keys;
}

Json line_of(const Suspects& suspects) {
    Json order = Json::array();
    for (const Suspect& s : suspects.order) order.push_back(Json::array({shop::info(s.fault).key, s.sure}));
    return {{"suspects", std::move(order)}, {"out", keys_of(suspects.ruled_out)}};
}

Json line_of(const Did& did) {
    Json done = Json::array();
    for (const session::Action& action : did.intention) done.push_back(session::form_of(action));
    return {{"do", std::move(done)}};
}

Json line_of(const AskedHint& hint) { return {{"hint", hint.rung}}; }

Json line_of(const Close& close) {
    return {{"close", name_of(close.how)}, {"named", keys_of(close.named)}, {"sure", close.sure}};
}

// ---- reading ----

tl::unexpected<base::Problem> wrong(const std::string& what) { return fail(Grade::bad_data, what); }

base::Result<std::vector<shop::Fault>> faults_of(const Json& json, const char* key) {
    std::vector<shop::Fault> faults;
    if (!json.contains(key)) return faults;
    if (!json[key].is_array()) return wrong(fmt::format("\"{}\" must be a list of faults", key));
    for (const Json& one : json[key]) {
        const auto fault = one.is_string() ? shop::fault_of(one.get<std::string>()) : std::nullopt;
        if (!fault)
            return wrong(fmt::format("\"{}\": found {}; expected the key of a fault, as offsquare faults lists them",
                                     key, one.dump()));
        faults.push_back(*fault);
    }
    return faults;
}

base::Result<int> whole(const Json& json, const char* what) {
    if (!json.is_number_integer()) return wrong(fmt::format("\"{}\" must be a whole number", what));
    const auto value = json.get<std::int64_t>();
    if (value < 0 || value > 100) return wrong(fmt::format("\"{}\" must be from 0 to 100", what));
    return static_cast<int>(value);
}

base::Result<Move> suspects_of(const Json& json) {
    Suspects s;
    if (!json["suspects"].is_array()) return wrong("\"suspects\" must be a list of pairs such as [\"dust\",40]");
    for (const Json& one : json["suspects"]) {
        const bool pair = one.is_array() && one.size() == 2 && one[0].is_string();
        const auto fault = pair ? shop::fault_of(one[0].get<std::string>()) : std::nullopt;
        if (!fault) return wrong(fmt::format("found {}; expected a pair such as [\"dust\",40]", one.dump()));
        const auto sure = whole(one[1], "suspects");
        if (!sure) return tl::unexpected(sure.error());
        s.order.push_back({*fault, *sure});
    }
    auto out = faults_of(json, "out");
    if (!out) return tl::unexpected(out.error());
    s.ruled_out = std::move(*out);
    return Move(std::move(s));
}

base::Result<Move> did_of(const Json& json) {
    Did did;
    if (!json["do"].is_array()) return wrong("\"do\" must be a list of actions");
    for (const Json& one : json["do"]) {
        if (!one.is_object()) return wrong("\"do\" must be a list of actions, each an object");
        auto action = session::action_of(one);
        if (!action) return wrong(action.error().message);
        did.intention.push_back(std::move(*action));
    }
    return Move(std::move(did));
}

base::Result<Move> close_of(const Json& json) {
    const std::string how = session::word(json, "close");
    Close close;
    if (how == name_of(Ending::undecidable)) close.how = Ending::undecidable;
    else if (how == name_of(Ending::given_up)) close.how = Ending::given_up;
    else if (how != name_of(Ending::proved))
        return wrong(fmt::format("\"close\": found \"{}\"; expected proved, undecidable or given-up", how));
    auto named = faults_of(json, "named");
    if (!named) return tl::unexpected(named.error());
    close.named = std::move(*named);
    const auto sure = json.contains("sure") ? whole(json["sure"], "sure") : base::Result<int>(50);
    if (!sure) return tl::unexpected(sure.error());
    close.sure = *sure;
    return Move(std::move(close));
}

base::Result<Move> move_of(const Json& json) {
    if (json.contains("suspects")) return suspects_of(json);
    if (json.contains("do")) return did_of(json);
    if (json.contains("close")) return close_of(json);
    if (!json.contains("hint")) return wrong("this is no move; expected \"suspects\", \"do\", \"hint\" or \"close\"");
    const auto rung = whole(json["hint"], "hint");
    if (!rung) return tl::unexpected(rung.error());
    return Move(AskedHint{*rung});
}

base::Result<HandIn> head_of(const Json& json, std::string_view name) {
    if (!json.contains(format_key))
        return wrong(fmt::format("the first line of a hand-in names its format: {{\"{}\":1, …}}", format_key));
    if (json[format_key] != 1) return wrong("this hand-in is of another format; this program reads format 1");
    if (!json.contains("seed") || !json["seed"].is_number_unsigned())
        return wrong("\"seed\" must be a whole number, 0 or more");
    const auto text = session::scenario_text(json);
    if (!text) return tl::unexpected(text.error());
    auto loaded = scenario::parse_recorded(*text, fmt::format("{} (scenario in line 1)", name));
    if (!loaded) return tl::unexpected(loaded.error());
    HandIn in{Hunt(loaded->scenario, json["seed"].get<std::uint64_t>(), session::word(json, "case")), {}};
    if (const std::string version = session::word(json, "program"); version != OFFSQUARE_VERSION)
        in.notes.push_back("recorded by version " + version);
    return in;
}

base::Result<void> replay(const Json& json, Hunt& hunt) {
    auto move = move_of(json);
    if (!move) return tl::unexpected(move.error());
    if (const auto made = hunt.make(std::move(*move)); !made) return wrong(made.error().message);
    if (!json.contains("then")) return {};
    const Json now = session::outcome_of(hunt.seen());
    for (const auto& [key, recorded] : json["then"].items()) {
        if (now.contains(key) && now[key] == recorded) continue;
        return wrong(fmt::format("the replay differs: {} was {} and is now {}", key, recorded.dump(),
                                 now.contains(key) ? now[key].dump() : "nothing"));
    }
    return {};
}

}  // namespace

std::string to_text(const Hunt& hunt) {
    Json head{{format_key, 1}, {"program", OFFSQUARE_VERSION}, {"case", hunt.name()}, {"seed", hunt.seen().seed}};
    session::put_scenario(head, hunt.history().start());
    std::string text = head.dump() + "\n";
    Hunt now(hunt.history().start(), hunt.seen().seed, hunt.name());
    for (const Move& move : hunt.moves()) {
        Json line = std::visit([](const auto& m) { return line_of(m); }, move);
        if (now.make(move) && std::holds_alternative<Did>(move)) line["then"] = session::outcome_of(now.seen());
        text += line.dump() + "\n";
    }
    return text;
}

base::Result<HandIn> hand_in_of(std::string_view text, std::string_view name) {
    std::vector<std::string_view> lines = session::lines_of(text);
    const auto at = [&](std::size_t line, const std::string& what) {
        return fail(Grade::bad_data, fmt::format("{}:{}: {}", name, line, what));
    };
    if (lines.empty()) return at(1, "the file is empty; a hand-in starts with a line that names its format");
    const bool partial = lines.size() > 1 && !text.ends_with('\n') && !Json::accept(lines.back());
    if (partial) lines.pop_back();
    if (lines.size() > session::most_entries) return at(1, "a hand-in has fewer moves than this file has lines");
    std::optional<HandIn> in;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const auto json =
            session::object_of(lines[i], "this is not a line of a hand-in; expected an object such as {\"hint\":1}");
        if (!json) return at(i + 1, json.error().message);
        if (!in) {
            auto head = head_of(*json, name);
            if (!head) return at(1, head.error().message);
            in.emplace(std::move(*head));
            if (partial) in->notes.insert(in->notes.begin(), "the last line was incomplete and has been left out");
        } else if (const auto done = replay(*json, in->hunt); !done) {
            return at(i + 1, done.error().message);
        }
    }
    return std::move(*in);
}

bool is_hand_in(std::string_view text) {
    return text.substr(0, text.find('\n')).find(fmt::format("\"{}\"", format_key)) != std::string_view::npos;
}

}  // namespace offsquare::lesson
