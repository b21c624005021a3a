// offsquare diagnose: from readings to what is likely, what is ruled out and what is still open.
#include <algorithm>
#include <fmt/format.h>

#include "cli/json.h"
#include "cli/load_readings.h"
#include "cli/verb.h"
#include "picture/diagnosis_view.h"
#include "picture/writers.h"
#include "saws/exports.h"
#include "session/findings.h"
#include "session/hunt_words.h"
#include "session/next.h"
#include "session/slips.h"

namespace offsquare::cli {

namespace {

using diagnose::Belief;
using session::Standing;

std::string caliper_line(const scenario::Readings& readings) {
    if (!readings.common_caliper) return "";
    return wrapped(
               fmt::format("Readings without an uncertainty, and no caliper named in the file: they count as read with "
                           "{}.",
                           session::common_caliper_words(readings.scenario.units)),
               100) +
           "\n";
}

std::string as_json(const scenario::Readings& readings, const session::Findings& findings) {
    Json json = {{"schema_version", schema_version}};
    const Json diagnosis = saws::diagnosis_form(findings);
    for (const auto& [key, value] : diagnosis.items()) json[key] = value;
    if (readings.common_caliper) json["u_widths_from"] = session::common_caliper_words(base::Units::metric);
    return printed(json);
}

std::string lines_of(const session::Findings& findings, Standing standing, base::Units units) {
    std::vector<Belief> beliefs;
    for (const Belief& b : findings.diagnosis.beliefs) {
        if (session::standing_of(b) == standing) beliefs.push_back(b);
    }
    std::stable_sort(beliefs.begin(), beliefs.end(),
                     [](const Belief& a, const Belief& b) { return a.probability > b.probability; });
    std::string text;
    for (const Belief& b : beliefs) text += wrapped(session::sentence_of(b, units), 100) + "\n";
    return text;
}

std::string not_looked_at(const session::Findings& findings) {
    std::string names;
    for (const Belief& b : findings.diagnosis.beliefs) {
        if (!b.touched) names += (names.empty() ? "" : ", ") + std::string(session::name_of(b.fault));
    }
    return names.empty() ? std::string() : wrapped("Not looked at yet: " + names + ".", 100) + "\n";
}

/// The same as the page of suspects says, with the name of the check as --check takes it.
std::string next_sentence(const session::Findings& findings) {
    if (findings.diagnosis.jams() && !findings.next) {
        const session::NextWords next = session::next_words(findings);
        return next.what + (next.why.empty() ? "." : fmt::format(": {}", next.why));
    }
    const auto ripe = session::ripe_for_repair(findings);
    const std::string put_right = ripe ? fmt::format("Next: put right \"{}\".", session::name_of(*ripe)) : "";
    if (!findings.next) return ripe ? put_right : "No further check would tell much.";
    const measure::CheckInfo& check = measure::info(findings.next->check);
    return fmt::format("{} {} ({}): {}.", ripe ? put_right + " Or check on:" : "Next:", check.title, check.name,
                       findings.next->why);
}

std::string felt_sentence(measure::Going felt) {
    return felt == measure::Going::sticks ? "The sled goes in, and sticks on the way."
                                          : "The sled does not go into its slots.";
}

std::string as_text(const scenario::Readings& readings, const session::Findings& findings, const Ink& ink) {
    const base::Units units = readings.scenario.units;
    std::string text = fmt::format("{}: {} {}\n", ink.heading(printable(readings.scenario.title)),
                                   readings.reports.size(), readings.reports.size() == 1 ? "check" : "checks");
    if (findings.diagnosis.jams()) text += "\n" + ink.bad(felt_sentence(findings.diagnosis.felt)) + "\n";
    for (const Standing standing : {Standing::supported, Standing::open, Standing::ruled_out}) {
        const std::string lines = lines_of(findings, standing, units);
        if (!lines.empty()) text += "\n" + lines;
    }
    if (const std::string lines = not_looked_at(findings); !lines.empty()) text += "\n" + lines;
    for (const diagnose::LookAlikes& pair : findings.diagnosis.unseparated)
        text += "\n" + wrapped(session::sentence_of(pair), 100) + "\n";
    for (const diagnose::Contradiction& c : findings.diagnosis.contradictions)
        text += "\n" + ink.bad(wrapped(session::sentence_of(c), 100)) + "\n";
    if (const std::string line = caliper_line(readings); !line.empty()) text += "\n" + line;
    return text + "\n" + ink.strong(wrapped(next_sentence(findings), 100)) + "\n";
}

/// The same at a glance, in a file.
base::Result<void> draw(const std::string& path, const scenario::Readings& readings,
                        const session::Findings& findings) {
    picture::Picture drawing =
        picture::diagnosis_view(findings, {900.0, 0.0, readings.scenario.units, readings.scenario.title}).picture;
    constexpr double margin = 16.0;
    drawing.lo = drawing.lo - picture::Vec2{margin, margin};
    drawing.hi = drawing.hi + picture::Vec2{margin, margin};
    const picture::Vec2 size = drawing.hi - drawing.lo;
    // 8 points are the writer's own margin: one point of the picture stays one point of the page.
    return picture::write(drawing, {size.x + 16.0, size.y + 16.0, picture::Scheme::light, 1.0}, path);
}

base::Result<void> refuse_ending(const std::string& path) {
    for (const std::string_view ending : {".svg", ".png", ".pdf"}) {
        if (path.size() > ending.size() && path.ends_with(ending)) return {};
    }
    return base::fail(base::Grade::usage,
                      fmt::format("--picture ends in .svg, .png or .pdf, found {}; for example --picture diagnosis.svg",
                                  in_quotes(path)));
}

}  // namespace

base::Result<Answer> diagnose_verb_answer(const Arguments& arguments, const Door& door) {
    const auto picture = arguments.one("--picture");
    if (picture) {
        if (auto ending = refuse_ending(*picture); !ending) return tl::unexpected(ending.error());
    }
    const auto loaded = readings_of(arguments, door);
    if (!loaded) return tl::unexpected(loaded.error());
    const scenario::Readings& readings = *loaded;
    const auto findings = session::find_out(readings.reports, readings.scenario.drawing);
    if (!findings) return tl::unexpected(findings.error());
    if (picture) {
        if (auto drawn = draw(*picture, readings, *findings); !drawn) return tl::unexpected(drawn.error());
    }
    return Answer{arguments.has("--json") ? as_json(readings, *findings) : as_text(readings, *findings, door.ink),
                  readings.warnings, 0};
}

}  // namespace offsquare::cli
