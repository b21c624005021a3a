#include "session/action.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "session/seen.h"

namespace offsquare::session {
namespace {

/// The first action of that name; a null list means that none has it.
template <class... A>
base::Result<Action> read_one_of(const std::string& name, const Json& json, std::variant<A...>*) {
    std::optional<base::Result<Action>> found;
    const auto try_one = [&]<class One>(One*) {
        if (found || name != One::word) return;
        auto read = One::read(json);
        if (read) found.emplace(Action(std::move(*read)));
        else found.emplace(tl::unexpected(read.error()));
    };
    (try_one(static_cast<A*>(nullptr)), ...);
    if (found) return std::move(*found);
    std::string names;
    ((names += (names.empty() ? "" : ", ") + std::string(A::word)), ...);
    return bad_form("do",
                    fmt::format("\"{}\" is no action; allowed are {}; for example {{\"do\":\"cut\"}}", name, names));
}

}  // namespace

std::string sentence_of(const Action& action, const shop::Drawing& drawing, base::Units units) {
    return std::visit([&](const auto& a) { return a.sentence(drawing, units); }, action);
}

Cost cost_of(const Action& action) {
    return std::visit([](const auto& a) { return a.cost(); }, action);
}

Json form_of(const Action& action) {
    return std::visit(
        [](const auto& a) {
            Json json{{"do", a.word}};
            a.write(json);
            return json;
        },
        action);
}

base::Result<Action> action_of(const Json& json) {
    return read_one_of(word(json, "do"), json, static_cast<Action*>(nullptr));
}

}  // namespace offsquare::session
