#include "saws/answer.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/listed.h"
#include "base/elementary.h"
#include "session/hunt_words.h"
#include "session/story.h"

namespace offsquare::saws {
namespace {

using base::Units;

std::vector<shim::PickedShim> picked(const std::vector<Piece>& pieces, const std::vector<shop::Shim>& drawer,
                                     std::vector<int>& left) {
    std::vector<shim::PickedShim> out;
    for (const Piece& p : pieces) {
        shim::PickedShim one{p.name, p.thickness_mm, p.u_mm, -1};
        for (std::size_t i = 0; i < drawer.size() && one.drawer_row < 0; ++i) {
            if (drawer[i].name != p.name || drawer[i].thickness_mm != p.thickness_mm || left[i] == 0) continue;
            --left[i];
            one.drawer_row = static_cast<int>(i);
        }
        out.push_back(std::move(one));
    }
    return out;
}

std::vector<std::string> missing_of(const Strip& s, std::optional<double> span_mm) {
    std::vector<std::string> missing;
    if (s.fence_end.empty()) missing.emplace_back("the fence end");
    if (s.far_end.empty()) missing.emplace_back("the far end");
    if (!s.between) missing.emplace_back("the length between the two places");
    if (!s.fell) missing.emplace_back("the side where the strip fell");
    if (!span_mm) missing.emplace_back("the distance between the shim points");
    return missing;
}

std::optional<double> span_of(const Strip& strip, const SetUp& set_up) {
    if (strip.span) return strip.span->value;
    const auto typed = [&](std::string_view key) {
        return std::any_of(set_up.typed.begin(), set_up.typed.end(), [&](const Size& s) { return s.key == key; });
    };
    if (typed("fence.span") || (typed("fence.shim_left") && typed("fence.shim_right")))
        return set_up.scenario.drawing.fence.span_mm();
    return std::nullopt;
}

bool something_behind(const Standing& s, shim::At at) {
    return at == shim::At::left ? !s.left.empty() : !s.right.empty();
}

std::string other_end(shim::At at) { return at == shim::At::left ? "right" : "left"; }

using Fence = std::optional<session::FenceVerdict>;

std::string heading_of(const Answer& a, const InLog& known, Units units) {
    if (!a.missing.empty()) return "Still to type: " + base::listed(a.missing);
    if (look_at_shims_first(a, known)) return known.shims->heading;
    if (known.contradicted) return "It does not fit the rest: cut once more";
    const Fence& fence = known.fence;
    const StripShim& s = *a.shim;
    const bool not_clear = a.test.verdict->state != diagnose::State::pass && !s.tells_end();
    if (not_clear && fence && fence->verdict.state == diagnose::State::pass)
        return "Square enough: leave the fence as it is";
    if (s.at == shim::At::none || a.test.verdict->state == diagnose::State::pass) {
        if (!fence) return "This strip is square enough";
        return fence->verdict.state == diagnose::State::pass
                   ? "Square enough: leave the fence as it is"
                   : "This strip is square: brush the fence and cut once more";
    }
    if (!s.tells_end()) return "Not clear yet: cut and read once more";
    const char* add = something_behind(a.standing, s.at) ? "Add" : "Put";
    return fmt::format("{} {} behind the {} end", add, base::show_small(s.shim_mm.value, units), shim::name_of(s.at));
}

std::string taking_out(const Answer& a, Units units) {
    const StripShim& s = *a.shim;
    const shim::At other = s.at == shim::At::left ? shim::At::right : shim::At::left;
    if (s.at == shim::At::none || !something_behind(a.standing, other)) return "";
    const double there = total_mm(other == shim::At::left ? a.standing.left : a.standing.right);
    return fmt::format(" Behind the {} end {} stand already: taking out as much there does the same.", other_end(s.at),
                       base::show_small(there, units));
}

/// What the fence's verdict leaves of the shim, where that is a good deal more than the readings of one strip do.
std::string with_what_changes(const Answer& a, const Fence& fence, Units units) {
    if (!fence) return "";
    constexpr double good_deal = 1.5;
    const double strip_mm = 0.5 * (a.shim->coverage95_mm.hi - a.shim->coverage95_mm.lo);
    const base::Interval& all = fence->verdict.coverage95;
    const double fence_mm = 0.5 * (all.hi - all.lo) * a.test.drawing.fence.span_mm();
    if (fence_mm < good_deal * strip_mm) return "";
    return fmt::format("The next test may ask for up to {} more or less (sawdust, the hand, play).",
                       base::show_small(fence_mm, units));
}

std::string give_or_take(const Answer& a, bool in_heading, Units units) {
    const StripShim& s = *a.shim;
    // Where nothing is to be shimmed, how much it would be stands with the working.
    if (a.test.verdict->state == diagnose::State::pass) return "";
    const std::string half = base::show_small(0.5 * (s.coverage95_mm.hi - s.coverage95_mm.lo), units);
    const std::string shim = fmt::format(
        "By this strip {} behind the {} end would square it, give or take {}, 95 times "
        "in 100.",
        base::show_small(s.shim_mm.value, units), shim::name_of(s.at), half);
    if (s.at == shim::At::none) return fmt::format("Give or take {}, 95 times in 100.", half);
    const bool is_heading = in_heading && s.tells_end();
    return is_heading ? fmt::format("Give or take {} of shim, 95 times in 100.", half) : shim;
}

std::string capital(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
        text.front() = static_cast<char>(text.front() - 32);
    return text;
}

std::string square_words(const session::Test& test, Units units) {
    if (!test.verdict || !test.skew_rad) return "";
    const base::Interval c = base::coverage(*test.skew_rad);
    const auto word = [&] {
        switch (test.verdict->state) {
            case diagnose::State::pass: return "within what counts as square";
            case diagnose::State::fail: return "more than counts as square";
            case diagnose::State::undecided: break;
        }
        return "not clear of what counts as square";
    };
    return fmt::format("By this strip the fence is off by {}, give or take {}: {} ({}).",
                       base::show_angle(std::abs(test.skew_rad->value), units),
                       base::show_angle_number(0.5 * (c.hi - c.lo), units), word(),
                       base::show_angle(test.drawing.tolerance_rad, units));
}

std::string which_end_words(const Answer& a) {
    if (!a.shim || a.shim->at == shim::At::none) return "";
    const std::string other =
        fmt::format("the other way round, the shim goes behind the {} end", other_end(a.shim->at));
    if (!a.ends_marked) return fmt::format("Was the end at the fence marked? {}.", capital(other));
    if (*a.ends_marked)
        return fmt::format("The end at the fence was marked, so it is the {} end.", shim::name_of(a.shim->at));
    return fmt::format(
        "You are not sure which end lay at the fence, and two widths do not show it: {}. Cut once more "
        "and mark the end before you take the strip away.",
        other);
}

/// The check that tells a fence off square from the likeliest of these best for its minutes.
std::optional<measure::Check> apart(const std::vector<shop::Fault>& look_alikes, const session::Findings& findings,
                                    const session::Seen& seen) {
    const auto& beliefs = findings.diagnosis.beliefs;
    const auto likeliest = std::max_element(look_alikes.begin(), look_alikes.end(), [&](shop::Fault x, shop::Fault y) {
        return beliefs[static_cast<std::size_t>(x)].probability < beliefs[static_cast<std::size_t>(y)].probability;
    });
    if (likeliest == look_alikes.end()) return std::nullopt;
    const session::Assumptions assumed = session::usual_assumptions(seen.drawing);
    const auto& made = findings.diagnosis.made;
    const measure::Occasion now = made.empty() ? measure::Occasion{} : made.back();
    return diagnose::separating({shop::Fault::fence_skew, *likeliest}, findings.diagnosis, now, assumed.model,
                                assumed.prior);
}

}  // namespace

Answer answer_of(const Strip& strip, const SetUp& set_up, const Standing& standing) {
    Answer a;
    const auto span = span_of(strip, set_up);
    a.missing = missing_of(strip, span);
    a.standing = standing;
    a.drawer_typed = set_up.drawer_typed;
    a.ends_marked = strip.ends_marked;
    session::Test& test = a.test;
    test.drawing = set_up.scenario.drawing;
    std::vector<int> left;
    for (const shop::Shim& s : test.drawing.drawer) left.push_back(s.count);
    test.behind_left = picked(standing.left, test.drawing.drawer, left);
    test.behind_right = picked(standing.right, test.drawing.drawer, left);
    test.brushed = strip.brushed;
    test.strip_fell = strip.fell;
    if (span) {
        test.drawing.fence.shim_left_x_mm = -0.5 * *span;
        test.drawing.fence.shim_right_x_mm = *span - 0.5 * *span;
    }
    if (strip.fence_end.empty() || strip.far_end.empty() || !strip.between || !strip.fell ||
        !(strip.between->value > 0.0))
        return a;
    const diagnose::StripReadings readings = strip_readings(strip, set_up);
    a.cannot_be = too_steep(readings);
    if (!a.cannot_be.empty()) return a;
    test.strip = readings;
    test.skew_rad = diagnose::skew_from_strip(readings);
    test.pooled_rad = test.skew_rad;
    test.pooled_tests = 1;
    test.verdict = diagnose::judge(*test.skew_rad, test.drawing.tolerance_rad);
    test.verdict->mean_rad = test.skew_rad->value;
    test.worked_out = true;
    if (!span || !(*span > 0.0)) return a;
    a.shim = shim_of(readings, *span);
    test.proposal = shim::propose(*test.skew_rad, test.drawing, left, {test.behind_left, test.behind_right});
    return a;
}

std::optional<Answer> newest_answer(const Sled& sled) {
    const Entry* newest = newest_test(sled);
    if (newest == nullptr) return std::nullopt;
    const Standing standing = standing_before(sled, newest->number);
    return answer_of(std::get<StripTest>(newest->what).strip, set_up_of(sled, newest->date), standing);
}

InLog in_log(const Sled& sled, const session::Seen& seen, Units units) {
    return {fence_verdict(seen), shims_told(sled, units)};
}

bool look_at_shims_first(const Answer& a, const InLog& known) {
    return known.shims && !known.shims->heading.empty() && a.shim && a.shim->at != shim::At::none &&
           a.test.verdict->state != diagnose::State::pass;
}

AnswerWords words_of(const Answer& a, Units units, const InLog& known) {
    AnswerWords w;
    w.square = square_words(a.test, units);
    if (!a.cannot_be.empty()) {
        w.heading = "This cannot be the strip of a five-cut test";
        w.why = capital(a.cannot_be);
        return w;
    }
    const bool look_first = look_at_shims_first(a, known);
    w.heading = heading_of(a, known, units);
    if (!a.shim) return w;
    w.give_or_take = give_or_take(a, !look_first && !known.contradicted, units);
    const std::string next_test = with_what_changes(a, known.fence, units);
    if (!next_test.empty()) w.give_or_take += (w.give_or_take.empty() ? "" : " ") + next_test;
    if (a.test.verdict->state == diagnose::State::pass) return w;
    w.why = capital(a.shim->why) + taking_out(a, units);
    if (a.drawer_typed) w.stack = session::stack_sentence(a.test, units);
    w.which_end = which_end_words(a);
    return w;
}

std::optional<CutAgain> cut_again(const Sled& sled, Units units, Date today) {
    const Entry* since = worked_on_since_test(sled);
    const auto answer = newest_answer(sled);
    if (since == nullptr || !answer) return std::nullopt;
    const bool shims = std::holds_alternative<ShimsMoved>(since->what);
    const std::string behind = words_of(standing_of(sled), units, today);
    CutAgain again;
    again.heading = shims ? "Now prove it: cut a second strip" : "Cut again: it was worked on";
    again.why = fmt::format(
        "{}. Cut five in the same way and type the two ends of the new strip. Only a cut proves "
        "what was done.",
        behind == "nothing" ? "Nothing stands behind the fence" : capital(behind));
    const bool asked =
        answer->shim && answer->shim->tells_end() && answer->test.verdict->state != diagnose::State::pass;
    if (shims && asked)
        again.why += fmt::format(" The strip of {} had asked for {} behind the {} end.",
                                 in_words(newest_test(sled)->date, today),
                                 base::show_small(answer->shim->shim_mm.value, units), shim::name_of(answer->shim->at));
    return again;
}

ShimsMoved as_moved(const Answer& a, bool both_ends) {
    ShimsMoved moved;
    if (!a.test.proposal) return moved;
    const shim::Proposal& p = *a.test.proposal;
    const auto add = [](std::vector<Piece>& to, const std::vector<shim::PickedShim>& from) {
        for (const shim::PickedShim& s : from) to.push_back({s.name, s.thickness_mm, s.u_mm});
    };
    if (both_ends && p.other_way) {
        add(moved.put_left, p.other_way->add_left);
        add(moved.put_right, p.other_way->add_right);
        add(moved.taken_left, p.other_way->take_left);
        add(moved.taken_right, p.other_way->take_right);
    } else if (p.best.at != shim::At::none) {
        add(p.best.at == shim::At::left ? moved.put_left : moved.put_right, p.best.pieces);
    }
    return moved;
}

std::optional<double> left_over(const Answer& a, const ShimsMoved& moved) {
    if (!a.shim || !a.test.skew_rad) return std::nullopt;
    const double left = total_mm(moved.put_left) - total_mm(moved.taken_left);
    const double right = total_mm(moved.put_right) - total_mm(moved.taken_right);
    return a.test.skew_rad->value + (right - left) / a.test.drawing.fence.span_mm();
}

Besides besides_of(const session::Findings& findings, const session::Seen& seen) {
    Besides b;
    for (const diagnose::Contradiction& c : findings.diagnosis.contradictions) {
        if (c.settled) continue;
        b.contradicts.push_back(session::sentence_of(c));
        const auto& touches = c.touches;
        b.of_the_fence =
            b.of_the_fence || std::find(touches.begin(), touches.end(), shop::Fault::fence_skew) != touches.end();
    }
    const auto fence = fence_verdict(seen);
    const bool changes = fence && fence->verdict.changes;
    b.agree = b.contradicts.empty() && !changes && session::holding(seen).size() > 1;
    b.look_alikes = session::rivals_of(findings, shop::Fault::fence_skew);
    b.check = apart(b.look_alikes, findings, seen);
    const bool tells_apart = b.check.has_value();
    // Once the fence is proved and nothing looks like it, no check is urged on anybody.
    const bool proved = fence && fence->verdict.state == diagnose::State::pass && b.look_alikes.empty();
    if (!b.check && findings.next && !proved) b.check = findings.next->check;
    if (b.check) b.minutes = measure::info(*b.check).minutes;
    if (!b.look_alikes.empty()) {
        std::vector<std::string> names;
        for (const shop::Fault f : b.look_alikes) names.push_back(fmt::format("\"{}\"", session::name_of(f)));
        b.says =
            fmt::format("With what was read so far {} would look the same as a fence off square.", base::listed(names));
    }
    if (b.check)
        b.says += fmt::format("{}{}: {}, {:.0f} minutes.", b.says.empty() ? "" : " ",
                              tells_apart ? "The cheapest check against it" : "The check that would tell most",
                              measure::info(*b.check).title, b.minutes);
    return b;
}

namespace {

/// The number of the entry behind each report of session::holding, in its order.
std::vector<int> entries_behind(const OwnHistory& own) {
    std::vector<session::Note> notes = session::notes_of(own.history.seen());
    std::erase_if(notes, [](const session::Note& n) { return !n.holds(); });
    std::stable_sort(notes.begin(), notes.end(), [](const session::Note& a, const session::Note& b) {
        return a.report.occasion.clamped_again < b.report.occasion.clamped_again;
    });
    std::vector<int> entries;
    for (const session::Note& n : notes) entries.push_back(entry_of(own, n));
    return entries;
}

}  // namespace

Besides besides_of(const session::Findings& findings, const OwnHistory& own, const Sled& sled, Date today) {
    Besides b = besides_of(findings, own.history.seen());
    const std::vector<int> entries = entries_behind(own);
    std::size_t i = 0;
    for (const diagnose::Contradiction& c : findings.diagnosis.contradictions) {
        if (c.settled) continue;
        const Entry* e = c.report < entries.size() ? find_entry(sled, entries[c.report]) : nullptr;
        const std::string by_number = fmt::format("(check {} of the list)", c.report + 1);
        std::string& says = b.contradicts.at(i++);
        const std::size_t at = says.find(by_number);
        if (e != nullptr && at != std::string::npos)
            says.replace(at, by_number.size(), fmt::format("of {} (entry {})", in_words(e->date, today), e->number));
    }
    return b;
}

std::optional<session::FenceVerdict> fence_verdict(const session::Seen& seen) {
    return session::verdict_on_typed_tests(seen);
}

std::string verdict_words(const session::FenceVerdict& v, Units units) {
    const diagnose::Verdict& verdict = v.verdict;
    const bool pass = verdict.state == diagnose::State::pass;
    const std::string off = session::off_by(std::abs(verdict.mean_rad), verdict.coverage95, units);
    const std::string tests =
        v.tests > 1 ? fmt::format("All {} tests of the fence as it stands", v.tests) : "This test";
    if (v.tests > 1 && verdict.changes && !pass)
        return fmt::format("{} differ by more than on a good saw: something changes between them. Together: {}.", tests,
                           off);
    const char* counting = "counting sawdust, the hand and play";
    switch (verdict.state) {
        case diagnose::State::pass: return fmt::format("{}, {}: square enough, {}.", tests, counting, off);
        case diagnose::State::fail: return fmt::format("{}, {}: not square enough, {}.", tests, counting, off);
        case diagnose::State::undecided: break;
    }
    if (v.tests > 1) return fmt::format("{}, {}: not decided yet, {}.", tests, counting, off);
    return fmt::format("One test does not decide it yet: {} once sawdust, the hand and play are counted.", off);
}

}  // namespace offsquare::saws
