#include "cli/drill_begin.h"

#include <fmt/format.h>

#include "base/read.h"
#include "cli/request.h"
#include "cli/suggest.h"
#include "lesson/cases.h"
#include "lesson/hand_in.h"
#include "lesson/made_case.h"

namespace offsquare::cli {

using base::fail;
using base::Grade;
using base::Result;

namespace {

/// A case that is made for it, of this tier.
Result<lesson::Hunt> made_hunt(const Arguments& arguments) {
    for (const char* other : {"--case", "--from"}) {
        if (arguments.has(other))
            return fail(Grade::usage, fmt::format("--tier makes a case of its own; leave it or {} out", other));
    }
    const auto tier = whole_number_of("--tier", *arguments.one("--tier"), 1, lesson::tiers);
    if (!tier) return tl::unexpected(tier.error());
    const auto seed = whole_number_of("--seed", arguments.one("--seed").value_or("1"), 0, 4294967295ULL);
    if (!seed) return tl::unexpected(seed.error());
    auto made = lesson::made_case(static_cast<int>(*tier), *seed);
    if (!made) return tl::unexpected(made.error());
    return lesson::Hunt(*made, *seed, fmt::format("tier {}, seed {}", *tier, *seed));
}

/// The twin of a case that is closed: before that the word itself would tell something.
Result<lesson::Hunt> twin_hunt(const std::string& path) {
    const auto text = base::read_file(path, path, base::session_wanted);
    if (!text) return tl::unexpected(text.error());
    const auto in = lesson::hand_in_of(*text, path);
    if (!in) return tl::unexpected(in.error());
    if (!in->hunt.closed()) return fail(Grade::usage, "close this case first, then take its twin");
    const std::uint64_t seed = in->hunt.seen().seed + 1;
    auto twin = lesson::twin_of(in->hunt.history().start(), seed);
    if (!twin) return tl::unexpected(twin.error());
    return lesson::Hunt(*twin, seed, "twin of " + in->hunt.name());
}

Result<lesson::Hunt> begun(const Arguments& arguments) {
    if (arguments.has("--tier")) return made_hunt(arguments);
    if (const auto path = arguments.one("--twin")) return twin_hunt(*path);
    const std::string name = arguments.one("--case").value_or("two-boards");
    const lesson::Case* c = lesson::find_case(name);
    if (c == nullptr) {
        std::vector<std::string> names;
        for (const lesson::Case& one : lesson::cases()) names.push_back(one.name);
        const std::string likely = likely_word(name, names);
        return fail(Grade::no_input, fmt::format("there is no case {}{}; offsquare cases lists them", in_quotes(name),
                                                 likely.empty() ? "" : fmt::format("; was {} meant?", likely)));
    }
    std::uint64_t seed = c->scenario.seed;
    if (const auto typed = arguments.one("--seed")) {
        const auto n = whole_number_of("--seed", *typed, 0, 4294967295ULL);
        if (!n) return tl::unexpected(n.error());
        seed = *n;
    }
    if (const auto typed = arguments.one("--again")) {
        const auto round = whole_number_of("--again", *typed, 1, 1000000);
        if (!round) return tl::unexpected(round.error());
        auto again = lesson::case_again(c->scenario, *round);
        if (!again) return tl::unexpected(again.error());
        return lesson::Hunt(*again, again->seed, fmt::format("{} again, {}", c->name, *round));
    }
    return lesson::Hunt(c->scenario, seed, c->name);
}

}  // namespace

base::Result<lesson::Hunt> hunt_to_play(const Arguments& arguments, std::vector<std::string>& notes) {
    const auto path = arguments.one("--from");
    if (!path || arguments.has("--tier")) return begun(arguments);
    const auto text = base::read_file(*path, *path, base::session_wanted);
    if (!text) return tl::unexpected(text.error());
    auto in = lesson::hand_in_of(*text, *path);
    if (!in) return tl::unexpected(in.error());
    notes = in->notes;
    return std::move(in->hunt);
}

}  // namespace offsquare::cli
