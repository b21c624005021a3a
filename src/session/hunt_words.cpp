#include "session/hunt_words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "cut/face_marks.h"
#include "measure/going.h"
#include "session/next.h"
#include "session/repair.h"
#include "session/story.h"

namespace offsquare::session {

std::string sentence_of(const Ended& ended) {
    switch (ended.why) {
        case Ended::Why::repaired:
            return fmt::format("No longer holds: \"{}\" was put right after it.", name_of(*ended.fault));
        case Ended::Why::shimmed: return "No longer holds: other shims were put behind the fence after it.";
        case Ended::Why::jammed:
            return "No longer holds: the sled has jammed since, so something else is "
                   "there now.";
        case Ended::Why::freed: return "No longer holds: the sled went after it.";
        case Ended::Why::value_set: break;
    }
    return fmt::format("No longer holds: {} was changed after it.", ended.key);
}

namespace {

using base::Units;
using diagnose::Belief;
using shop::Fault;

std::string with_interval(const measure::CheckReading& r, Units units) {
    const base::Interval c = base::coverage({r.value, r.u});
    const double half = 0.5 * (c.hi - c.lo);
    const auto show = [&](double x) {
        return r.unit == shop::FaultUnit::mm ? base::show_reading(x, units) : base::show_angle_short(x, units);
    };
    return r.u > 0.0 ? fmt::format("{} ± {}", show(r.value), show(half)) : show(r.value);
}

const measure::CheckReading* reading(const measure::CheckReport& report, std::string_view what) {
    const auto it =
        std::find_if(report.readings.begin(), report.readings.end(), [&](const auto& r) { return r.what == what; });
    return it == report.readings.end() ? nullptr : &*it;
}

/// The skew that one five-cut test of the notebook tells, as the job works it out.
std::optional<base::Uncertain> skew_of(const measure::CheckReport& report, shop::Side kept) {
    const auto* fence = reading(report, "fence_end");
    const auto* far = reading(report, "far_end");
    const auto* length = reading(report, "length");
    if (fence == nullptr || far == nullptr || length == nullptr) return std::nullopt;
    const shop::Side fell = kept == shop::Side::left ? shop::Side::right : shop::Side::left;
    return diagnose::skew_from_strip(
        {{fence->value, fence->u}, {far->value, far->u}, {length->value, length->u}, fell});
}

std::string skew_sentence(const base::Uncertain& skew, double tolerance_rad, Units units) {
    const base::Interval c = base::coverage(skew);
    const auto word = [&] {
        switch (diagnose::state_of(c, tolerance_rad)) {
            case diagnose::State::pass: return "within the tolerance";
            case diagnose::State::fail: return "out of tolerance";
            case diagnose::State::undecided: break;
        }
        return "not clear of the tolerance";
    };
    return fmt::format("By this strip alone the corner is off by {}, give or take {} (95 %): {}. {} is allowed.",
                       base::show_angle_short(skew.value, units), base::show_angle_number(0.5 * (c.hi - c.lo), units),
                       word(), base::show_angle(tolerance_rad, units));
}

std::string ended_words(const std::optional<Ended>& ended) { return ended ? sentence_of(*ended) : std::string(); }

/// The fence as it stands, with all that is behind it, is what can be off square: shims are told as far as they differ
/// from those that stand there now.
measure::CheckReport as_the_fence_stands(measure::CheckReport report, const Seen& seen) {
    const double left_now = marked_mm(seen.behind_left);
    const double right_now = marked_mm(seen.behind_right);
    if (left_now == 0.0 && right_now == 0.0) return report;
    measure::Occasion& o = report.occasion;
    const double turned = (o.behind_right_mm - right_now) - (o.behind_left_mm - left_now);
    o.behind_left_mm = std::max(0.0, -turned);
    o.behind_right_mm = std::max(0.0, turned);
    return report;
}

bool is_eased(Fault fault, bool jams) { return jams && (fault == Fault::left_play || fault == Fault::right_play); }

std::string how_repaired(Fault fault, bool jams) {
    return is_eased(fault, jams) ? "Unplug the saw and take the sled off. Plane or scrape the runner, a little at a "
                                   "time, until the sled slides freely over its whole travel."
                                 : std::string(shop::info(fault).repair);
}

NextWords free_next(Fault fault) {
    return {"Next: " + lower_first(repair_heading(fault, true)), "the sled jams, and no reading names a surer cause."};
}

NextWords check_next_words(const NextCheck& next) {
    return {fmt::format("Next: {}", measure::info(next.check).title), fmt::format("because {}.", next.why)};
}

NextWords repair_next_words(const Findings& findings, Fault fault) {
    const auto& next = findings.next;
    return {fmt::format("Next: put right \"{}\"", name_of(fault)),
            next ? fmt::format("or check on: {}, because {}.", measure::info(next->check).title, next->why)
                 : std::string()};
}

std::string in_100(double probability) { return fmt::format("{:.0f} in 100", 100.0 * probability); }

}  // namespace

std::string name_of_reading(std::string_view what) {
    std::string name(what);
    std::replace(name.begin(), name.end(), '_', ' ');
    return name;
}

NoteWords words_of(const Note& note, std::size_t number, const shop::Drawing& drawing, Units units) {
    NoteWords words{fmt::format("{}  {}", number, measure::info(note.report.occasion.check).title),
                    {},
                    note.typed ? "typed by hand" : "",
                    {}};
    const bool push = note.report.occasion.check == measure::Check::push_through;
    for (const measure::CheckReading& r : note.report.readings)
        words.readings.push_back({name_of_reading(r.what),
                                  push ? measure::words_of_went(r.value, drawing, units) : with_interval(r, units)});
    words.set_aside = ended_words(note.ended);
    return words;
}

std::vector<measure::CheckReport> holding(const Seen& seen) {
    std::vector<measure::CheckReport> reports;
    for (const Note& note : notes_of(seen)) {
        if (note.holds()) reports.push_back(as_the_fence_stands(note.report, seen));
    }
    std::stable_sort(reports.begin(), reports.end(),
                     [](const auto& a, const auto& b) { return a.occasion.clamped_again < b.occasion.clamped_again; });
    return reports;
}

std::string symptom(const Seen& seen, Units units) {
    if (jams(seen)) return jam_sentence(seen, units);
    if (seen.last_test() != nullptr && seen.last_test()->verdict) return verdict_sentence(*seen.last_test(), units);
    const std::vector<Note> notes = notes_of(seen);
    for (auto note = notes.rbegin(); note != notes.rend(); ++note) {
        const auto skew = skew_of(note->report, seen.drawing.board.kept);
        if (skew) return skew_sentence(*skew, seen.drawing.tolerance_rad, units);
    }
    return "";
}

std::string face_sentence(const Seen& seen, Units units) {
    if (seen.last_test() == nullptr || seen.last_test()->cuts_made == 0) return "";
    const cut::FaceMarks& face = seen.last_test()->face;
    if (face.heel_marks && face.heel_on) {
        const bool kept = *face.heel_on == seen.last_test()->drawing.board.kept;
        return fmt::format(
            "The face of {} is the rougher, its arcs run the other way: the rear teeth have cut all of "
            "it again.",
            kept ? "the kept piece" : "the offcut");
    }
    if (face.step_mm >= cut::visible_mark_mm)
        return fmt::format("There is a step of about {} in the cut face.", base::show_small(face.step_mm, units));
    return "The cut face is clean.";
}

std::vector<std::string> against_repair(const Findings& findings, Fault fault) {
    std::vector<std::string> out;
    const Belief& own = findings.diagnosis.beliefs[static_cast<std::size_t>(fault)];
    if (own.disputed) out.push_back("A reading that touches this fault contradicts the others.");
    if (!own.touched) out.push_back("No reading that still holds has looked at this fault.");
    else if (standing_of(own) == Standing::ruled_out) out.push_back("The readings rule this fault out.");
    else if (standing_of(own) == Standing::open)
        out.push_back(fmt::format("Not sure yet: {}. A check first may save the work.", in_100(own.probability)));
    for (const Fault rival : rivals_of(findings, fault)) {
        const Belief& b = findings.diagnosis.beliefs[static_cast<std::size_t>(rival)];
        out.push_back(fmt::format("A rival is still open: \"{}\", {}.", name_of(rival), in_100(b.probability)));
    }
    return out;
}

std::string repair_heading(Fault fault, bool jams) {
    if (!is_eased(fault, jams)) return fmt::format("Put right: {}", name_of(fault));
    return fmt::format("Ease the {} runner", fault == Fault::left_play ? "left" : "right");
}

std::string repair_sentence(Fault fault, bool jams) {
    const double minutes = repair_minutes(fault);
    return fmt::format("{} About {:g} {}.", how_repaired(fault, jams), minutes, minutes == 1.0 ? "minute" : "minutes");
}

NextWords next_words(const Findings& findings) {
    const auto ripe = ripe_for_repair(findings);
    if (findings.diagnosis.jams() && !ripe && !findings.next) return free_next(likeliest_jam(findings, {}));
    if (ripe) return repair_next_words(findings, *ripe);
    if (!findings.next) return {"No further check would tell much.", ""};
    return check_next_words(*findings.next);
}

NextWords next_words(const Next& next, const Findings& findings) {
    const bool repairs = next.todo == Todo::repair || next.todo == Todo::repair_there;
    if (repairs && findings.diagnosis.jams() && first_to_repair(findings) != next.fault) return free_next(*next.fault);
    if (repairs) return repair_next_words(findings, *next.fault);
    if (next.check && findings.next && findings.next->check == *next.check) return check_next_words(*findings.next);
    return {};
}

std::string let_be_words(const Findings& findings) {
    std::string names;
    for (const Belief& b : findings.diagnosis.beliefs) {
        if (standing_of(b) == Standing::supported)
            names += fmt::format("{}\"{}\"", names.empty() ? "" : ", ", name_of(b.fault));
    }
    return names;
}

ProofWords proof_words(const Seen& seen, Units units) {
    if (jams(seen)) return {"Not proved yet", jam_sentence(seen, units) + " Nothing can be cut until it goes."};
    if (proof_of(seen) == Proved::not_cut)
        return {"Not proved yet", "A repair counts only when a test was cut after it and passes."};
    const std::string said = verdict_sentence(*seen.last_test(), units);
    switch (proof_of(seen)) {
        case Proved::failed: return {"Not square yet", said};
        case Proved::undecided: return {"Not clear yet", said};
        case Proved::changing: return {"Something changes between tests", said};
        case Proved::marked: return {"Square, but the face is marked", said + " " + face_sentence(seen, units)};
        case Proved::passed:
        case Proved::not_cut: break;
    }
    return {"Proved", said + " " + face_sentence(seen, units)};
}

std::vector<DeedWords> what_was_done(const Seen& seen, Units units) {
    std::vector<std::pair<std::size_t, DeedWords>> deeds;
    for (const Test& test : seen.tests) {
        if (test.verdict)
            deeds.push_back({test.event, {"Test", verdict_in_short(test, units), ended_words(test.ended)}});
        if (test.outcome != cut::Outcome::done)
            deeds.push_back({test.event, {"Test", std::string(cut::sentence_of(test.outcome)), ""}});
    }
    for (const RepairNote& r : seen.repairs) {
        const std::string how = r.by_shims ? "Shims behind the fence." : how_repaired(r.fault, r.eased);
        deeds.push_back(
            {r.event, {repair_heading(r.fault, r.eased), how, r.of_this_set_up ? "" : "A value was changed since."}});
    }
    std::stable_sort(deeds.begin(), deeds.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<DeedWords> words;
    for (auto& [event, deed] : deeds) words.push_back(std::move(deed));
    return words;
}

}  // namespace offsquare::session
