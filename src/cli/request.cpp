#include "cli/request.h"

#include <fmt/format.h>
#include <limits>

#include "base/read.h"
#include "lesson/cases.h"
#include "shop/sense.h"

namespace offsquare::cli {

using base::fail;
using base::Grade;
using base::Result;

namespace {

Result<session::Action> shim_of(const std::string& typed, base::Units units) {
    const std::size_t equals = typed.find('=');
    if (equals == std::string::npos) {
        return fail(Grade::usage,
                    fmt::format("--shim is END=THICKNESS, found {}; for example --shim left=0.4mm", in_quotes(typed)));
    }
    const auto end = word_of("the end of --shim", typed.substr(0, equals), {"left", "right"});
    if (!end) return tl::unexpected(end.error());
    const auto unit = units == base::Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch;
    const auto thickness = base::parse_length(typed.substr(equals + 1), unit);
    if (!thickness) return fail(Grade::usage, fmt::format("--shim {}: {}", *end, thickness.error().message));
    if (thickness->value < 0.0)
        return fail(Grade::usage,
                    fmt::format("--shim {}: a shim is not thinner than nothing, found {}", *end, in_quotes(typed)));
    return session::PutThickness{*end == "left" ? shim::At::left : shim::At::right, thickness->value};
}

Result<void> take_shims(Request& request, const Arguments& arguments) {
    for (const std::string& typed : arguments.all("--shim")) {
        auto action = shim_of(typed, request.scenario.units);
        if (!action) return tl::unexpected(action.error());
        request.shims.push_back(std::move(*action));
    }
    return {};
}

Result<void> take_numbers(Request& request, const Arguments& arguments) {
    if (const auto typed = arguments.one("--seed")) {
        const auto seed = whole_number_of("--seed", *typed, 0, std::numeric_limits<std::uint64_t>::max());
        if (!seed) return tl::unexpected(seed.error());
        request.seed = *seed;
    }
    if (const auto typed = arguments.one("--reads")) {
        const auto reads = whole_number_of("--reads", *typed, 1, 100);
        if (!reads) return tl::unexpected(reads.error());
        request.ways.reads = static_cast<std::size_t>(*reads);
    }
    return {};
}

}  // namespace

Result<scenario::Loaded> load_scenario(const std::string& operand, const std::vector<scenario::Override>& overrides,
                                       std::istream& in) {
    if (operand == "built-in") return scenario::parse(scenario::built_in_text(), "built-in", overrides);
    if (lesson::find_case(operand) != nullptr) return lesson::load_case(operand, overrides);
    if (operand != "-") return scenario::load(operand, overrides);
    const auto text = base::read_stream(in, "standard input", base::scenario_wanted);
    if (!text) return tl::unexpected(text.error());
    return scenario::parse(*text, "standard input", overrides);
}

Result<std::vector<scenario::Override>> overrides_of(const Arguments& arguments) {
    std::vector<scenario::Override> overrides;
    for (const std::string& typed : arguments.all("--set")) {
        const std::size_t equals = typed.find('=');
        if (equals == std::string::npos || equals == 0) {
            return fail(Grade::usage,
                        fmt::format("--set is KEY=VALUE, found {}; for example --set faults.fence_skew=0.5mm/m",
                                    in_quotes(typed)));
        }
        overrides.push_back({typed.substr(0, equals), typed.substr(equals + 1)});
    }
    return overrides;
}

Result<base::Units> units_of(const Arguments& arguments, base::Units::System system) {
    const auto angles = word_of("--angles", arguments.one("--angles").value_or("slope"), {"slope", "mrad"});
    if (!angles) return tl::unexpected(angles.error());
    return base::Units(system, *angles == "mrad" ? base::Units::Angles::mrad : base::Units::Angles::slope);
}

Result<Request> request_of(const Arguments& arguments, std::istream& in) {
    const auto overrides = overrides_of(arguments);
    if (!overrides) return tl::unexpected(overrides.error());
    auto loaded = load_scenario(arguments.operand.value_or("built-in"), *overrides, in);
    if (!loaded) return tl::unexpected(loaded.error());
    Request request;
    request.scenario = std::move(loaded->scenario);
    const auto units = units_of(arguments, request.scenario.units.system);
    if (!units) return tl::unexpected(units.error());
    request.scenario.units = *units;
    request.warnings = std::move(loaded->warnings);
    for (const shop::Advice& advice : shop::sense_of(request.scenario.drawing, request.scenario.units))
        request.warnings.push_back(fmt::format("advice ({}): {}", advice.key, advice.sentence));
    request.seed = request.scenario.seed;
    request.precision = arguments.has("--exact") ? measure::Precision::exact : measure::Precision::real;
    request.ways.reads = arguments.has("--exact") ? 1 : 2;  // an exact reading says the same however often it is made
    if (auto taken = take_numbers(request, arguments); !taken) return tl::unexpected(taken.error());
    if (auto taken = take_shims(request, arguments); !taken) return tl::unexpected(taken.error());
    return request;
}

Result<session::History> start(const Request& request) {
    session::History history(request.scenario, request.seed, request.precision);
    for (const session::Action& shim : request.shims) {
        if (auto done = history.act(shim); !done) return tl::unexpected(done.error());
    }
    return history;
}

Result<session::History> with_one_test(const Request& request) {
    auto history = start(request);
    if (!history) return history;
    if (auto cut = history->act(request.ways.test); !cut) return tl::unexpected(cut.error());
    while (!history->seen().last_test()->worked_out) {
        const session::Next next = session::next_in_job(history->seen(), request.ways);
        const bool no_strip = next.todo == session::Todo::cut_otherwise || next.todo == session::Todo::find_the_jam;
        if (no_strip) return history;
        if (auto done = history->act(next.intention); !done) return tl::unexpected(done.error());
    }
    return history;
}

}  // namespace offsquare::cli
