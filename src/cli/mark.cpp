// offsquare mark: what became of hunts that were handed in.
#include <fmt/format.h>

#include "base/read.h"
#include "cli/debrief_text.h"
#include "cli/request.h"
#include "cli/verb.h"
#include "lesson/hand_in.h"

namespace offsquare::cli {

using base::Result;

namespace {

Result<std::string> hand_in_text(const std::string& operand, std::istream& in) {
    if (operand == "-") return base::read_stream(in, "standard input", base::session_wanted);
    return base::read_file(operand, operand, base::session_wanted);
}

}  // namespace

Result<Answer> mark_verb_answer(const Arguments& arguments, const Door& door) {
    Answer answer;
    Json json{{"schema_version", schema_version}, {"hand_ins", Json::array()}};
    std::size_t bad = 0;
    for (const std::string& operand : arguments.operands) {
        const auto text = hand_in_text(operand, door.in);
        if (!text) return tl::unexpected(text.error());
        const auto in = lesson::hand_in_of(*text, operand);
        if (!in) {
            ++bad;
            answer.notes.push_back(in.error().message);
            json["hand_ins"].push_back({{"file", operand}, {"error", in.error().message}});
            continue;
        }
        const auto units = units_of(arguments, in->hunt.seen().units.system);
        if (!units) return tl::unexpected(units.error());
        for (const std::string& note : in->notes) answer.notes.push_back(operand + ": " + note);
        const auto d = lesson::debrief_of(in->hunt, *units);
        if (!d) {
            answer.out += arguments.has("--json") ? "" : printable(operand) + ": still open, and not marked.\n\n";
            json["hand_ins"].push_back({{"file", operand}, {"case", in->hunt.name()}, {"open", true}});
            continue;
        }
        if (!arguments.has("--json"))
            answer.out += printable(operand) + "\n" + debrief_text(*d, *units, door.ink) + "\n";
        Json one{{"file", operand}, {"case", in->hunt.name()}};
        one.update(debrief_json(*d));
        json["hand_ins"].push_back(std::move(one));
    }
    if (arguments.has("--json")) answer.out = printed(json);
    if (bad == arguments.operands.size()) return base::fail(base::Grade::bad_data, answer.notes.front());
    return answer;
}

}  // namespace offsquare::cli
