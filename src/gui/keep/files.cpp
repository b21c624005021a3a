#include "gui/keep/files.h"

#include <fmt/format.h>

#include "base/read.h"
#include "lesson/cases.h"
#include "scenario/readings.h"

namespace offsquare::gui {
namespace {

using base::Result;

Result<std::string> open_session(Bench& bench, const std::filesystem::path& path) {
    const auto text = base::read_file(path.string(), path.string(), base::session_wanted);
    if (!text) return tl::unexpected(text.error());
    auto replay = session::replay(*text, path.filename().string());
    if (!replay) return tl::unexpected(replay.error());
    bench.open(std::move(*replay));
    return "The session is open; its replay gives the same numbers.";
}

/// A readings file is a scenario file with checks in it; empty when there are none, or when it is none at all.
std::optional<scenario::Readings> readings_in(const std::filesystem::path& path) {
    auto readings = scenario::load_readings(path.string());
    if (!readings || readings->reports.empty()) return std::nullopt;
    return std::move(*readings);
}

std::string open_readings(Bench& bench, scenario::Readings readings, const std::string& name) {
    const std::size_t n = readings.reports.size();
    const std::string said =
        readings.warnings.empty()
            ? fmt::format("{}: {} {} of a real saw. The notebook weighs them.", name, n, n == 1 ? "check" : "checks")
            : readings.warnings.front();
    bench.open(std::move(readings));
    return said;
}

}  // namespace

Result<std::string> open_on(Bench& bench, const std::filesystem::path& path) {
    if (path.extension() == ".jsonl") return open_session(bench, path);
    if (auto readings = readings_in(path)) return open_readings(bench, std::move(*readings), path.filename().string());
    auto loaded = scenario::load(path.string());
    if (!loaded) return tl::unexpected(loaded.error());
    bench.open(std::move(loaded->scenario));
    return loaded->warnings.empty() ? "Opened " + path.filename().string() + "." : loaded->warnings.front();
}

std::optional<lesson::SoFar> so_far_in(const std::filesystem::path& path) {
    if (path.extension() == ".jsonl") {
        const auto text = base::read_file(path.string(), path.string(), base::session_wanted);
        if (!text) return std::nullopt;
        const auto log = session::read_log(*text, path.string());
        if (!log) return std::nullopt;
        return lesson::so_far(*log);
    }
    if (const auto readings = readings_in(path)) {
        const std::size_t n = readings->reports.size();
        return lesson::SoFar{readings->scenario.title,
                             fmt::format("{} {} of a real saw", n, n == 1 ? "check" : "checks")};
    }
    const auto loaded = scenario::load(path.string());
    if (!loaded) return std::nullopt;
    const std::string& complaint = loaded->scenario.complaint;
    return lesson::SoFar{complaint.empty() ? loaded->scenario.title : lesson::in_quotes(complaint),
                         "a saw as its file has it, nothing done yet"};
}

}  // namespace offsquare::gui
