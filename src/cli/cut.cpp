// offsquare cut: one five-cut test and all that follows from it.
#include <fmt/format.h>

#include "cli/request.h"
#include "cli/hand.h"
#include "cli/json.h"
#include "cli/report.h"
#include "cli/make_checks.h"
#include "cli/verb.h"
#include "session/reveal.h"
#include "session/story.h"

namespace offsquare::cli {

namespace {

/// Why nothing can be read, and where a sled that jams sticks.
std::string no_strip_sentence(const session::Seen& seen) {
    const std::string jam = session::jam_sentence(seen, seen.units);
    return (jam.empty() ? "" : jam + " ") + std::string(cut::sentence_of(seen.tests.back().outcome));
}

std::string as_text(const session::History& history, bool reveal, const Ink& ink) {
    const session::Seen& seen = history.seen();
    const session::Test& test = seen.tests.back();
    const base::Units units = seen.units;
    std::string text = fmt::format("{} (seed {}{})\n", ink.heading(printable(seen.title)), seen.seed,
                                   seen.precision == measure::Precision::exact ? ", read exactly" : "");
    text += cut_lines(test, units);
    for (const std::string& part :
         {reading_lines(test, units, ink), working_lines(test, units, ink), shim_lines(test, units),
          reveal ? truth_lines(session::reveal(history), units, ink) : std::string()}) {
        if (!part.empty()) text += "\n" + part;
    }
    const std::string last = test.strip ? inked_verdict(test, units, ink) : ink.bad(no_strip_sentence(seen));
    return text + "\n" + last + "\n";
}

std::string as_json(const session::History& history, bool reveal) {
    const session::Seen& seen = history.seen();
    Json json = document(seen.seed);
    add_test(json, seen.tests.back());
    if (reveal) add_truth(json, session::reveal(history));
    return printed(json);
}

int code_of(const session::Test& test) { return !test.verdict || test.verdict->state == diagnose::State::fail ? 1 : 0; }

/// Any word about the hand makes it a test that is pushed by hand.
base::Result<void> take_test(Request& request, const Arguments& arguments) {
    const bool brushed = arguments.has("--brushed");
    if (brushed && arguments.has("--check"))
        return base::fail(base::Grade::usage,
                          "--brushed goes with the five-cut test, not with --check; the check of that name is done by: "
                          "offsquare cut --check brushed");
    request.ways.test = session::CutTest{brushed};
    if (!arguments.has("--at") && !arguments.has("--to") && !arguments.has("--force")) return {};
    if (arguments.has("--check"))
        return base::fail(
            base::Grade::usage,
            "--at, --to and --force go with the five-cut test, not with --check, for example: offsquare cut --at 80mm");
    auto hand = hand_of(arguments, request.scenario.drawing.feed, request.scenario.units);
    if (!hand) return tl::unexpected(hand.error());
    request.ways.test = session::PushTest{{std::move(*hand)}, brushed};
    return {};
}

}  // namespace

base::Result<Answer> cut_verb_answer(const Arguments& arguments, const Door& door) {
    auto request = request_of(arguments, door.in);
    if (!request) return tl::unexpected(request.error());
    if (auto taken = take_test(*request, arguments); !taken) return tl::unexpected(taken.error());
    if (arguments.has("--check")) return checks_made_answer(arguments, *request, door);
    if (arguments.has("--output"))
        return base::fail(base::Grade::usage,
                          "--output goes with --check, for example: offsquare cut --check wiggle -o readings.toml");
    const auto history = with_one_test(*request);
    if (!history) return tl::unexpected(history.error());
    const bool reveal = arguments.has("--reveal");
    return Answer{arguments.has("--json") ? as_json(*history, reveal) : as_text(*history, reveal, door.ink),
                  request->warnings, code_of(history->seen().tests.back())};
}

}  // namespace offsquare::cli
