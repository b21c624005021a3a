#include "cli/load_readings.h"

#include <algorithm>
#include <fmt/format.h>

#include "base/read.h"
#include "cli/insist.h"
#include "cli/request.h"
#include "session/slips.h"

namespace offsquare::cli {

namespace {

base::Result<scenario::Readings> load_one(const std::string& operand, std::istream& in) {
    if (operand != "-") return scenario::load_readings(operand);
    const auto text = base::read_stream(in, "standard input", base::readings_wanted);
    if (!text) return tl::unexpected(text.error());
    return scenario::parse_readings(*text, "standard input");
}

/// Several files of one saw, one after the other.
struct Loaded {
    scenario::Readings all;
    session::Slips slips;
};

/// The file says the same as one before it, to the last bit.
std::string given_twice(const std::vector<std::string>& operands, const std::vector<std::string>& texts) {
    const auto same = std::find(texts.begin(), texts.end() - 1, texts.back());
    if (same == texts.end() - 1) return "";
    return fmt::format("{} holds the same readings as {}: is it given twice?", in_quotes(operands[texts.size() - 1]),
                       in_quotes(operands[static_cast<std::size_t>(same - texts.begin())]));
}

/// All files together: they must be of one saw.
base::Result<Loaded> load_all(const std::vector<std::string>& operands, std::istream& in) {
    Loaded loaded;
    std::vector<std::string> texts;
    for (const std::string& operand : operands) {
        auto more = load_one(operand, in);
        if (!more) return tl::unexpected(more.error());
        texts.push_back(scenario::readings_text(more->scenario, more->reports));
        if (texts.size() == 1) {
            loaded.all = std::move(*more);
            continue;
        }
        scenario::Readings& all = loaded.all;
        if (scenario::readings_text(all.scenario, {}) != scenario::readings_text(more->scenario, {})) {
            return base::fail(
                base::Grade::bad_data,
                fmt::format("{} and {} are not of the same saw: their sizes differ. Allowed: files whose sections are "
                            "alike. Example: both written by offsquare cut --check on one scenario",
                            operands.front(), operand));
        }
        if (std::string twice = given_twice(operands, texts); !twice.empty()) loaded.slips.push_back(std::move(twice));
        all.reports.insert(all.reports.end(), more->reports.begin(), more->reports.end());
        all.warnings.insert(all.warnings.end(), more->warnings.begin(), more->warnings.end());
        all.common_caliper = all.common_caliper || more->common_caliper;
    }
    // A file that is there twice is one slip, not one for each of its readings.
    if (loaded.slips.empty())
        loaded.slips = session::slips_in(loaded.all.reports, loaded.all.scenario.drawing, loaded.all.scenario.units);
    return loaded;
}

}  // namespace

base::Result<scenario::Readings> readings_of(const Arguments& arguments, const Door& door) {
    auto loaded = load_all(arguments.operands, door.in);
    if (!loaded) return tl::unexpected(loaded.error());
    const auto units = units_of(arguments, loaded->all.scenario.units.system);
    if (!units) return tl::unexpected(units.error());
    loaded->all.scenario.units = *units;
    // Who reads from standard input cannot be asked there.
    const bool piped = std::find(arguments.operands.begin(), arguments.operands.end(), "-") != arguments.operands.end();
    if (auto meant = ask_about(loaded->slips, arguments, piped ? Door{door.in, door.ink} : door); !meant)
        return tl::unexpected(meant.error());
    return std::move(loaded->all);
}

}  // namespace offsquare::cli
