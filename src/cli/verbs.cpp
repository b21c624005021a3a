#include "cli/verbs.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>

#include "cli/assets.h"
#include "cli/text.h"
#include "cli/verb.h"

namespace offsquare::cli {

namespace {

/// Stands in `about` for what a SCENARIO may be.
constexpr std::string_view about_scenario = "{scenario}";

constexpr OptionInfo at_option(std::string_view help) { return {"--at", "X", help, false, ""}; }
constexpr OptionInfo to_option{
    "--to", "X@S", "from the travel S on (where the fence's face is, from the blade's centre) the hand is at X", true,
    ""};
constexpr OptionInfo force_option{"--force", "F", "the most that the hand gives, in N (feed.force)", false, ""};
constexpr OptionInfo set_option{
    "--set", "KEY=VALUE", "change one value of the scenario, such as faults.fence_skew=0.5mm/m (keys: offsquare keys)",
    true, ""};
constexpr OptionInfo shim_option{"--shim", "END=THICKNESS",
                                 "put a shim behind one end of the fence first: left=0.4mm or right=0.4mm", true, ""};
constexpr OptionInfo seed_option{"--seed", "N", "another run of chance; without it the scenario's own seed is used",
                                 false, ""};
constexpr OptionInfo exact_option{"--exact", "", "read without rounding or noise", false, ""};
constexpr OptionInfo reads_option{"--reads", "N", "readings at each end of the strip, 1 to 100 (2; with --exact 1)",
                                  false, ""};
constexpr OptionInfo json_option{"--json", "", "print one JSON document instead of text", false, ""};
constexpr OptionInfo angles_option{
    "--angles", "HOW", "slope (the usual): mm in 1 m, or thou in 12 in with inches; mrad: in milliradians too", false,
    ""};
constexpr OptionInfo colour_option{"--colour", "WHEN", "auto, always or never", false, ""};
constexpr OptionInfo help_option{"--help", "", "show this help", false, "-h"};

constexpr OptionInfo job_options[] = {
    set_option,    shim_option,
    seed_option,   exact_option,
    reads_option,  {"--save", "FILE", "keep the list of actions in FILE, for offsquare replay", false, ""},
    json_option,   angles_option,
    colour_option, help_option};
constexpr std::string_view job_examples[] = {"offsquare job", "offsquare job my-saw.toml --seed 7 --save my-job.jsonl"};

constexpr OptionInfo cut_options[] = {
    set_option,
    shim_option,
    seed_option,
    exact_option,
    reads_option,
    {"--brushed", "", "brush the fence before each cut, so that no sawdust lies there, as the job does", false, ""},
    {"--reveal", "", "show the true errors and the five true corners as well", false, ""},
    at_option("push the sled by hand for every cut, here: from the blade's line, positive right (feed.at)"),
    force_option,
    to_option,
    {"--check", "NAME", "do this check instead (names: offsquare checks); for several, give it again", true, ""},
    {"--output", "FILE", "with --check: write a readings file for offsquare diagnose; - for standard output", false,
     "-o"},
    json_option,
    angles_option,
    colour_option,
    help_option};
constexpr std::string_view cut_examples[] = {
    "offsquare cut", "offsquare cut built-in --set faults.fence_skew=0.5mm/m --exact --reveal",
    "offsquare cut my-saw.toml --shim left=0.4mm --brushed --json", "offsquare cut --at 120mm --to -60mm@-80mm",
    "offsquare cut built-in --check five-cut --check straightedge-on-fence -o my-readings.toml"};

constexpr OptionInfo insist_option{"--insist", "", "what looks like a slip is meant: do not ask, do not refuse", false,
                                   ""};

constexpr OptionInfo saw_options[] = {
    {"--new", "", "begin the log of this sled", false, ""},
    {"--saw", "NAME", "the saw that it runs on; several sleds may run on one", false, ""},
    {"--read", "WHAT=LENGTH",
     "what was read on the strip: fence-end, far-end (again for repeats), length, span; or at another check, such as "
     "straightedge-on-fence.bow=0.1mm",
     true, ""},
    {"--side", "SIDE",
     "where the strip fell, as you stand at the saw: right or left (without it as at the test before, else right)",
     false, ""},
    {"--brushed", "", "the fence was brushed before each cut of this strip", false, ""},
    {"--marked", "", "the end of the strip that lay at the fence was marked before it was taken away", false, ""},
    {"--unsure", "", "it was not marked: which end is which is not sure", false, ""},
    {"--shim", "END=THICKNESS", "a shim was put behind this end of the fence: left=0.1mm or right=0.1mm", true, ""},
    {"--take", "END=THICKNESS", "a shim was taken out from behind this end", true, ""},
    {"--repair", "WHAT", "a fault that was put right (keys: offsquare faults), fence-moved, or your own words", true,
     ""},
    {"--note", "TEXT", "a line for the log", true, ""},
    {"--set", "KEY=VALUE",
     "a size, an instrument or what counts as square, such as fence.length=560mm (offsquare keys)", true, ""},
    {"--drawer", "ROW", "what shims there are, once and for all: \"brass 0.1mm x4\"", true, ""},
    {"--date", "DATE", "the day that it happened, such as 2026-03-03; without it today", false, ""},
    {"--correct", "N", "this entry stands in the place of entry N, which is kept", false, ""},
    {"--withdraw", "N", "entry N no longer counts; it is kept", false, ""},
    {"--log", "", "show every entry", false, ""},
    {"--export", "FILE",
     "write a page to hang beside the saw (.pdf), the log (.csv, .json), or a readings file (.toml)", false, ""},
    {"--like-mine", "FILE", "write a scenario to practise on, with your sizes and an error as large as yours may be",
     false, ""},
    {"--seed", "N", "with --like-mine: another such saw", false, ""},
    {"--steps", "", "how to cut the strip, safely, in six steps that print", false, ""},
    {"--delete", "", "delete the log for ever; asks first", false, ""},
    {"--units", "UNIT", "mm or inch: what bare numbers are in, and what is shown (as the sled was begun)", false, ""},
    insist_option,
    json_option,
    angles_option,
    colour_option,
    help_option};
constexpr std::string_view saw_examples[] = {
    "offsquare saw",
    "offsquare saw \"blue sled\" --new --drawer \"brass 0.1mm x4\"",
    "offsquare saw \"blue sled\" --read fence-end=12.62mm --read far-end=12.02mm --read length=305mm --read span=500mm",
    "offsquare saw \"blue sled\" --shim left=0.1mm --shim left=0.1mm",
    "offsquare saw \"blue sled\" --repair \"slots waxed\" --date 2026-10-20",
    "offsquare saw \"blue sled\" --log --export blue-sled.pdf"};

constexpr OptionInfo shim_options[] = {
    {"--fence-end", "WIDTH", "width of the strip at the end that lay at the fence during the fifth cut", false, ""},
    {"--far-end", "WIDTH", "width of the strip at the other end", false, ""},
    {"--length", "LENGTH", "length of the old edge between the two places", false, ""},
    {"--span", "LENGTH", "distance between the two shim points", false, ""},
    {"--side", "SIDE", "where the strip fell, as you stand at the saw: right (the usual) or left", false, ""},
    {"--u-width", "WIDTH",
     "standard uncertainty of one width; without it, that of a common caliper (limits of error 0.02 mm)", false, ""},
    {"--units", "UNIT",
     "mm or inch: what bare numbers are in, and what is shown (mm; or inch when a length was typed in inches)", false,
     ""},
    insist_option,
    json_option,
    angles_option,
    colour_option,
    help_option};
constexpr std::string_view shim_examples[] = {
    "offsquare shim --fence-end 0.485in --far-end 0.461in --length 17.75in --span 26.5in --units inch",
    "offsquare shim --fence-end 12.34 --far-end 12.10 --length 305 --span 500 --u-width 0.02 --json"};

constexpr OptionInfo faults_options[] = {
    {"--table", "", "faults down, checks across: how surely each check sees the smallest size worth finding", false,
     ""},
    json_option,
    angles_option,
    colour_option,
    help_option};
constexpr std::string_view faults_examples[] = {"offsquare faults", "offsquare faults --json"};

constexpr OptionInfo checks_options[] = {json_option, angles_option, colour_option, help_option};
constexpr std::string_view checks_examples[] = {"offsquare checks", "offsquare checks --json"};

constexpr OptionInfo diagnose_options[] = {
    {"--picture", "FILE", "draw it at a glance as well, into FILE.svg, FILE.png or FILE.pdf", false, ""},
    insist_option,
    json_option,
    angles_option,
    colour_option,
    help_option};
constexpr std::string_view diagnose_examples[] = {"offsquare diagnose my-readings.toml --picture my-diagnosis.svg",
                                                  "offsquare diagnose my-monday.toml my-tuesday.toml --json"};

constexpr OptionInfo push_options[] = {
    at_option("where the hand pushes, from the blade's line, positive right (feed.at)"),
    force_option,
    to_option,
    {"--mu", "M",
     "coefficient of friction at the slot walls (feed.friction; waxed wood less than 0.25, smooth dry wood 0.3 to "
     "0.5)",
     false, ""},
    {"--base-drag", "F", "drag of the base on the table, in N (feed.base_drag)", false, ""},
    {"--blade-drag", "F", "drag of the blade while it cuts, in N (feed.blade_drag)", false, ""},
    {"--pull-back", "", "pull it back instead, from the far end of the pass", false, ""},
    {"--both", "", "push the live sled as well, which has mass, and tell how far the two are apart", false, ""},
    set_option,
    json_option,
    angles_option,
    colour_option,
    help_option};
constexpr std::string_view push_examples[] = {"offsquare push --at 80mm --force 60N",
                                              "offsquare push --at 120mm --to -60mm@40mm --mu 0.35",
                                              "offsquare push --at 0mm --set faults.slot_splay=1mm/m --json"};

constexpr OptionInfo picture_options[] = {
    {"--output", "FILE", "where to: FILE.svg, FILE.png, FILE.pdf, or - for SVG on standard output", false, "-o"},
    {"--stage", "STAGE", "how far the job has come: set-up, cut, read (the usual) or prove", false, ""},
    {"--exaggeration", "N",
     "how many times angles are drawn larger: 1 to 10000; auto (the usual): chosen for the first test that was read "
     "and "
     "kept for the whole job; fit: chosen for this picture",
     false, ""},
    {"--dark", "", "light lines on a dark ground", false, ""},
    {"--size", "WxH", "size of the page in points, such as 1280x800", false, ""},
    {"--reveal", "", "show what is true as well, dashed: fence, mitre slots, blade and strip", false, ""},
    set_option,
    shim_option,
    seed_option,
    exact_option,
    reads_option,
    angles_option,
    colour_option,
    help_option};
constexpr std::string_view picture_examples[] = {
    "offsquare picture -o table.svg", "offsquare picture my-saw.toml -o table.pdf --stage prove --size 1280x800"};

constexpr OptionInfo check_options[] = {set_option, angles_option, colour_option, help_option};
constexpr std::string_view check_examples[] = {"offsquare check my-saw.toml", "offsquare check - < my-saw.toml"};

constexpr OptionInfo keys_options[] = {json_option, angles_option, colour_option, help_option};
constexpr std::string_view keys_examples[] = {"offsquare keys", "offsquare keys --json"};

constexpr OptionInfo cases_options[] = {json_option, angles_option, colour_option, help_option};
constexpr std::string_view cases_examples[] = {"offsquare cases", "offsquare job two-boards", "offsquare cases --json"};

constexpr OptionInfo drill_options[] = {
    {"--case", "NAME", "which case (offsquare cases); without it two-boards", false, ""},
    {"--seed", "N", "another run of chance", false, ""},
    {"--from", "HANDIN", "take an open hunt up again", false, ""},
    {"--output", "HANDIN", "write the hand-in here at the end, open or closed", false, "-o"},
    {"--json", "", "answer each line with one JSON document on a line, for other programs", false, ""},
    angles_option,
    colour_option,
    help_option};
constexpr std::string_view drill_examples[] = {"offsquare drill --case no-two-agree -o hand-in.jsonl",
                                               "offsquare drill --from hand-in.jsonl -o hand-in.jsonl",
                                               "offsquare drill --json"};

constexpr OptionInfo mark_options[] = {json_option, angles_option, colour_option, help_option};
constexpr std::string_view mark_examples[] = {"offsquare mark hand-in.jsonl", "offsquare mark hand-in.jsonl --json"};

constexpr OptionInfo replay_options[] = {json_option, angles_option, colour_option, help_option};
constexpr std::string_view replay_examples[] = {"offsquare replay my-job.jsonl"};

constexpr OptionInfo cautions_options[] = {colour_option, help_option};
constexpr std::string_view cautions_examples[] = {"offsquare cautions"};

constexpr OptionInfo window_options[] = {
    {"--screenshot", "FILE", "write a picture of the window to FILE.png and leave", false, ""},
    angles_option,
    help_option};
constexpr std::string_view window_examples[] = {"offsquare", "offsquare window my-saw.toml"};

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
