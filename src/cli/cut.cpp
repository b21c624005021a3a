// offsquare cut: one five-cut test and all that follows from it.
#include <fmt/format.h>

#include "cli/bench.h"
#include "cli/hand.h"
#include "cli/json.h"
#include "cli/report.h"
#include "cli/make_checks.h"
#include "cli/verb.h"
#include "session/story.h"

namespace offsquare::cli {

namespace {

std::string as_text(const Bench& bench, const session::Trial& trial, bool reveal, const Ink& ink) {
    const session::Test& test = trial.tests.back();
    const base::Units units = bench.scenario.units;
    std::string text = fmt::format("{} (seed {}{})\n", ink.heading(printable(trial.scenario.title)), trial.seed,
                                   trial.precision == measure::Precision::exact ? ", read exactly" : "");
    text += cut_lines(test, units);
    for (const std::string& part :
         {reading_lines(test, units, ink), working_lines(test, units, ink), shim_lines(test, units),
          reveal ? truth_lines(test, trial.scenario, ink) : std::string()}) {
        if (!part.empty()) text += "\n" + part;
    }
    const std::string last = test.strip ? inked_verdict(test, units, ink) : ink.bad(cut::sentence_of(test.cut.outcome));
    return text + "\n" + last + "\n";
}

std::string as_json(const session::Trial& trial, bool reveal) {
    Json json = document(trial.seed);
    add_test(json, trial.tests.back());
    if (reveal) add_truth(json, trial.tests.back(), trial.scenario);
    return printed(json);
}

int code_of(const session::Test& test) { return !test.verdict || test.verdict->state == diagnose::State::fail ? 1 : 0; }

/// Any word about the hand makes it a test that is pushed by hand.
base::Result<void> take_hand(Bench& bench, const Arguments& arguments) {
    if (!arguments.has("--at") && !arguments.has("--to") && !arguments.has("--force")) return {};
    if (arguments.has("--check"))
        return base::fail(
            base::Grade::usage,
            "--at, --to and --force go with the five-cut test, not with --check, for example: offsquare cut --at 80mm");
    auto hand = hand_of(arguments, bench.scenario.drawing.feed, bench.scenario.units);
    if (!hand) return tl::unexpected(hand.error());
    bench.test = session::PushTest{{std::move(*hand)}};
    return {};
}

}  // namespace

base::Result<Answer> cut_verb_answer(const Arguments& arguments, const Door& door) {
    auto bench = bench_of(arguments, door.in);
    if (!bench) return tl::unexpected(bench.error());
    if (auto taken = take_hand(*bench, arguments); !taken) return tl::unexpected(taken.error());
    if (arguments.has("--check")) return checks_made_answer(arguments, *bench, door);
    if (arguments.has("--output"))
        return base::fail(base::Grade::usage,
                          "--output goes with --check, for example: offsquare cut --check wiggle -o readings.toml");
    const auto played = play_one_test(*bench, bench->shims);
    if (!played) return tl::unexpected(played.error());
    const session::Trial& trial = played->trial;
    const bool reveal = arguments.has("--reveal");
    return Answer{arguments.has("--json") ? as_json(trial, reveal) : as_text(*bench, trial, reveal, door.ink),
                  bench->warnings, code_of(trial.tests.back())};
}

}  // namespace offsquare::cli
