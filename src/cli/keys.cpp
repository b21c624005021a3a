// offsquare keys: every value that a scenario can hold.
#include <fmt/format.h>

#include "cli/verb.h"
#include "scenario/scenario.h"

namespace offsquare::cli {

namespace {

using Kind = scenario::KeyInfo::Kind;

std::string range_of(const scenario::KeyInfo& key) {
    switch (key.kind) {
        case Kind::length:
        case Kind::points: return fmt::format("{} to {} mm", key.min, key.max);
        case Kind::angle: return fmt::format("{} to {} rad", key.min, key.max);
        case Kind::number:
        case Kind::count: return fmt::format("{} to {}", key.min, key.max);
        case Kind::word: break;
    }
    return "a word";
}

}  // namespace

base::Result<Answer> keys_verb_answer(const Arguments&, const Door& door) {
    std::vector<std::vector<std::string>> rows = {{"key", "range", "left out", "example", "meaning"}};
    for (const scenario::KeyInfo& key : scenario::keys()) {
        // The rows of the drawer are alike; the first stands for all.
        if (key.key.starts_with("drawer.") && !key.key.starts_with("drawer.0.")) continue;
        rows.push_back({key.key, range_of(key), key.standard.empty() ? "-" : key.standard, key.example, key.meaning});
    }
    return Answer{columns(rows, 0) + "\nThe rows of the drawer are drawer.0, drawer.1 and so on. \"left out\" is what holds when a file does not say.\n\n" +
                      door.ink.strong("Change any of them for one run with --set, for example --set faults.fence_skew=0.5mrad.") + "\n",
                  {}, 0};
}

}  // namespace offsquare::cli
