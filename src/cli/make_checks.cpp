#include "cli/make_checks.h"

#include <fmt/format.h>

#include "base/save.h"
#include "cli/json.h"
#include "measure/going.h"
#include "scenario/readings.h"

namespace offsquare::cli {

namespace {

using measure::CheckReport;

base::Result<std::vector<session::Action>> actions_of(const Arguments& arguments, const Request& request) {
    std::vector<std::string> names;
    for (const measure::CheckInfo& c : measure::checks()) names.emplace_back(c.name);
    std::vector<session::Action> actions = request.shims;
    for (const std::string& typed : arguments.all("--check")) {
        const auto name = word_of("--check", typed, names);
        if (!name) return tl::unexpected(name.error());
        actions.emplace_back(session::MakeCheck{*measure::check_of(*name)});
    }
    return actions;
}

std::vector<CheckReport> reports_of(const session::Seen& seen) {
    std::vector<CheckReport> reports;
    for (const session::Note& note : seen.checks) reports.push_back(note.report);
    return reports;
}

Json reading_json(const CheckReport& report, const measure::CheckReading& reading) {
    const std::string unit = reading.unit == shop::FaultUnit::mm ? "mm" : "rad";
    Json json;
    json["check"] = std::string(measure::info(report.occasion.check).name);
    json["what"] = reading.what;
    json["value_" + unit] = number(reading.value);
    json["u_" + unit] = number(reading.u);
    return json;
}

std::string as_json(const session::Seen& seen) {
    Json json = document(seen.seed);
    json["readings"] = Json::array();
    for (const CheckReport& report : reports_of(seen)) {
        for (const measure::CheckReading& reading : report.readings)
            json["readings"].push_back(reading_json(report, reading));
    }
    json["minutes"] = number(seen.minutes);
    json["stock_mm"] = number(seen.stock_mm);
    return printed(json);
}

/// The readings as a person reads them; `file` is where they were written, empty for nowhere.
std::string as_text(const session::Seen& seen, const std::string& file, const Ink& ink) {
    const base::Units units = seen.units;
    std::string text = fmt::format("{} (seed {})\n", ink.heading(printable(seen.title)), seen.seed);
    for (const CheckReport& report : reports_of(seen)) {
        const measure::CheckInfo& check = measure::info(report.occasion.check);
        std::vector<std::vector<std::string>> rows;
        for (std::size_t i = 0; i < report.readings.size(); ++i) {
            const measure::CheckReading& r = report.readings[i];
            if (check.check == measure::Check::push_through)
                rows.push_back({"  " + r.what, measure::words_of_went(r.value, seen.drawing, units)});
            else
                rows.push_back({"  " + r.what, base::show_reading(r.value, units), "±", base::show_small(r.u, units),
                                base::said_in(check.readings[i].meaning, units)});
        }
        text += fmt::format("\n{} ({}; {:g} min)\n", ink.heading(check.title), check.instrument, check.minutes) +
                columns(rows, 2, {1, 3});
    }
    if (const std::string jam = session::jam_sentence(seen, units); !jam.empty())
        text += "\n" + ink.bad(wrapped(jam + " Checks that need it to go cannot be done until it does.", 100)) + "\n";
    const std::string next =
        file.empty() ? "To weigh these readings: -o readings.toml, then offsquare diagnose readings.toml"
                     : fmt::format("The readings are in {}: offsquare diagnose weighs them.", printable(file));
    return text + "\n" +
           ink.strong(fmt::format("{:g} minutes and {} of board. {}", seen.minutes,
                                  base::show_size(seen.stock_mm, units), next)) +
           "\n";
}

}  // namespace

base::Result<Answer> checks_made_answer(const Arguments& arguments, const Request& request, const Door& door) {
    const auto actions = actions_of(arguments, request);
    if (!actions) return tl::unexpected(actions.error());
    const auto history = session::run(request.scenario, *actions, request.seed, request.precision);
    if (!history) return tl::unexpected(history.error());
    const std::string file = scenario::readings_text(request.scenario, reports_of(history->seen()));
    const auto output = arguments.one("--output");
    if (output && *output == "-") return Answer{file, request.warnings, 0};
    if (output) {
        if (const auto saved = base::save(*output, file); !saved) return tl::unexpected(saved.error());
    }
    const session::Seen& seen = history->seen();
    return Answer{arguments.has("--json") ? as_json(seen) : as_text(seen, output.value_or(""), door.ink),
                  request.warnings, 0};
}

}  // namespace offsquare::cli
