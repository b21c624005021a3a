// The options of each verb and lines that can be typed as they stand: a part of the table in verbs.cpp, and for it
// alone.
#pragma once

#include "cli/verbs.h"

namespace offsquare::cli::options {

/// Stands in `about` for what a SCENARIO may be.
inline constexpr std::string_view about_scenario = "{scenario}";

constexpr OptionInfo at_option(std::string_view help) { return {"--at", "X", help, false, ""}; }
inline constexpr OptionInfo to_option{
    "--to", "X@S", "from the travel S on (where the fence's face is, from the blade's centre) the hand is at X", true,
    ""};
inline constexpr OptionInfo force_option{"--force", "F", "the most that the hand gives, in N (feed.force)", false, ""};
inline constexpr OptionInfo set_option{
    "--set", "KEY=VALUE", "change one value of the scenario, such as faults.fence_skew=0.5mm/m (keys: offsquare keys)",
    true, ""};
inline constexpr OptionInfo shim_option{
    "--shim", "END=THICKNESS", "put a shim behind one end of the fence first: left=0.4mm or right=0.4mm", true, ""};
inline constexpr OptionInfo seed_option{"--seed", "N",
                                        "another run of chance; without it the scenario's own seed is used", false, ""};
inline constexpr OptionInfo exact_option{"--exact", "", "read without rounding or noise", false, ""};
inline constexpr OptionInfo reads_option{"--reads", "N",
                                         "readings at each end of the strip, 1 to 100 (2; with --exact 1)", false, ""};
inline constexpr OptionInfo json_option{"--json", "", "print one JSON document instead of text", false, ""};
inline constexpr OptionInfo angles_option{
    "--angles", "HOW", "slope (the usual): mm in 1 m, or thou in 12 in with inches; mrad: in milliradians too", false,
    ""};
inline constexpr OptionInfo colour_option{"--colour", "WHEN", "auto, always or never", false, ""};
inline constexpr OptionInfo help_option{"--help", "", "show this help", false, "-h"};

inline constexpr OptionInfo job_options[] = {
    set_option,    shim_option,
    seed_option,   exact_option,
    reads_option,  {"--save", "FILE", "keep the list of actions in FILE, for offsquare replay", false, ""},
    json_option,   angles_option,
    colour_option, help_option};
inline constexpr std::string_view job_examples[] = {"offsquare job",
                                                    "offsquare job my-saw.toml --seed 7 --save my-job.jsonl"};

inline constexpr OptionInfo cut_options[] = {
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
inline constexpr std::string_view cut_examples[] = {
    "offsquare cut", "offsquare cut built-in --set faults.fence_skew=0.5mm/m --exact --reveal",
    "offsquare cut my-saw.toml --shim left=0.4mm --brushed --json", "offsquare cut --at 120mm --to -60mm@-80mm",
    "offsquare cut built-in --check five-cut --check straightedge-on-fence -o my-readings.toml"};

inline constexpr OptionInfo insist_option{"--insist", "", "what looks like a slip is meant: do not ask, do not refuse",
                                          false, ""};

inline constexpr OptionInfo saw_options[] = {
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
inline constexpr std::string_view saw_examples[] = {
    "offsquare saw",
    "offsquare saw \"blue sled\" --new --drawer \"brass 0.1mm x4\"",
    "offsquare saw \"blue sled\" --read fence-end=12.62mm --read far-end=12.02mm --read length=305mm --read span=500mm",
    "offsquare saw \"blue sled\" --shim left=0.1mm --shim left=0.1mm",
    "offsquare saw \"blue sled\" --repair \"slots waxed\" --date 2026-10-20",
    "offsquare saw \"blue sled\" --log --export blue-sled.pdf"};

inline constexpr OptionInfo shim_options[] = {
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
inline constexpr std::string_view shim_examples[] = {
    "offsquare shim --fence-end 0.485in --far-end 0.461in --length 17.75in --span 26.5in --units inch",
    "offsquare shim --fence-end 12.34 --far-end 12.10 --length 305 --span 500 --u-width 0.02 --json"};

inline constexpr OptionInfo faults_options[] = {
    {"--table", "", "faults down, checks across: how surely each check sees the smallest size worth finding", false,
     ""},
    json_option,
    angles_option,
    colour_option,
    help_option};
inline constexpr std::string_view faults_examples[] = {"offsquare faults", "offsquare faults --json"};

inline constexpr OptionInfo checks_options[] = {json_option, angles_option, colour_option, help_option};
inline constexpr std::string_view checks_examples[] = {"offsquare checks", "offsquare checks --json"};

inline constexpr OptionInfo diagnose_options[] = {
    {"--picture", "FILE", "draw it at a glance as well, into FILE.svg, FILE.png or FILE.pdf", false, ""},
    insist_option,
    json_option,
    angles_option,
    colour_option,
    help_option};
inline constexpr std::string_view diagnose_examples[] = {
    "offsquare diagnose my-readings.toml --picture my-diagnosis.svg",
    "offsquare diagnose my-monday.toml my-tuesday.toml --json"};

inline constexpr OptionInfo coach_options[] = {
    {"--suspect", "FAULT", "a fault that you suspect, the likeliest first (keys: offsquare faults)", true, ""},
    {"--rung", "N", "how much to tell: 1 the question, 2 whom the readings leave, 3 what to do (3)", false, ""},
    {"--bits", "", "the numbers behind it: what each check would tell, and the minutes to be expected", false, ""},
    insist_option,
    json_option,
    angles_option,
    colour_option,
    help_option};
inline constexpr std::string_view coach_examples[] = {
    "offsquare coach my-readings.toml --rung 1",
    "offsquare coach my-readings.toml --suspect fence_skew --suspect fence_bow --bits"};

inline constexpr OptionInfo push_options[] = {
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
inline constexpr std::string_view push_examples[] = {"offsquare push --at 80mm --force 60N",
                                                     "offsquare push --at 120mm --to -60mm@40mm --mu 0.35",
                                                     "offsquare push --at 0mm --set faults.slot_splay=1mm/m --json"};

inline constexpr OptionInfo picture_options[] = {
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
inline constexpr std::string_view picture_examples[] = {
    "offsquare picture -o table.svg", "offsquare picture my-saw.toml -o table.pdf --stage prove --size 1280x800"};

inline constexpr OptionInfo check_options[] = {set_option, angles_option, colour_option, help_option};
inline constexpr std::string_view check_examples[] = {"offsquare check my-saw.toml", "offsquare check - < my-saw.toml"};

inline constexpr OptionInfo keys_options[] = {json_option, angles_option, colour_option, help_option};
inline constexpr std::string_view keys_examples[] = {"offsquare keys", "offsquare keys --json"};

inline constexpr OptionInfo cases_options[] = {json_option, angles_option, colour_option, help_option};
inline constexpr std::string_view cases_examples[] = {"offsquare cases", "offsquare job two-boards",
                                                      "offsquare cases --json"};

inline constexpr OptionInfo drill_options[] = {
    {"--case", "NAME", "which case (offsquare cases); without it two-boards", false, ""},
    {"--tier", "N",
     "a case made for it: 1 one fault, 2 look-alikes or nothing wrong, 3 two faults or one that no cut shows, 4 a sled "
     "that jams or an instrument that lies",
     false, ""},
    {"--again", "N", "the case once more, the Nth time: the same causes, other sizes, told in other words", false, ""},
    {"--twin", "HANDIN", "the twin of a closed hunt: the same complaint, another cause", false, ""},
    {"--seed", "N", "another run of chance; with --tier another case (1)", false, ""},
    {"--from", "HANDIN", "take an open hunt up again", false, ""},
    {"--output", "HANDIN", "write the hand-in here at the end, open or closed", false, "-o"},
    {"--progress", "", "how practice goes: families and when each is due, the next tier, how sure and how right", false,
     ""},
    {"--forget", "", "delete what is kept of it", false, ""},
    {"--json", "", "answer each line with one JSON document on a line, for other programs", false, ""},
    angles_option,
    colour_option,
    help_option};
inline constexpr std::string_view drill_examples[] = {"offsquare drill --case no-two-agree -o hand-in.jsonl",
                                                      "offsquare drill --from hand-in.jsonl",
                                                      "offsquare drill --tier 2 --seed 7", "offsquare drill --json"};

inline constexpr OptionInfo mark_options[] = {json_option, angles_option, colour_option, help_option};
inline constexpr std::string_view mark_examples[] = {"offsquare mark hand-in.jsonl",
                                                     "offsquare mark hand-in.jsonl --json"};

inline constexpr OptionInfo replay_options[] = {json_option, angles_option, colour_option, help_option};
inline constexpr std::string_view replay_examples[] = {"offsquare replay my-job.jsonl"};

inline constexpr OptionInfo cautions_options[] = {colour_option, help_option};
inline constexpr std::string_view cautions_examples[] = {"offsquare cautions"};

inline constexpr OptionInfo window_options[] = {
    {"--screenshot", "FILE", "write a picture of the window to FILE.png and leave", false, ""},
    angles_option,
    help_option};
inline constexpr std::string_view window_examples[] = {"offsquare", "offsquare window my-saw.toml"};

}  // namespace offsquare::cli::options
