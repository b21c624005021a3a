// offsquare job: the whole job as a story.
#include <algorithm>
#include <fmt/format.h>

#include "base/save.h"
#include "cli/json.h"
#include "cli/plan.h"
#include "cli/report.h"
#include "cli/verb.h"
#include "lesson/cases.h"
#include "session/complaint.h"
#include "session/hunt_words.h"
#include "session/log.h"
#include "session/story.h"

namespace offsquare::cli {

namespace {

using session::Test;

const Test& last_test(const Job& job) { return job.history.seen().tests.back(); }

bool no_strip_in_the_end(const Job& job) { return !last_test(job).verdict; }

std::string set_up_part(const Request& request, const Job& job, const Ink& ink) {
    std::string text =
        fmt::format("{} (seed {}{})\n", ink.heading(printable(request.scenario.title)), job.history.seen().seed,
                    job.history.seen().precision == measure::Precision::exact ? ", read exactly" : "");
    if (!request.scenario.story.empty()) text += wrapped(printable(request.scenario.story), 100) + "\n";
    return text + "\n" + ink.heading("Set up") + "\n" + set_up_lines(request.scenario);
}

std::string test_part(const Test& test, std::size_t number, bool is_proof, base::Units units, const Ink& ink) {
    std::string text = "\n" + ink.heading(fmt::format("Test {}{}", number, is_proof ? ", to prove it" : "")) + "\n" +
                       cut_lines(test, units);
    for (const std::string& part : {reading_lines(test, units, ink), working_lines(test, units, ink)}) {
        if (!part.empty()) text += "\n" + part;
    }
    return text;
}

std::string put_part(const Job& job, const Round& round, base::Units units, const Ink& ink) {
    const Test& test = job.history.seen().tests[round.last];
    const std::string stack = shim_lines(test, units);
    std::string text = stack.empty() ? "" : "\n" + stack;
    if (round.put.empty()) return text;
    text += "\n" + wrapped(session::verdict_sentence(test, units), 100) + "\n\n" + ink.heading("Shim") + "\n";
    for (const session::Action& action : round.put)
        text += "  " + printable(session::sentence_of(action, test.drawing, units)) + "\n";
    return text;
}

/// What was checked and put right before a test, and after the one before it: only a sled that jams asks for it.
std::string notebook_part(const Job& job, std::size_t test, base::Units units, const Ink& ink) {
    const session::Seen& seen = job.history.seen();
    const std::size_t from = test == 0 ? 0 : seen.tests[test - 1].event;
    const std::size_t to = test < seen.tests.size() ? seen.tests[test].event : seen.events.size() + 1;
    std::string text;
    for (std::size_t i = 0; i < seen.checks.size(); ++i) {
        const session::Note& note = seen.checks[i];
        if (note.event <= from || note.event >= to) continue;
        const session::NoteWords words = session::words_of(note, i + 1, seen.drawing, units);
        std::string readings;
        for (const session::ReadingWords& r : words.readings)
            readings += fmt::format("{}{} {}", readings.empty() ? "" : ", ", r.name, r.value);
        text += wrapped(fmt::format("{}: {}", measure::info(note.report.occasion.check).title, readings), 100) + "\n";
    }
    for (const session::RepairNote& r : seen.repairs) {
        if (r.by_shims || r.event <= from || r.event >= to) continue;
        text += wrapped(session::repair_heading(r.fault, r.eased) + ". " + session::repair_sentence(r.fault, r.eased),
                        100) +
                "\n";
    }
    if (text.empty()) return text;
    const std::string came =
        test == 0 ? std::string() : ink.bad(cut::sentence_of(seen.tests[test - 1].outcome)) + "\n\n";
    return "\n" + came + ink.heading("Notebook: what jams the sled") + "\n" + text;
}

std::string round_part(const Job& job, std::size_t index, base::Units units, const Ink& ink) {
    const Round& round = job.rounds[index];
    std::string text;
    for (std::size_t t = round.first; t <= round.last; ++t)
        text +=
            notebook_part(job, t, units, ink) + test_part(job.history.seen().tests[t], t + 1, index > 0, units, ink);
    return text + put_part(job, round, units, ink);
}

/// The tests of a round that came to nothing stand after the last whole round.
std::string unfinished_part(const Job& job, base::Units units, const Ink& ink) {
    std::string text;
    for (std::size_t t = job.rounds.empty() ? 0 : job.rounds.back().last + 1; t < job.history.seen().tests.size();
         ++t) {
        text += notebook_part(job, t, units, ink) +
                test_part(job.history.seen().tests[t], t + 1, !job.rounds.empty(), units, ink);
    }
    return text + notebook_part(job, job.history.seen().tests.size(), units, ink);
}

std::string last_sentence(const Job& job, base::Units units, const Ink& ink) {
    if (no_strip_in_the_end(job)) return ink.bad(cut::sentence_of(last_test(job).outcome));
    return inked_verdict(last_test(job), units, ink);
}

/// What became of what the owner of a case says, where the test passes.
std::string complaint_part(const Request& request, const Job& job) {
    const session::Seen& seen = job.history.seen();
    const std::string became = session::complaint_words(seen, false);
    if (became.empty()) return "";
    std::string text =
        fmt::format("Its owner says: {} {}", lesson::in_quotes(printable(request.scenario.complaint)), became);
    if (session::complaint_of(seen, false) == session::Became::open)
        text += seen.concern == scenario::Concern::slide ? " Go on with: offsquare push"
                                                         : " Go on with: offsquare cut --check clamp-watch";
    return "\n" + wrapped(text, 100) + "\n";
}

std::string as_text(const Request& request, const Job& job, const Ink& ink) {
    const base::Units units = request.scenario.units;
    std::string text = set_up_part(request, job, ink);
    for (std::size_t i = 0; i < job.rounds.size(); ++i) text += round_part(job, i, units, ink);
    text += unfinished_part(job, units, ink);
    text += complaint_part(request, job);
    return text + "\n" + wrapped(session::cautions().short_line, 100) + "\n\n" + last_sentence(job, units, ink) + "\n";
}

Json actions_of(const Job& job) {
    Json json = Json::array();
    for (const session::Event& event : job.history.seen().events) json.push_back(event.says);
    return json;
}

std::string as_json(const Request& request, const Job& job) {
    Json json = document(job.history.seen().seed);
    json["actions"] = actions_of(job);
    json["tests"] = Json::array();
    for (const Test& test : job.history.seen().tests) {
        Json one = Json::object();
        add_test(one, test);
        json["tests"].push_back(one);
    }
    if (!no_strip_in_the_end(job)) {
        json["verdict"] = verdict_of(last_test(job));
        json["sentence"] = session::verdict_sentence(last_test(job), request.scenario.units);
    } else {
        json["sentence"] = std::string(cut::sentence_of(last_test(job).outcome));
    }
    return printed(json);
}

base::Result<void> save_log(const Arguments& arguments, const Job& job) {
    const auto path = arguments.one("--save");
    if (!path) return {};
    if (*path == "-") return base::fail(base::Grade::usage, "--save needs the name of a file, found \"-\"");
    return base::save(*path, session::to_text(session::log_of(job.history)));
}

}  // namespace

base::Result<Answer> job_verb_answer(const Arguments& arguments, const Door& door) {
    const auto request = request_of(arguments, door.in);
    if (!request) return tl::unexpected(request.error());
    const auto job = do_the_job(*request);
    if (!job) return tl::unexpected(job.error());
    if (auto saved = save_log(arguments, *job); !saved) return tl::unexpected(saved.error());
    Answer answer{arguments.has("--json") ? as_json(*request, *job) : as_text(*request, *job, door.ink),
                  request->warnings, 0};
    const bool fails = no_strip_in_the_end(*job) || last_test(*job).verdict->state == diagnose::State::fail;
    answer.code = fails ? 1 : 0;
    return answer;
}

}  // namespace offsquare::cli
