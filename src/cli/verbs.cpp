#include "cli/verbs.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>

#include "cli/assets.h"
#include "cli/text.h"
#include "cli/verb.h"
#include "cli/verb_options.h"

namespace offsquare::cli {

using namespace options;

namespace {

/// Whether a text has the name between these two.
constexpr bool names(std::string_view text, std::string_view before, std::string_view name, std::string_view after) {
    for (std::size_t at = text.find(before); at != std::string_view::npos; at = text.find(before, at + 1)) {
        const std::string_view rest = text.substr(at + before.size());
        if (rest.starts_with(name) && rest.substr(name.size()).starts_with(after)) return true;
    }
    return false;
}

/// What is thrown is what the compiler says.
consteval VerbInfo row(VerbInfo v) {
    if (v.name.empty() || v.line.empty() || v.about.empty()) throw "a word is empty";
    if (v.about.back() != '.' && !v.about.ends_with(about_scenario)) throw "what it is about is whole sentences";
    if (v.options.empty() || v.examples.empty()) throw "a verb has an option (--help) and an example";
    if (v.operand.empty() && (v.needs_operand || v.many_operands)) throw "an operand that is needed has a name";
    if (!names(assets::man_page, "\n.Ss ", v.name, "\n")) throw "assets/offsquare.1 lacks it";
    if (!names(assets::bash, " ", v.name, " ") && !names(assets::bash, "'", v.name, " "))
        throw "assets/completions/offsquare.bash lacks it";
    if (!names(assets::zsh, "'", v.name, ":")) throw "assets/completions/_offsquare lacks it";
    if (!names(assets::fish, "-a ", v.name, " ")) throw "assets/completions/offsquare.fish lacks it";
    return v;
}

/// In the order of the job.
constexpr std::array table{
    row({.name = "job",
         .operand = "SCENARIO",
         .needs_operand = false,
         .many_operands = false,
         .line = "the whole job as a story: cut, read, work out, shim, cut again, prove",
         .about = "Runs the whole job on a simulated saw and tells each step. Tests are repeated where one test "
                  "cannot decide. Where the sled jams, checks and repairs free it first. {scenario} "
                  "Exit code 0 when the fence passes in the end or it cannot be told, 1 when it fails.",
         .options = job_options,
         .examples = job_examples,
         .answer = job_verb_answer}),
    row({.name = "cut",
         .operand = "SCENARIO",
         .needs_operand = false,
         .many_operands = false,
         .line = "do the five-cut test and all that follows from it",
         .about = "Does the five-cut test on a simulated saw, reads the strip, works out the skew of the fence, and "
                  "proposes a shim. {scenario} "
                  "Exit code 0 when the fence passes or it cannot be told yet, 1 when it fails or no strip came of it.",
         .options = cut_options,
         .examples = cut_examples,
         .answer = cut_verb_answer}),
    row({.name = "shim",
         .operand = "",
         .needs_operand = false,
         .many_operands = false,
         .line = "work out the shim from your own readings at a real saw",
         .about =
             "The same arithmetic on what you read on your own strip: its width at the end that lay at the fence "
             "during "
             "the fifth cut and at its far end, both square to "
             "the old edge; the length of the old edge between the two places; and the distance between the two shim "
             "points of the fence. Mark the fence end before you take the strip away: the two widths do not show which "
             "end it was. What looks like a slip of typing is asked about in a terminal and refused in a pipe, with "
             "exit code 65; --insist says that it is meant.",
         .options = shim_options,
         .examples = shim_examples,
         .answer = shim_verb_answer}),
    row({.name = "saw",
         .operand = "NAME",
         .needs_operand = false,
         .many_operands = false,
         .line = "my own saw: a log of tests, shims and repairs, and what follows",
         .about =
             "Keeps the log of a sled of your own, and says what its newest strip asks for: how thick a shim, behind "
             "which end, in addition to what stands there, how sure, from which pieces of your drawer; how square "
             "the sled has been; what else would look the same, and what to check next. Without NAME it lists your "
             "sleds, and in a terminal asks question by question. A wrong entry is corrected, with the old one "
             "kept. What looks like a slip is asked about in a terminal and refused in a pipe, with exit code 65; "
             "--insist says that it is meant. One file a sled, in the folder offsquare/saws of your data "
             "(XDG_DATA_HOME); nothing leaves the machine. One program at a time may write it.",
         .options = saw_options,
         .examples = saw_examples,
         .answer = saw_verb_answer}),
    row({.name = "faults",
         .operand = "SCENARIO",
         .needs_operand = false,
         .many_operands = false,
         .line = "list the set-up errors, how each shows, and which check sees it",
         .about = "The table of set-up errors: what is wrong, how it shows, whether it turns the corner, what "
                  "puts it right, and which checks see it on this saw. {scenario}",
         .options = faults_options,
         .examples = faults_examples,
         .answer = faults_verb_answer}),
    row({.name = "checks",
         .operand = "SCENARIO",
         .needs_operand = false,
         .many_operands = false,
         .line = "list the checks, step by step, with their cost and what they see",
         .about = "The table of checks: how each is done, with which instrument, what it costs in minutes and "
                  "stock, and which faults it sees on this saw. {scenario}",
         .options = checks_options,
         .examples = checks_examples,
         .answer = checks_verb_answer}),
    row({.name = "diagnose",
         .operand = "READINGS",
         .needs_operand = true,
         .many_operands = true,
         .line = "weigh readings together: what is likely, ruled out, still open",
         .about =
             "Reads one or more readings files of the same saw, as offsquare cut --check writes them, as the window's "
             "notebook writes what was typed into it, or as you write them for your own saw, and weighs everything "
             "together: which faults are there and how large, which are ruled "
             "out, which two cannot be told apart, and which check to do next. The format: a scenario file without "
             "[faults], and under [[check]] a name and what was read; how far the sled went (push-through) is a "
             "length, \"goes\" or \"does not go in\". A reading that none of the faults explains, or "
             "that does not fit the others, is left out and named, and is the next to be read again. What looks like a "
             "slip of typing, and the same file twice, is asked about in a terminal and refused in a pipe, with exit "
             "code 65; --insist says that it is meant. How likely each fault is before anything is read "
             "is invented, and declared: usually_present in offsquare faults --json.",
         .options = diagnose_options,
         .examples = diagnose_examples,
         .answer = diagnose_verb_answer}),
    row({.name = "coach",
         .operand = "READINGS",
         .needs_operand = true,
         .many_operands = true,
         .line = "a hint: the question that is open, who is left, what to do next",
         .about =
             "Reads the same files as offsquare diagnose and gives a hint in three rungs: the question that is open "
             "now; which of your suspects are alive, and which reading ruled out the others; what to do about it, "
             "with what it costs and what each suspect would make it read. A later rung says all that the earlier "
             "ones say. Without --suspect it is about the faults that are open. The next check is the one by which "
             "the whole search is expected to take the fewest minutes, and not the one that tells most at once. "
             "Slips of typing are asked about as offsquare diagnose does.",
         .options = coach_options,
         .examples = coach_examples,
         .answer = coach_verb_answer}),
    row({.name = "push",
         .operand = "SCENARIO",
         .needs_operand = false,
         .many_operands = false,
         .line = "push the sled by hand through the mitre slots: yaw, push needed, jamming",
         .about =
             "Pushes the sled along the mitre slots with the hand beside the blade's line, and tells how it turns in "
             "its play, what push it needs, and where it jams, binds or stalls. "
             "Statics with friction; nothing has mass. What is not typed is the scenario's: keys feed.at to "
             "feed.blade_drag. {scenario} Exit code 0 when it goes through, 1 when it does not.",
         .options = push_options,
         .examples = push_examples,
         .answer = push_verb_answer}),
    row({.name = "picture",
         .operand = "SCENARIO",
         .needs_operand = false,
         .many_operands = false,
         .line = "draw the table from above into a file, without a display",
         .about = "Draws the table from above with the parts named and the exaggeration stated. {scenario}",
         .options = picture_options,
         .examples = picture_examples,
         .answer = picture_verb_answer}),
    row({.name = "check",
         .operand = "FILE",
         .needs_operand = true,
         .many_operands = false,
         .line = "validate a scenario file and show its set-up",
         .about = "Reads a scenario and prints its set-up. A mistake is named with its file, line and column, what was "
                  "found, what is allowed, and an example. Hidden errors are neither shown nor counted.",
         .options = check_options,
         .examples = check_examples,
         .answer = check_verb_answer}),
    row({.name = "keys",
         .operand = "",
         .needs_operand = false,
         .many_operands = false,
         .line = "list every value that a scenario file and --set can hold",
         .about = "One line a key: its dotted path, its meaning, its range, and a value that may be typed.",
         .options = keys_options,
         .examples = keys_examples,
         .answer = keys_verb_answer}),
    row({.name = "cases",
         .operand = "",
         .needs_operand = false,
         .many_operands = false,
         .line = "the saws to practise on, by what their owners say",
         .about =
             "Lists the cases that ship with the program: the name by which any verb opens one, what its owner says, "
             "what it may cost, and what became of it in the window. Nothing in it tells what is wrong.",
         .options = cases_options,
         .examples = cases_examples,
         .answer = cases_verb_answer}),
    row({.name = "drill",
         .operand = "",
         .needs_operand = false,
         .many_operands = false,
         .line = "practise: a case with its fault hidden, line by line",
         .about = "Plays a case: say whom you suspect and how sure, make checks, repair, prove, close. Nothing is "
                  "given back and nothing is told before it is closed; then comes the debrief. Each line that is typed "
                  "is one command (help lists them) and gets one answer, in a terminal and in a pipe alike; with "
                  "--json each answer is one JSON document on a line, with ok, says, minutes, board_mm, what is left, "
                  "and closed; the debrief is the last. What the case may cost ends it.",
         .options = drill_options,
         .examples = drill_examples,
         .answer = drill_verb_answer}),
    row({.name = "mark",
         .operand = "HANDIN",
         .needs_operand = true,
         .many_operands = true,
         .line = "mark hunts that were handed in: what was wrong, found, proved",
         .about = "Replays each hand-in of drill and marks it: what was wrong and what was found of it, each verdict "
                  "with the reading that decides it, what could be believed reading by reading, and the shortest road. "
                  "A hunt that is still open is not marked. A file that cannot be read is named and spoils no other; "
                  "exit code 65 when none could be read.",
         .options = mark_options,
         .examples = mark_examples,
         .answer = mark_verb_answer}),
    row({.name = "replay",
         .operand = "FILE",
         .needs_operand = true,
         .many_operands = false,
         .line = "run a saved list of actions again and check it",
         .about =
             "Runs a saved session again and compares every recorded number with what comes out now. It says how many "
             "it compared; where they part, it says so, with exit code 65.",
         .options = replay_options,
         .examples = replay_examples,
         .answer = replay_verb_answer}),
    row({.name = "cautions",
         .operand = "",
         .needs_operand = false,
         .many_operands = false,
         .line = "what to keep in mind at a real saw",
         .about = "Prints the cautions. Local codes and qualified instruction come first.",
         .options = cautions_options,
         .examples = cautions_examples,
         .answer = cautions_verb_answer}),
    row({.name = "window",
         .operand = "SCENARIO",
         .needs_operand = false,
         .many_operands = false,
         .line = "open the window (also: offsquare alone)",
         .about = "Opens the window: on the first screen, or with what is named: a scenario, a case by its name "
                  "(offsquare cases), a saved session, readings, or built-in.",
         .options = window_options,
         .examples = window_examples,
         .answer = window_verb_answer}),
};

std::string about_of(const VerbInfo& verb) {
    std::string text(verb.about);
    if (const std::size_t at = text.find(about_scenario); at != std::string::npos)
        text.replace(at, about_scenario.size(),
                     "SCENARIO is a file, a case by its name (offsquare cases), - for standard input, or built-in "
                     "(also when it is left out).");
    return text;
}

std::vector<std::vector<std::string>> option_rows(const VerbInfo& verb) {
    std::vector<std::vector<std::string>> rows;
    for (const OptionInfo& o : verb.options) {
        const std::string both =
            o.short_name.empty() ? std::string(o.name) : fmt::format("{}, {}", o.short_name, o.name);
        rows.push_back({o.value.empty() ? both : fmt::format("{} {}", both, o.value),
                        fmt::format("{}{}", o.help, o.many ? "; may be given again" : "")});
    }
    return rows;
}

}  // namespace

std::span<const VerbInfo> verbs() { return table; }

const VerbInfo* find_verb(std::string_view name) {
    const auto it = std::find_if(verbs().begin(), verbs().end(), [&](const VerbInfo& v) { return v.name == name; });
    return it == verbs().end() ? nullptr : &*it;
}

const OptionInfo* find_option(const VerbInfo& verb, std::string_view name) {
    const auto it = std::find_if(verb.options.begin(), verb.options.end(), [&](const OptionInfo& o) {
        return o.name == name || (!o.short_name.empty() && o.short_name == name);
    });
    return it == verb.options.end() ? nullptr : &*it;
}

std::string version_text() { return "offsquare " OFFSQUARE_VERSION "\n"; }

std::string help_text() {
    std::vector<std::vector<std::string>> rows;
    for (const VerbInfo& v : verbs())
        rows.push_back(
            {std::string(v.name) + (v.operand.empty() ? ""
                                    : v.needs_operand ? fmt::format(" {}{}", v.operand, v.many_operands ? "…" : "")
                                                      : fmt::format(" [{}]", v.operand)),
             std::string(v.line)});
    return "offsquare: find and cure the set-up errors of a table saw and its crosscut sled, in simulation.\n\n"
           "  offsquare                   open the window\n"
           "  offsquare VERB …            do the same work as text\n"
           "  offsquare VERB --help       what a verb takes\n"
           "  offsquare --version\n\n"
           "Verbs\n" +
           columns(rows) +
           "\nLengths and angles may carry a unit: 15 3/8, 15-3/8in, 0.4mm, 4 thou, 0.25mm/m, 0.003in/ft, "
           "0.02deg, 0.3mrad.\n"
           "Exit codes: 0 done, 1 the verdict is no, 2 usage, 65 bad data, 66 no input or no display, 70 our fault, 73 "
           "cannot create, 74 input or output broke off.\n\n"
           "Start with: offsquare job\n";
}

std::string help_text(const VerbInfo& verb) {
    const std::string operand = verb.operand.empty() ? ""
                                : verb.needs_operand ? fmt::format(" {}", verb.operand)
                                                     : fmt::format(" [{}]", verb.operand);
    std::string text = fmt::format(
        "offsquare {}{} [options]: {}\n\n{}\n\nOptions\n{}  --  what follows is not an option\n\nExamples\n", verb.name,
        operand, verb.line, wrapped(about_of(verb), 100), columns(option_rows(verb)));
    for (const std::string_view example : verb.examples) text += fmt::format("  {}\n", example);
    return text;
}

}  // namespace offsquare::cli
