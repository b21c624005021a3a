#include "session/hunt_words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "cut/face_marks.h"
#include "session/repair.h"
#include "session/story.h"

namespace offsquare::session {
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
    const bool within = c.lo >= -tolerance_rad && c.hi <= tolerance_rad;
    const bool outside = c.lo > tolerance_rad || c.hi < -tolerance_rad;
    const char* word = within ? "within the tolerance" : outside ? "out of tolerance" : "not clear of the tolerance";
    return fmt::format("The corner is off by {}, give or take {} (95 %): {}. {} is allowed.",
                       base::show_angle_short(skew.value, units), base::show_angle_short(0.5 * (c.hi - c.lo), units),
                       word, base::show_angle(tolerance_rad, units));
}

std::string in_100(double probability) { return fmt::format("{:.0f} in 100", 100.0 * probability); }

}  // namespace

std::string name_of_reading(std::string_view what) {
    std::string name(what);
    std::replace(name.begin(), name.end(), '_', ' ');
    return name;
}

NoteWords words_of(const Note& note, std::size_t number, Units units) {
    NoteWords words{fmt::format("{}  {}", number, measure::info(note.report.occasion.check).title),
                    {},
                    note.typed ? "typed by hand" : "",
                    {}};
    for (const measure::CheckReading& r : note.report.readings)
        words.readings.push_back({name_of_reading(r.what), with_interval(r, units)});
    if (!note.holds)
        words.set_aside = note.set_aside_by ? fmt::format("No longer holds: \"{}\" was put right after it.",
                                                          name_of(*note.set_aside_by))
                                            : std::string("No longer holds.");
    return words;
}

std::vector<measure::CheckReport> holding(std::span<const Note> notes) {
    std::vector<measure::CheckReport> reports;
    for (const Note& note : notes) {
        if (note.holds) reports.push_back(note.report);
    }
    std::stable_sort(reports.begin(), reports.end(),
                     [](const auto& a, const auto& b) { return a.occasion.clamped_again < b.occasion.clamped_again; });
    return reports;
}

std::string symptom(const Trial& trial, std::span<const Note> notes, Units units) {
    if (!trial.tests.empty() && trial.tests.back().verdict) return verdict_sentence(trial.tests.back(), units);
    const shop::Drawing& d = trial.scenario.drawing;
    for (auto note = notes.rbegin(); note != notes.rend(); ++note) {
        const auto skew = skew_of(note->report, d.board.kept);
        if (skew) return skew_sentence(*skew, d.tolerance_rad, units);
    }
    return "";
}

std::string face_sentence(const Trial& trial, Units units) {
    if (trial.tests.empty() || trial.tests.back().cut.cuts_made == 0) return "";
    const cut::FaceMarks& face = trial.tests.back().face;
    if (face.heel_marks) return "The cut face is cross-hatched: the rear teeth cut again what the front teeth had cut.";
    if (face.step_mm >= cut::visible_mark_mm)
        return fmt::format("There is a step of about {} in the cut face.", base::show_small(face.step_mm, units));
    return "The cut face is clean.";
}

std::vector<std::string> against_repair(const Findings& findings, Fault fault) {
    std::vector<std::string> out;
    const Belief& own = findings.diagnosis.beliefs[static_cast<std::size_t>(fault)];
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

std::vector<Fault> rivals_of(const Findings& findings, Fault fault) {
    std::vector<Fault> out;
    for (const auto& [a, b] : findings.diagnosis.unseparated) {
        if (a != fault && b != fault) continue;
        const Fault other = a == fault ? b : a;
        if (standing_of(findings.diagnosis.beliefs[static_cast<std::size_t>(other)]) == Standing::open)
            out.push_back(other);
    }
    return out;
}

std::string repair_sentence(Fault fault) {
    const double minutes = repair_minutes(fault);
    return fmt::format("{} About {:g} {}.", shop::info(fault).repair, minutes, minutes == 1.0 ? "minute" : "minutes");
}

std::optional<Fault> first_to_repair(const Findings& findings) {
    const Belief* best = nullptr;
    for (const Belief& b : findings.diagnosis.beliefs) {
        if (standing_of(b) == Standing::supported && (best == nullptr || b.probability > best->probability)) best = &b;
    }
    return best == nullptr ? std::nullopt : std::optional(best->fault);
}

Proof proof_of(const Trial& trial, Units units) {
    using State = Proof::State;
    if (trial.tests.empty() || !trial.tests.back().verdict || trial.shims_changed_since_last_test()) {
        return {State::not_cut, "Not proved yet", "A repair counts only when a test was cut after it and passes."};
    }
    const Test& last = trial.tests.back();
    const std::string said = verdict_sentence(last, units);
    if (last.verdict->state == diagnose::State::fail) return {State::failed, "Not square yet", said};
    if (last.verdict->state == diagnose::State::undecided) return {State::undecided, "Not clear yet", said};
    if (last.face.heel_marks)
        return {State::failed, "Square, but the face is marked", said + " " + face_sentence(trial, units)};
    return {State::passed, "Proved", said + " " + face_sentence(trial, units)};
}

std::vector<Action> proof_actions() {
    return {CutTest{}, Read{End::fence, 0.0}, Read{End::far, 0.0}, Read{End::fence, 0.0}, Read{End::far, 0.0},
            WorkOut{}};
}

}  // namespace offsquare::session
