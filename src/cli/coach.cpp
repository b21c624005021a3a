// offsquare coach: what to do next and why, in a ladder of three rungs.
#include <algorithm>
#include <fmt/format.h>

#include "cli/json.h"
#include "cli/load_readings.h"
#include "cli/verb.h"
#include "lesson/coach.h"

namespace offsquare::cli {

namespace {

using lesson::Coaching;

struct CoachRequest {
    lesson::OwnSuspects suspects;
    int rung = 3;
    bool bits = false;
};

base::Result<lesson::OwnSuspects> suspects_of(const Arguments& arguments) {
    std::vector<std::string> keys;
    for (const shop::FaultInfo& f : shop::faults()) keys.emplace_back(f.key);
    lesson::OwnSuspects out;
    for (const std::string& typed : arguments.all("--suspect")) {
        const auto key = word_of("--suspect", typed, keys);
        if (!key) return tl::unexpected(key.error());
        const shop::Fault fault = *shop::fault_of(*key);
        if (std::any_of(out.begin(), out.end(), [&](const auto& s) { return s.first == fault; }))
            return base::fail(base::Grade::usage, fmt::format("--suspect {} is given twice; once is enough", *key));
        out.emplace_back(fault, 50);
    }
    return out;
}

base::Result<CoachRequest> coach_request_of(const Arguments& arguments) {
    CoachRequest request;
    auto suspects = suspects_of(arguments);
    if (!suspects) return tl::unexpected(suspects.error());
    request.suspects = std::move(*suspects);
    if (const auto typed = arguments.one("--rung")) {
        const auto rung = whole_number_of("--rung", *typed, 1, 3);
        if (!rung) return tl::unexpected(rung.error());
        request.rung = static_cast<int>(*rung);
    }
    request.bits = arguments.has("--bits");
    if (request.bits && request.rung < 3)
        return base::fail(base::Grade::usage,
                          "--bits names the checks, which only rung 3 does; leave one of --bits and --rung out");
    return request;
}

std::string_view word_for(session::Standing standing) {
    switch (standing) {
        case session::Standing::untouched: return "not looked at";
        case session::Standing::ruled_out: return "ruled out";
        case session::Standing::open: return "open";
        case session::Standing::supported: break;
    }
    return "there";
}

Json name_or_null(const std::optional<measure::Check>& check) {
    return check ? Json(std::string(measure::info(*check).name)) : Json(nullptr);
}
Json key_or_null(const std::optional<shop::Fault>& fault) {
    return fault ? Json(std::string(shop::info(*fault).key)) : Json(nullptr);
}

Json suspects_form(const Coaching& c) {
    Json all = Json::array();
    for (const lesson::SuspectNow& s : c.suspects) {
        Json one = {{"key", std::string(shop::info(s.fault).key)},
                    {"standing", std::string(word_for(s.standing))},
                    {"named", s.own}};
        one["ruled_out_by"] = s.ruled_out_by ? Json(*s.ruled_out_by + 1) : Json(nullptr);
        all.push_back(std::move(one));
    }
    return all;
}

Json numbers_form(const Coaching& c) {
    Json all = Json::array();
    for (const lesson::CheckNumbers& n : c.numbers) {
        Json one = {{"check", std::string(measure::info(n.check).name)},
                    {"bits", number(n.bits)},
                    {"bits_per_minute", number(n.bits_per_minute)}};
        one["expected_minutes"] = n.minutes ? Json(number(*n.minutes)) : Json(nullptr);
        all.push_back(std::move(one));
    }
    return all;
}

std::string as_json(const Coaching& c, const CoachRequest& request) {
    Json json = {{"schema_version", schema_version}, {"rung", request.rung}};
    json["question"] = c.question;
    if (request.rung >= 2) {
        json["suspects"] = suspects_form(c);
        json["alive"] = c.alive;
    }
    if (request.rung >= 3) {
        json["matter"] = std::string(lesson::name_of(c.matter));
        json["check"] = name_or_null(c.check);
        json["repair"] = key_or_null(c.fault);
        json["says"] = c.deed;
    }
    if (request.bits) json["checks"] = numbers_form(c);
    return printed(json);
}

std::string rung_text(int rung, const std::vector<std::string>& says) {
    std::string text = fmt::format("\n{}", rung);
    bool first = true;
    for (const std::string& sentence : says) {
        const std::string lines = wrapped(sentence, 97, 3);
        text += first ? lines.substr(1) + "\n" : lines + "\n";
        first = false;
    }
    return text;
}

std::string numbers_text(const Coaching& c) {
    if (c.numbers.empty()) return "\nNo check is thought through: it is settled what to do.\n";
    std::vector<std::vector<std::string>> rows{{"check", "bits", "bits a minute", "expected minutes"}};
    for (const lesson::CheckNumbers& n : c.numbers) {
        rows.push_back({std::string(measure::info(n.check).name), fmt::format("{:.2f}", n.bits),
                        fmt::format("{:.3f}", n.bits_per_minute), n.minutes ? fmt::format("{:.0f}", *n.minutes) : "-"});
    }
    return "\n" + columns(rows, 2, {1, 2, 3}) + "\n" +
           wrapped(
               "Bits: what a check would tell about which of the suspects are there. Expected minutes: until one of "
               "them "
               "is found or all are known, this check made first, two checks thought ahead and the rest estimated; the "
               "board that is used up counts as a minute for each 20 mm.",
               100) +
           "\n";
}

std::string as_text(const Coaching& c, const CoachRequest& request, const scenario::Readings& readings,
                    const Ink& ink) {
    std::string text = fmt::format("{}: {} {}\n", ink.heading(printable(readings.scenario.title)),
                                   readings.reports.size(), readings.reports.size() == 1 ? "check" : "checks");
    int rung = 1;
    for (const auto* says : {&c.question, &c.alive, &c.deed}) {
        if (rung <= request.rung) text += rung_text(rung, *says);
        ++rung;
    }
    if (request.bits) text += base::said_in(numbers_text(c), readings.scenario.units);
    return text;
}

}  // namespace

base::Result<Answer> coach_verb_answer(const Arguments& arguments, const Door& door) {
    const auto request = coach_request_of(arguments);
    if (!request) return tl::unexpected(request.error());
    const auto readings = readings_of(arguments, door);
    if (!readings) return tl::unexpected(readings.error());
    const shop::Drawing& drawing = readings->scenario.drawing;
    const session::Assumptions assumed = session::usual_assumptions(drawing);
    const auto findings = session::find_out(readings->reports, drawing, assumed);
    if (!findings) return tl::unexpected(findings.error());
    const Coaching c =
        lesson::coach(lesson::CoachKnows{readings->reports, drawing, *findings, assumed, readings->scenario.units},
                      request->suspects);
    return Answer{arguments.has("--json") ? as_json(c, *request) : as_text(c, *request, *readings, door.ink),
                  readings->warnings, 0};
}

}  // namespace offsquare::cli
