#include "session/story.h"

#include <cmath>

#include <fmt/format.h>

#include "base/elementary.h"
#include "session/advice.h"
#include "session/hunt_words.h"

namespace offsquare::session {
namespace {

using base::Units;

/// What would decide an open verdict, with its minutes.
std::string work_words(const diagnose::Verdict& v) {
    const std::string tests = v.more_tests == 1
                                  ? std::string("one more test, the fence brushed before each cut")
                                  : fmt::format("{} more tests, the fence brushed before each cut", v.more_tests);
    const char* look = "the wiggle check of the play";
    switch (v.work) {
        case diagnose::Work::test: return fmt::format("Least work to decide: {} ({:g} min)", tests, v.work_minutes);
        case diagnose::Work::wiggle: return fmt::format("Least work to decide: {} ({:g} min)", look, v.work_minutes);
        case diagnose::Work::wiggle_and_test:
            return fmt::format("Least work to decide: {} and {} ({:g} min)", look, tests, v.work_minutes);
        case diagnose::Work::none: break;
    }
    return "Repeating alone will not decide it";
}

std::string caliper_words(const shop::Caliper& c, Units units) {
    return fmt::format("The {} reads to {} and may be off by {}.", c.name, base::show_reading(c.step_mm, units),
                       base::show_reading(c.limit_mm, units));
}

/// What is not decided, in few words: the card of the window has room for no more.
std::string open_words(const Test& test, Units units) {
    return fmt::format("{} {}; {} is allowed.",
                       test.pooled_tests > 1 ? "By these strips alone:" : "By this strip alone:",
                       off_by(test.pooled_rad->value, base::coverage(*test.pooled_rad), units),
                       base::show_angle_short(test.verdict->tolerance_rad, units));
}

/// For which other boards, in few words.
const char* straight_words(const Test& test) {
    switch (test.other_boards) {
        case OtherBoards::unknown: return "No straightedge was tried on the fence.";
        case OtherBoards::alike: return "Found straight enough for other boards too.";
        case OtherBoards::otherwise: break;
    }
    return "It was not found straight: other boards may differ.";
}

std::string end_words(shim::At at) { return fmt::format("the {} end", shim::name_of(at)); }

Now cut_words(const Seen& seen, Todo todo, Units units) {
    if (todo == Todo::cut_otherwise)
        return {"Change the set-up and cut again", std::string(cut::sentence_of(seen.last_test()->outcome)),
                "Cut again"};
    if (todo == Todo::repeat_test) return {"Repeat the test", open_words(*seen.last_test(), units), "Cut again"};
    return {"Cut the five-cut test",
            "Brush the fence, cut, let the blade stop, turn the fresh edge onto the fence, and so on. Four corner "
            "errors add "
            "up in the strip of the fifth cut.",
            "Make the five cuts"};
}

Now read_words(const Seen& seen, Todo todo, Units units) {
    const std::string words = caliper_words(seen.last_test()->drawing.caliper, units);
    if (todo == Todo::read_fence_end)
        return {"Measure the strip at its fence end", "Wait for the blade to stop. This end lay at the fence. " + words,
                "Read the fence end"};
    return {"Measure the strip at its far end", "Same jaws, same pressure. " + words, "Read the far end"};
}

Now work_out_words(const Seen& seen) {
    const Test& test = *seen.last_test();
    return {"Work out the error",
            fmt::format("Read again to average the noise ({} at the fence end, {} at the far end so far), or go on.",
                        test.fence_end.size(), test.far_end.size()),
            "Work it out"};
}

Now shim_words(const Seen& seen) {
    const Test& test = *seen.last_test();
    if (uses_both_ends(test))
        return {"Put shims behind both ends",
                "Stop the blade, unplug the saw. One end alone would leave too much; only the difference counts.",
                "Put the shims in"};
    const std::string end = end_words(test.proposal->at);
    return {
        fmt::format("Put the shim behind {}", end),
        fmt::format("Stop the blade, unplug the saw. The {} of the fence sits too near you; the shim moves it away.",
                    end.substr(4)),
        "Put the shim in"};
}

Now prove_words(const Seen& seen) {
    const bool shims = seen.shims_changed_since_last_test;
    return {"Prove it",
            shims ? "Cut the same test again with the shim in. Only a second strip shows that the fence is square now."
                  : "Something was put right since the last test. Only a new strip shows what the saw does now.",
            "Cut again"};
}

Now play_words(const Seen& seen, Units units) {
    return {"Look at the sled's play",
            open_words(*seen.last_test(), units) + " Nobody has looked at how far its play lets the sled turn.",
            "Check the play"};
}

/// Where the job ends without a proof: the notebook goes on.
Now end_of_job_words(const Seen& seen, Todo todo, Units units) {
    const std::string verdict = verdict_sentence(*seen.last_test(), units);
    constexpr const char* onwards = "Open the notebook";
    if (todo == Todo::nothing_fits && seen.drawing.drawer.empty())
        return {"The drawer is empty",
                fmt::format("Nothing is there to put behind {}. Add shims in the set-up, or look for another cause.",
                            end_words(seen.last_test()->proposal->at)),
                onwards};
    if (todo == Todo::nothing_fits)
        return {
            "Find a thinner shim",
            fmt::format("Nothing from the drawer behind {} leaves less than there is now. Add a thinner shim in the "
                        "set-up, or look for another cause.",
                        end_words(seen.last_test()->proposal->at)),
            onwards};
    if (todo == Todo::undecidable)
        return {
            seen.last_test()->verdict->scatter_is_open ? "This is not decided yet" : "This caliper cannot decide it",
            open_words(*seen.last_test(), units), onwards};
    if (todo == Todo::something_changes) return {"Something changes between tests", verdict, onwards};
    return {"Shims alone do not square it", verdict + " Something else is wrong.", onwards};
}

Now jam_words(const Seen& seen, Units units) {
    return {"The sled jams",
            jam_sentence(seen, units) +
                " Do not force it. No test can be cut until it goes; the "
                "notebook finds out what jams it.",
            "Open the notebook"};
}

Now done_words(const Seen& seen, Units units) {
    const bool shimmed = !seen.behind_left.empty() || !seen.behind_right.empty();
    const Test& test = *seen.last_test();
    const std::string off = fmt::format("For a board of {}: {}.", base::show_size(test.drawing.board.width_mm, units),
                                        off_by(test.verdict->mean_rad, test.verdict->coverage95, units));
    if (proof_of(seen) == Proved::marked)
        return {"Square, but one face is marked", off + " " + face_sentence(seen, units), "Open the notebook"};
    return {shimmed ? "Proved square" : "Square as it is", off + " " + straight_words(test), ""};
}

// ---- the working ----

/// Which end of the strip is wider, in words. Where several tests are averaged, the mean speaks: the last strip alone
/// may say otherwise.
std::string wider(const Test& test) {
    const diagnose::StripReadings& s = *test.strip;
    if (test.pooled_tests > 1) {
        const bool at_fence = (test.pooled_rad->value > 0.0) == (s.side == shop::Side::right);
        return fmt::format("taken together, the strips are wider {}", at_fence ? "at the fence" : "at their far ends");
    }
    return s.fence_end_mm.value > s.far_end_mm.value ? "the strip is wider at the fence"
                                                     : "the strip is wider at its far end";
}

std::string because_words(const Test& test, Units units) {
    const shim::Proposal& p = *test.proposal;
    const base::Interval c = base::coverage(p.ideal_mm);
    const std::string give = fmt::format("Give or take {} (95 %)", base::show_small(0.5 * (c.hi - c.lo), units));
    if (p.at == shim::At::none) return p.why;
    const char* fell = test.strip->side == shop::Side::right ? "" : " and fell on the left";
    return fmt::format("{}: {}{}, so the {} end sits too near you.", give, wider(test), fell, shim::name_of(p.at));
}

std::string conclusion_words(const Test& test, Units units) {
    const shim::Proposal& p = *test.proposal;
    if (p.at == shim::At::none) {
        if (test.verdict->state == diagnose::State::pass) return "No shim needed";
        if (test.verdict->hand_is_open) return "Not clear yet: look at the play";
        return p.tells_end ? "No shim by this strip" : "Not clear yet: repeat the test";
    }
    return fmt::format("Shim {} at {}", base::show_small(p.ideal_mm.value, units), end_words(p.at));
}

std::string number(double value_mm, Units units) {
    return units == Units::metric ? base::print_length(value_mm, base::LengthStyle::mm, 3, false)
                                  : base::print_length(value_mm, base::LengthStyle::inch, 4, false);
}

/// "0.200 + 0.100"
std::string sum_of(const std::vector<shim::PickedShim>& pieces, Units units) {
    std::string text;
    for (const shim::PickedShim& s : pieces) text += (text.empty() ? "" : " + ") + number(s.thickness_mm, units);
    return text;
}

// ---- the verdict ----

std::string strip_words(const Test& test, Units units) {
    const bool more = test.pooled_tests > 1;
    return fmt::format("{} {}", more ? "the strips together say" : "this strip says",
                       off_by(test.pooled_rad->value, base::coverage(*test.pooled_rad), units));
}

std::string board_words(const Test& test, Units units) {
    return fmt::format("a board of {}{}", base::show_size(test.drawing.board.width_mm, units),
                       test.brushed ? ", the fence brushed before each cut" : "");
}

/// For which other boards a proof holds.
const char* other_boards_words(const Test& test) {
    switch (test.other_boards) {
        case OtherBoards::unknown:
            return "No straightedge was tried on the fence: a board of another size may come out differently.";
        case OtherBoards::alike: return "The fence was found straight enough for other boards too.";
        case OtherBoards::otherwise: break;
    }
    return "The fence was not found straight: a board of another size may come out differently.";
}

/// What may turn the board differently next time, as far as nobody has looked.
const char* may_change_words(const Test& test) {
    const bool chips = !test.brushed;
    if (test.verdict->hand_is_open)
        return chips ? "sawdust at the fence, or the hand in the sled's play, may turn the board differently next time"
                     : "the hand in the sled's play may turn the board differently next time";
    if (chips) return "sawdust at the fence may turn the board differently next time";
    return "what changes from test to test is not known well enough";
}

/// Where the readings alone leave it open.
std::string tests_words(const diagnose::Verdict& v) {
    if (v.work == diagnose::Work::wiggle || v.work == diagnose::Work::wiggle_and_test) return work_words(v);
    if (v.tests_to_decide > 0)
        return fmt::format("{} tests in all, averaged, would decide it if the mean stays", v.tests_to_decide);
    return "Repeating alone will not decide it: the error lies too near the tolerance for this instrument";
}

std::string ratio(double value) { return fmt::format("{}{:.5f}", value < -0.000005 ? "−" : "", std::abs(value)); }

}  // namespace

std::string off_by(double middle_rad, const base::Interval& c, Units units) {
    return fmt::format("off by {}, give or take {} (95 %)", base::show_angle_short(middle_rad, units),
                       base::show_angle_number(0.5 * (c.hi - c.lo), units));
}

Now words_of(const Next& next, const Seen& seen, Units units) {
    switch (next.todo) {
        case Todo::cut:
        case Todo::cut_otherwise:
        case Todo::repeat_test: return cut_words(seen, next.todo, units);
        case Todo::read_fence_end:
        case Todo::read_far_end: return read_words(seen, next.todo, units);
        case Todo::work_out: return work_out_words(seen);
        case Todo::look_at_play: return play_words(seen, units);
        case Todo::put_shims: return shim_words(seen);
        case Todo::prove: return prove_words(seen);
        case Todo::nothing_fits:
        case Todo::undecidable:
        case Todo::something_changes:
        case Todo::look_elsewhere: return end_of_job_words(seen, next.todo, units);
        case Todo::find_the_jam: return jam_words(seen, units);
        case Todo::done: return done_words(seen, units);
        case Todo::wait_for_sled:
        case Todo::look_at_suspects:
        case Todo::weigh:
        case Todo::cannot_weigh:
        case Todo::make_check:
        case Todo::type_readings:
        case Todo::repair:
        case Todo::repair_there:
        case Todo::prove_there:
        case Todo::take_hold: break;
    }
    return {};
}

Working working(const Test& test, Units units) {
    Working w;
    if (!test.strip || !test.proposal) return w;
    const double fence = test.strip->fence_end_mm.value;
    const double far = test.strip->far_end_mm.value;
    const double span = test.drawing.fence.span_mm();
    const diagnose::PencilWorking pencil = diagnose::pencil_working(*test.strip, span);
    w.lines.push_back({"fence end − far end", fmt::format("{} − {}", number(fence, units), number(far, units)),
                       base::show_reading(pencil.difference_mm, units)});
    w.lines.push_back({"four corners added", "÷ 4", base::show_reading(pencil.share_mm, units)});
    w.lines.push_back(
        {"strip length", "÷ " + base::show_size(test.strip->between_mm.value, units), ratio(pencil.per_length)});
    w.lines.push_back(
        {"between shim points", "× " + base::show_size(span, units), base::show_small(pencil.over_span_mm, units)});
    if (test.pooled_tests > 1) {
        // As the strip has it: one that falls on the left is wider at its other end for the same fence.
        const double sign = test.strip->side == shop::Side::right ? 1.0 : -1.0;
        w.lines.push_back({fmt::format("mean of {} tests", test.pooled_tests), "",
                           base::show_small(sign * span * base::tan_of(test.pooled_rad->value), units)});
    }
    w.conclusion = conclusion_words(test, units);
    w.because = because_words(test, units);
    return w;
}

std::string stack_sentence(const Test& test, Units units) {
    if (!test.proposal) return "";
    const shim::Proposal& p = *test.proposal;
    if (p.at == shim::At::none) return p.why;
    const std::string both = p.other_way ? fmt::format("{}; that leaves {}.", shim::words_of(*p.other_way, units),
                                                       base::show_angle(p.other_way->remainder_rad.value, units))
                                         : "";
    const std::string left = base::show_angle(p.best.remainder_rad.value, units);
    if (test.drawing.drawer.empty()) return "The drawer is empty.";
    if (p.best.pieces.empty()) {
        return fmt::format("Nothing from the drawer behind {} leaves less than {}.{}", end_words(p.at), left,
                           both.empty() ? "" : " With both ends it can be done: " + both);
    }
    std::string pieces;
    for (const shim::PickedShim& s : p.best.pieces)
        pieces += fmt::format("{}{} {}", pieces.empty() ? "" : " + ", s.name, number(s.thickness_mm, units));
    const std::string sum = p.best.pieces.size() > 1 ? " = " + number(p.best.thickness_mm, units) : "";
    const std::string unit = units == Units::metric ? " mm" : " in";
    return fmt::format("{}{}{}, leaves {}.{}", pieces, sum, unit, left,
                       both.empty() ? "" : " Closer with both ends: " + both);
}

std::string stack_line(const Test& test, Units units) {
    if (!test.proposal || test.proposal->at == shim::At::none) return "";
    const shim::Proposal& p = *test.proposal;
    if (uses_both_ends(test)) {
        std::string text;
        const auto say = [&](const char* end, const std::vector<shim::PickedShim>& pieces, const char* where) {
            if (!pieces.empty()) text += fmt::format("{} {} {}, ", end, sum_of(pieces, units), where);
        };
        say("left", p.other_way->take_left, "out");
        say("right", p.other_way->take_right, "out");
        say("left", p.other_way->add_left, "in");
        say("right", p.other_way->add_right, "in");
        return text + "leaves " + base::show_angle_short(p.other_way->remainder_rad.value, units);
    }
    if (p.best.pieces.empty()) return "";
    const std::string sum = p.best.pieces.size() > 1 ? " = " + number(p.best.thickness_mm, units) : "";
    return fmt::format("{}{}, leaves {}", sum_of(p.best.pieces, units), sum,
                       base::show_angle_short(p.best.remainder_rad.value, units));
}

std::string verdict_in_short(const Test& test, Units units) {
    if (!test.verdict) return "";
    const diagnose::Verdict& v = *test.verdict;
    const auto word = [&] {
        if (v.changes && v.state != diagnose::State::pass) return "Something changes between tests";
        switch (v.state) {
            case diagnose::State::pass: return "Pass";
            case diagnose::State::fail: return "Fail";
            case diagnose::State::undecided: break;
        }
        return "Not yet decidable";
    };
    return fmt::format("{}: {}.", word(), off_by(v.mean_rad, v.coverage95, units));
}

std::string verdict_sentence(const Test& test, Units units) {
    if (!test.verdict) return "";
    const diagnose::Verdict& v = *test.verdict;
    const std::string error = off_by(v.mean_rad, v.coverage95, units);
    const std::string allowed = base::show_angle(v.tolerance_rad, units) + " is allowed";
    switch (v.state) {
        case diagnose::State::pass:
            return fmt::format("Pass: the fence is square within the tolerance for {}: {}; {}. {}",
                               board_words(test, units), error, allowed, other_boards_words(test));
        case diagnose::State::fail:
            if (v.changes) break;
            return fmt::format("Fail: the fence is out of tolerance for {}: {}; {}.", board_words(test, units), error,
                               allowed);
        case diagnose::State::undecided: break;
    }
    if (v.changes)
        return fmt::format(
            "Something changes between tests: they differ by more than the readings explain, and a shim would only "
            "chase it. All together: {}; {}.",
            error, allowed);
    if (!v.scatter_is_open) return fmt::format("Not yet decidable: {}; {}. {}.", error, allowed, tests_words(v));
    const std::string strip = strip_words(test, units);
    return fmt::format("Not yet decidable: {}; {}. Of the fence {} cannot say: {}. {}", strip, allowed,
                       test.pooled_tests > 1 ? "they alone" : "one strip alone", may_change_words(test),
                       work_words(v) + ".");
}

const Cautions& cautions() {
    static const Cautions all{
        "Before you touch a real saw",
        {
            "Offsquare is for practice. It has not been validated against a physical machine. Follow the machine's "
            "manual and your local codes, and get qualified instruction.",
            "Stop the blade, wait until it stands still and unplug the saw before you adjust, shim, clean, measure or "
            "clear anything.",
            "Keep the guard and the riving knife set for the job, as your local rules require.",
            "A sled runs in true slots, with its fence fixed so that it keeps its place. Never cut freehand. Never use "
            "the rip fence together with the sled.",
            "Hands never in the line of the cut, and no part of you where the blade comes out behind the fence. Cover "
            "that exit.",
            "Stand to one side of the blade's line. Wear eye and hearing protection, and extract the dust.",
            "Hold small pieces with a clamp or a stop, not with fingers. Do not cut a strip that you cannot hold "
            "safely.",
            "Let the blade stop before you pick up a strip or an offcut. Leave it lying where it fell until then.",
            "Where the sled jams or a piece binds, hold still, switch off and let the blade stop before you free it. "
            "Never pull it back through a turning blade.",
        },
        "Real saw: stop the blade and unplug it before you touch the fence.",
    };
    return all;
}

}  // namespace offsquare::session
