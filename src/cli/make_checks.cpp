#include "cli/make_checks.h"

#include <fmt/format.h>

#include "base/save.h"
#include "cli/json.h"
#include "scenario/readings.h"

namespace offsquare::cli {

namespace {

using measure::CheckReport;

base::Result<std::vector<session::Action>> actions_of(const Arguments& arguments, const Bench& bench) {
    std::vector<std::string> names;
    for (const measure::CheckInfo& c : measure::checks()) names.emplace_back(c.name);
    std::vector<session::Action> actions = bench.shims;
    for (const std::string& typed : arguments.all("--check")) {
        const auto name = word_of("--check", typed, names);
        if (!name) return tl::unexpected(name.error());
        actions.emplace_back(session::MakeCheck{*measure::check_of(*name)});
    }
    return actions;
}

std::vector<CheckReport> reports_of(const session::Trial& trial) {
    std::vector<CheckReport> reports;
    for (const session::Note& note : trial.notebook) reports.push_back(note.report);
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

std::string as_json(const session::Trial& trial) {
    Json json = document(trial.seed);
    json["readings"] = Json::array();
    for (const CheckReport& report : reports_of(trial)) {
        for (const measure::CheckReading& reading : report.readings)
            json["readings"].push_back(reading_json(report, reading));
    }
    json["minutes"] = number(trial.minutes);
    json["stock_mm"] = number(trial.stock_mm);
    return printed(json);
}

/// The readings as a person reads them; `file` is where they were written, empty for nowhere.
std::string as_text(const session::Trial& trial, const std::string& file, const Ink& ink) {
    const base::Units units = trial.scenario.units;
    std::string text = fmt::format("{} (seed {})\n", ink.heading(printable(trial.scenario.title)), trial.seed);
    for (const CheckReport& report : reports_of(trial)) {
        const measure::CheckInfo& check = measure::info(report.occasion.check);
        std::vector<std::vector<std::string>> rows;
        for (std::size_t i = 0; i < report.readings.size(); ++i) {
            const measure::CheckReading& r = report.readings[i];
            rows.push_back({"  " + r.what, base::show_reading(r.value, units), "±", base::show_small(r.u, units),
                            std::string(check.readings[i].meaning)});
        }
        text += fmt::format("\n{} ({}; {:g} min)\n", ink.heading(check.title), check.instrument, check.minutes) +
                columns(rows, 2, {1, 3});
    }
    const std::string next =
        file.empty() ? "To weigh these readings: -o readings.toml, then offsquare diagnose readings.toml"
                     : fmt::format("The readings are in {}: offsquare diagnose weighs them.", printable(file));
    return text + "\n" +
           ink.strong(fmt::format("{:g} minutes and {:g} mm of board. {}", trial.minutes, trial.stock_mm, next)) + "\n";
}

}  // namespace

base::Result<Answer> checks_made_answer(const Arguments& arguments, const Bench& bench, const Door& door) {
    const auto actions = actions_of(arguments, bench);
    if (!actions) return tl::unexpected(actions.error());
    const auto trial = session::run(bench.scenario, *actions, bench.seed, bench.precision);
    if (!trial) return tl::unexpected(trial.error());
    const std::string file = scenario::readings_text(bench.scenario, reports_of(*trial));
    const auto output = arguments.one("--output");
    if (output && *output == "-") return Answer{file, bench.warnings, 0};
    if (output) {
        if (const auto saved = base::save(*output, file); !saved) return tl::unexpected(saved.error());
    }
    return Answer{arguments.has("--json") ? as_json(*trial) : as_text(*trial, output.value_or(""), door.ink),
                  bench.warnings, 0};
}

}  // namespace offsquare::cli
