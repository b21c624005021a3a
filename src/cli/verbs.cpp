#include "cli/verbs.h"

#include <algorithm>
#include <fmt/format.h>

#include "cli/text.h"

namespace offsquare::cli {

namespace {

OptionInfo at_option(const char* help) { return {"--at", "X", help, false, ""}; }
OptionInfo to_option() {
    return {"--to", "X@S", "from the travel S on (where the fence's face is, from the blade's centre) the hand is at X",
            true, ""};
}
OptionInfo force_option() { return {"--force", "F", "the most that the hand gives, in N (feed.force)", false, ""}; }
OptionInfo set_option() {
    return {"--set", "KEY=VALUE",
            "change one value of the scenario, such as faults.fence_skew=0.5mrad (keys: offsquare keys)", true, ""};
}
OptionInfo shim_option() {
    return {"--shim", "END=THICKNESS", "put a shim behind one end of the fence first: left=0.4mm or right=0.4mm", true,
            ""};
}
OptionInfo seed_option() {
    return {"--seed", "N", "another run of chance; without it the scenario's own seed is used", false, ""};
}
OptionInfo exact_option() { return {"--exact", "", "read without rounding or noise", false, ""}; }
OptionInfo reads_option() {
    return {"--reads", "N", "readings at each end of the strip, 1 to 100 (2; with --exact 1)", false, ""};
}
OptionInfo json_option() { return {"--json", "", "print one JSON document instead of text", false, ""}; }
OptionInfo colour_option() { return {"--colour", "WHEN", "auto, always or never", false, ""}; }
OptionInfo help_option() { return {"--help", "", "show this help", false, "-h"}; }

constexpr std::string_view about_scenario =
    "SCENARIO is a file, - for standard input, or built-in (also when it is left out).";

VerbInfo cut_verb() {
    return {
        "cut",
        "SCENARIO",
        false,
        false,
        "make the five-cut test and all that follows from it",
        fmt::format(
            "Makes the five-cut test on a simulated saw, reads the strip, works out the skew of the fence, and "
            "proposes a shim. {} "
            "Exit code 0 when the fence passes or it cannot be told yet, 1 when it fails or no strip came of it.",
            about_scenario),
        {set_option(),
         shim_option(),
         seed_option(),
         exact_option(),
         reads_option(),
         {"--reveal", "", "show the true errors and the five true corners as well", false, ""},
         at_option("push the sled by hand for every cut, here: from the blade's line, positive right (feed.at)"),
         force_option(),
         to_option(),
         {"--check", "NAME", "make this check instead (names: offsquare checks); for several, give it again", true, ""},
         {"--output", "FILE", "with --check: write a readings file for offsquare diagnose; - for standard output",
          false, "-o"},
         json_option(),
         colour_option(),
         help_option()},
        {"offsquare cut", "offsquare cut built-in --set faults.fence_skew=0.5mrad --exact --reveal",
         "offsquare cut my-saw.toml --shim left=0.4mm --json", "offsquare cut --at 120mm --to -60mm@-80mm",
         "offsquare cut built-in --check five-cut --check straightedge-on-fence -o my-readings.toml"}};
}

VerbInfo shim_verb() {
    return {"shim",
            "",
            false,
            false,
            "work out the shim from your own readings at a real saw",
            "The same arithmetic on what you read on your own strip: its width at the end that lay at the fence during "
            "the fifth cut and at its far end, both square to "
            "the old edge; the length of the old edge between the two places; and the distance between the two shim "
            "points of the fence.",
            {{"--fence-end", "WIDTH", "width of the strip at the fence end", false, ""},
             {"--far-end", "WIDTH", "width of the strip at the far end", false, ""},
             {"--length", "LENGTH", "length of the old edge between the two places", false, ""},
             {"--span", "LENGTH", "distance between the two shim points", false, ""},
             {"--side", "SIDE", "where the strip fell, as you stand at the saw: right (the usual) or left", false, ""},
             {"--u-width", "WIDTH", "standard uncertainty of one width; without it, what the last typed digit allows",
              false, ""},
             {"--units", "UNIT",
              "mm or inch: what bare numbers are in, and what is shown (mm; or inch when a length was typed in inches)",
              false, ""},
             json_option(),
             colour_option(),
             help_option()},
            {"offsquare shim --fence-end 0.485in --far-end 0.461in --length 17.75in --span 26.5in --units inch",
             "offsquare shim --fence-end 12.34 --far-end 12.10 --length 305 --span 500 --u-width 0.02 --json"}};
}

VerbInfo job_verb() {
    return {"job",
            "SCENARIO",
            false,
            false,
            "the whole job as a story: cut, read, work out, shim, cut again, prove",
            fmt::format("Runs the whole job on a simulated saw and tells each step. Tests are repeated where one test "
                        "cannot decide. {} "
                        "Exit code 0 when the fence passes in the end or it cannot be told, 1 when it fails.",
                        about_scenario),
            {set_option(),
             shim_option(),
             seed_option(),
             exact_option(),
             reads_option(),
             {"--save", "FILE", "keep the list of actions in FILE, for offsquare replay", false, ""},
             json_option(),
             colour_option(),
             help_option()},
            {"offsquare job", "offsquare job my-saw.toml --seed 7 --save my-job.jsonl"}};
}

VerbInfo push_verb() {
    return {
        "push",
        "SCENARIO",
        false,
        false,
        "push the sled by hand through its slots: yaw, push needed, jamming",
        fmt::format("Pushes the sled along its slots with the hand beside the blade's line, and tells how it turns in "
                    "its play, what push it needs, and where it jams, binds or stalls. "
                    "Statics with friction; nothing has mass. What is not typed is the scenario's: keys feed.at to "
                    "feed.blade_drag. {} Exit code 0 when it goes through, 1 when it does not.",
                    about_scenario),
        {at_option("where the hand pushes, from the blade's line, positive right (feed.at)"),
         force_option(),
         to_option(),
         {"--mu", "M",
          "coefficient of friction at the slot walls (feed.friction; waxed wood less than 0.25, smooth dry wood 0.3 to "
          "0.5)",
          false, ""},
         {"--base-drag", "F", "drag of the base on the table, in N (feed.base_drag)", false, ""},
         {"--blade-drag", "F", "drag of the blade while it cuts, in N (feed.blade_drag)", false, ""},
         {"--pull-back", "", "pull it back instead, from the far end of the pass", false, ""},
         {"--both", "", "push the live sled as well, which has mass, and tell how far the two are apart", false, ""},
         set_option(),
         json_option(),
         colour_option(),
         help_option()},
        {"offsquare push --at 80mm --force 60N", "offsquare push --at 120mm --to -60mm@40mm --mu 0.35",
         "offsquare push --at 0mm --set faults.slot_splay=1mrad --json"}};
}

VerbInfo picture_verb() {
    return {
        "picture",
        "SCENARIO",
        false,
        false,
        "draw the table from above into a file, without a display",
        fmt::format("Draws the table from above with the parts named and the exaggeration stated. {}", about_scenario),
        {{"--output", "FILE", "where to: FILE.svg, FILE.png, FILE.pdf, or - for SVG on standard output", false, "-o"},
         {"--stage", "STAGE", "how far the job has come: set-up, cut, read (the usual) or prove", false, ""},
         {"--exaggeration", "N",
          "how many times angles are drawn larger: 1 to 10000, or auto (the usual); less where lines would cross",
          false, ""},
         {"--dark", "", "light lines on a dark ground", false, ""},
         {"--size", "WxH", "size of the page in points, such as 1280x800", false, ""},
         {"--reveal", "", "show the true skew as well", false, ""},
         set_option(),
         shim_option(),
         seed_option(),
         exact_option(),
         reads_option(),
         colour_option(),
         help_option()},
        {"offsquare picture -o table.svg", "offsquare picture my-saw.toml -o table.pdf --stage prove --size 1280x800"}};
}

VerbInfo check_verb() {
    return {"check",
            "FILE",
            true,
            false,
            "validate a scenario file and show its set-up",
            "Reads a scenario and prints its set-up. A mistake is named with its file, line and column, what was "
            "found, what is allowed, and an example. Hidden errors are counted, not shown.",
            {set_option(), colour_option(), help_option()},
            {"offsquare check my-saw.toml", "offsquare check - < my-saw.toml"}};
}

VerbInfo keys_verb() {
    return {"keys",
            "",
            false,
            false,
            "list every value that a scenario file and --set can hold",
            "One line a key: its dotted path, its meaning, its range, and a value that may be typed.",
            {json_option(), colour_option(), help_option()},
            {"offsquare keys", "offsquare keys --json"}};
}

VerbInfo faults_verb() {
    return {"faults",
            "SCENARIO",
            false,
            false,
            "list the set-up errors, how each shows, and which check sees it",
            fmt::format("The table of set-up errors: what is wrong, how it shows, whether it turns the corner, what "
                        "puts it right, and which checks see it on this saw. {}",
                        about_scenario),
            {{"--table", "", "faults down, checks across: how many of the smallest size worth finding each check sees",
              false, ""},
             json_option(),
             colour_option(),
             help_option()},
            {"offsquare faults", "offsquare faults --json"}};
}

VerbInfo checks_verb() {
    return {"checks",
            "SCENARIO",
            false,
            false,
            "list the checks, step by step, with their cost and what they see",
            fmt::format("The table of checks: how each is done, with which instrument, what it costs in minutes and "
                        "stock, and which faults it sees on this saw. {}",
                        about_scenario),
            {json_option(), colour_option(), help_option()},
            {"offsquare checks", "offsquare checks --json"}};
}

VerbInfo diagnose_verb() {
    return {"diagnose",
            "READINGS",
            true,
            true,
            "weigh readings together: what is likely, ruled out, still open",
            "Reads one or more readings files of the same saw, as offsquare cut --check writes them, as the window's "
            "notebook writes what was typed into it, or as you write them for your own saw, and weighs everything "
            "together: which faults are there and how large, which are ruled "
            "out, which two cannot be told apart, and which check to make next. The format: a scenario file without "
            "[faults], and under [[check]] a name and what was read. How likely each fault is before "
            "anything is read is invented, and declared: usually_present in offsquare faults --json.",
            {{"--picture", "FILE", "draw it at a glance as well, into FILE.svg, FILE.png or FILE.pdf", false, ""},
             json_option(),
             colour_option(),
             help_option()},
            {"offsquare diagnose my-readings.toml --picture my-diagnosis.svg",
             "offsquare diagnose my-monday.toml my-tuesday.toml --json"}};
}

VerbInfo replay_verb() {
    return {"replay",
            "FILE",
            true,
            false,
            "run a saved list of actions again and check it",
            "Runs a saved session again and compares every recorded number with what comes out now. Where they part, "
            "it says so, with exit code 65.",
            {json_option(), colour_option(), help_option()},
            {"offsquare replay my-job.jsonl"}};
}

VerbInfo cautions_verb() {
    return {"cautions",
            "",
            false,
            false,
            "what to keep in mind at a real saw",
            "Prints the cautions. Local codes and qualified instruction come first.",
            {colour_option(), help_option()},
            {"offsquare cautions"}};
}

VerbInfo window_verb() {
    return {"window",
            "SCENARIO",
            false,
            false,
            "open the window (also: offsquare alone)",
            "Opens the window on a scenario, or on the built-in one.",
            {{"--screenshot", "FILE", "write a picture of the window to FILE.png and leave", false, ""}, help_option()},
            {"offsquare", "offsquare window my-saw.toml"}};
}

std::vector<std::vector<std::string>> option_rows(const VerbInfo& verb) {
    std::vector<std::vector<std::string>> rows;
    for (const OptionInfo& o : verb.options) {
        const std::string both = o.short_name.empty() ? o.name : o.short_name + ", " + o.name;
        rows.push_back(
            {o.value.empty() ? both : both + " " + o.value, o.help + (o.many ? "; may be given again" : "")});
    }
    return rows;
}

}  // namespace

const std::vector<VerbInfo>& verbs() {
    static const std::vector<VerbInfo> all = {
        job_verb(),     cut_verb(),   shim_verb(), faults_verb(), checks_verb(),   diagnose_verb(), push_verb(),
        picture_verb(), check_verb(), keys_verb(), replay_verb(), cautions_verb(), window_verb()};
    return all;
}

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
        rows.push_back({v.name + (v.operand.empty() ? ""
                                  : v.needs_operand ? " " + v.operand + (v.many_operands ? "…" : "")
                                                    : " [" + v.operand + "]"),
                        v.line});
    return "offsquare: find and cure the set-up errors of a table saw and its crosscut sled, in simulation.\n\n"
           "  offsquare                   open the window\n"
           "  offsquare VERB …            do the same work as text\n"
           "  offsquare VERB --help       what a verb takes\n"
           "  offsquare --version\n\n"
           "Verbs\n" +
           columns(rows) +
           "\nLengths and angles may carry a unit: 15 3/8, 15-3/8in, 0.4mm, 4 thou, 0.02deg, 0.3mrad, 0.003in/ft, "
           "0.25mm/m.\n"
           "Exit codes: 0 done, 1 the verdict is no, 2 usage, 65 bad data, 66 no input or no display, 70 our fault, 73 "
           "cannot create, 74 input or output broke off.\n\n"
           "Start with: offsquare job\n";
}

std::string help_text(const VerbInfo& verb) {
    const std::string operand = verb.operand.empty() ? ""
                                : verb.needs_operand ? " " + verb.operand
                                                     : " [" + verb.operand + "]";
    std::string text = fmt::format(
        "offsquare {}{} [options]: {}\n\n{}\n\nOptions\n{}  --  what follows is not an option\n\nExamples\n", verb.name,
        operand, verb.line, wrapped(verb.about, 100), columns(option_rows(verb)));
    for (const std::string& example : verb.examples) text += "  " + example + "\n";
    return text;
}

}  // namespace offsquare::cli
