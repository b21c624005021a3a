// offsquare keys: every value that a scenario can hold.
#include <fmt/format.h>

#include "cli/json.h"
#include "cli/request.h"
#include "cli/verb.h"
#include "scenario/scenario.h"

namespace offsquare::cli {

namespace {

using Kind = scenario::KeyInfo::Kind;

// Bare numbers of the columns "range" and "left out" are in these units, as in a metric file: 1 mrad is 1 mm in 1 m, to
// the digits shown.
std::string_view unit_of(Kind kind, base::Units units) {
    switch (kind) {
        case Kind::length:
        case Kind::points: return "mm";
        case Kind::angle: return units.angles == base::Units::Angles::mrad ? "mrad" : "mm in 1 m";
        case Kind::number:
        case Kind::count:
        case Kind::word: break;
    }
    return "";
}

std::string range_of(const scenario::KeyInfo& key) {
    if (key.kind == Kind::word) return "text";
    // A seed may be any whole number of 64 bits; its upper end as a double would only puzzle.
    if (key.max > 1e15) return fmt::format("from {:g}", key.min);
    const double unit = key.kind == Kind::angle ? 1e-3 : 1.0;
    return fmt::format("{:g} to {:g}", key.min / unit, key.max / unit);
}

/// The rows of the drawer are alike; the first stands for all.
bool another_row(const scenario::KeyInfo& key) {
    return key.key.starts_with("drawer.") && !key.key.starts_with("drawer.0.");
}

/// What `min` and `max` are in.
std::string_view word_of_unit(Kind kind) {
    switch (kind) {
        case Kind::length:
        case Kind::points: return "mm";
        case Kind::angle: return "rad";
        case Kind::word: return "bytes";
        case Kind::number:
        case Kind::count: break;
    }
    return "1";
}

std::string_view word_of_kind(Kind kind) {
    switch (kind) {
        case Kind::length: return "length";
        case Kind::angle: return "angle";
        case Kind::number: return "number";
        case Kind::count: return "count";
        case Kind::word: return "word";
        case Kind::points: return "points";
    }
    return "word";
}

std::string as_json() {
    Json json{{"schema_version", schema_version}, {"keys", Json::array()}};
    for (const scenario::KeyInfo& key : scenario::keys()) {
        if (another_row(key)) continue;
        Json one{{"key", key.key},
                 {"unit", std::string(word_of_unit(key.kind))},
                 {"min", number(key.min)},
                 {"max", number(key.max)},
                 {"default", nullptr},
                 {"meaning", key.meaning},
                 {"kind", std::string(word_of_kind(key.kind))},
                 {"example", key.example}};
        if (!key.standard.empty()) one["default"] = key.standard;
        json["keys"].push_back(std::move(one));
    }
    return printed(json);
}

}  // namespace

base::Result<Answer> keys_verb_answer(const Arguments& arguments, const Door& door) {
    if (arguments.has("--json")) return Answer{as_json(), {}, 0};
    const auto units = units_of(arguments, base::Units::metric);
    if (!units) return tl::unexpected(units.error());
    std::vector<std::vector<std::string>> rows = {{"key", "range", "unit", "left out", "example", "meaning"}};
    for (const scenario::KeyInfo& key : scenario::keys()) {
        if (another_row(key)) continue;
        rows.push_back({key.key, range_of(key), std::string(unit_of(key.kind, *units)),
                        key.standard.empty() ? "-" : key.standard, base::said_in(key.example, *units), key.meaning});
    }
    return Answer{
        columns(rows, 0) +
            "\nThe rows of the drawer are drawer.0, drawer.1 and so on. \"left out\" is what holds when a file does "
            "not say.\n\n" +
            door.ink.strong("Change any of them for one run with --set, for example --set faults.fence_skew=0.5mm/m.") +
            "\n",
        {},
        0};
}

}  // namespace offsquare::cli
