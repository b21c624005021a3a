#include "gui/bench.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "session/advice.h"
#include "session/hunt_words.h"

namespace offsquare::gui {
namespace {

constexpr double seconds_per_cut = 1.4;
constexpr double words_stay = 6.0;  ///< seconds

}  // namespace

Bench::Bench(scenario::Scenario scenario) { open(std::move(scenario)); }

void Bench::open(scenario::Scenario scenario) {
    start_ = std::move(scenario);
    real_saw_ = false;
    seed_ = start_.seed;
    precision_ = measure::Precision::real;
    if (!view.units_chosen) view.units = start_.units;
    history_.clear();
    view.looking_at.reset();
    rerun();
    dirty_ = false;
}

void Bench::open(session::Replay replay) {
    start_ = std::move(replay.log.scenario);
    real_saw_ = replay.log.real_saw;
    seed_ = replay.log.seed;
    precision_ = replay.log.precision;
    if (!view.units_chosen) view.units = start_.units;
    history_.load(std::move(replay.log.actions));
    view.looking_at.reset();
    rerun();
    view.progress = last_cut();
    dirty_ = false;
}

void Bench::open(scenario::Readings readings) {
    open(std::move(readings.scenario));
    real_saw_ = true;
    std::vector<session::Action> typed;
    for (measure::CheckReport& r : readings.reports) {
        const session::FenceStood stood{r.occasion.behind_left_mm, r.occasion.behind_right_mm,
                                        r.occasion.clamped_again};
        typed.push_back(session::TypeReadings{r.occasion.check, std::move(r.readings), stood});
    }
    history_.load(std::move(typed));
    rerun();
    dirty_ = false;
}

void Bench::take_up(session::Replay replay) {
    open(std::move(replay));
    dirty_ = true;
}

void Bench::choose_units(base::Units units) {
    view.units = units;
    view.units_chosen = true;
}

session::Log Bench::log() const { return {start_, seed_, precision_, history_.done(), real_saw_}; }

void Bench::rerun() {
    base::Result<session::Trial> trial = session::run(start_, history_.done(), seed_, precision_);
    if (trial) trial_ = std::move(*trial);
    notes_ = real_saw_ ? session::typed_notes(trial_) : session::all_notes(trial_);
    view.progress = std::min(view.progress, last_cut());
    dirty_ = true;
    ++changes_;
}

void Bench::play_if_new_test(std::size_t tests_before) {
    if (trial_.tests.size() <= tests_before) return;
    view.progress = view.reduced_motion ? last_cut() : 0.0;
    view.playing = !view.reduced_motion;
    in_from_end = {0.0, 0.0};
}

bool Bench::act(const session::Action& action) {
    std::vector<session::Action> actions = history_.done();
    actions.push_back(action);
    const base::Result<session::Trial> trial = session::run(start_, actions, seed_, precision_);
    if (!trial) {
        say(trial.error().message, true);
        return false;
    }
    const std::size_t tests_before = trial_.tests.size();
    history_.add(action);
    rerun();
    view.looking_at.reset();
    play_if_new_test(tests_before);
    return true;
}

void Bench::undo() {
    if (!history_.can_undo()) return say("There is nothing to undo.");
    say("Undone: " + session::sentence_of(history_.done().back(), trial_.scenario.drawing, view.units));
    history_.undo();
    rerun();
    view.progress = last_cut();
    view.playing = false;
}

void Bench::redo() {
    if (!history_.can_redo()) return say("There is nothing to redo.");
    history_.redo();
    say("Done again: " + session::sentence_of(history_.done().back(), trial_.scenario.drawing, view.units));
    rerun();
    view.progress = last_cut();
    view.playing = false;
}

void Bench::start_again() {
    history_.clear();
    ++seed_;
    rerun();
    view.progress = 0.0;
    view.looking_at.reset();
    say("A fresh start on the same saw.");
}

void Bench::say(std::string text, bool bad) {
    said = std::move(text);
    said_is_bad = bad;
    said_for = words_stay;
}

void Bench::read(session::End end) { act(session::Read{end, in_from_end[end == session::End::fence ? 0 : 1]}); }

void Bench::drop(picture::Handle handle, const picture::Drag& drag) {
    if (drag.in_from_end_mm)
        in_from_end.at(handle == picture::Handle::caliper_fence_end ? 0 : 1) = *drag.in_from_end_mm;
    const std::optional<session::Stage> looking = view.looking_at;
    if (drag.action && act(*drag.action)) view.looking_at = looking;
}

void Bench::cut_the_proof() {
    for (const session::Action& action : session::proof_actions()) {
        if (!act(action)) return;
        view.progress = last_cut();
        view.playing = false;
    }
}

void Bench::put_proposed() {
    if (last_test() == nullptr) return;
    for (const session::Action& action : session::proposed_actions(*last_test())) {
        if (!act(action)) return;
    }
}

void Bench::next_step() {
    if (cutting()) {
        view.progress = last_cut();
        view.playing = false;
        return;
    }
    switch (trial_.stage) {
        case session::Stage::set_up:
        case session::Stage::cut: act(session::CutTest{}); break;
        case session::Stage::read:
            read(last_test() == nullptr || last_test()->fence_end.empty() ? session::End::fence : session::End::far);
            break;
        case session::Stage::work_out: act(session::WorkOut{}); break;
        case session::Stage::shim: put_proposed(); break;
        case session::Stage::prove:
            if (!trial_.proved) act(session::CutTest{});
            break;
    }
}

session::Now Bench::now() const {
    if (!cutting()) return session::now(trial_);
    const int cut = std::min(5, static_cast<int>(view.progress) + 1);
    const char* what = cut == 1  ? "This cut only makes the first straight edge."
                       : cut < 5 ? "The fresh edge lies on the fence. Each turn adds the same corner error once more."
                                 : "The last cut takes a strip off. Its two ends show all four corner errors added.";
    return {fmt::format("Cut {} of 5", cut), what, "Show the strip"};
}

session::ClassWords Bench::class_words() const {
    const int running = cutting() ? std::min(5, static_cast<int>(view.progress) + 1) : 0;
    return session::class_words(trial_, running, view.units);
}

void Bench::show_class(bool on) {
    view.for_class = on;
    view.looking_at.reset();
    if (on) say("Class view. N is the next step; C or Escape leaves.");
    else said_for = 0.0;
}

double Bench::exaggeration() const {
    return view.exaggeration > 0.0 ? view.exaggeration : picture::fitting_exaggeration(trial_);
}

picture::ViewOptions Bench::options() const {
    picture::ViewOptions o;
    o.units = view.units;
    o.exaggeration = exaggeration();
    o.reveal = view.reveal;
    if (stage() == session::Stage::set_up) {
        o.grips = true;
        o.cut = 0;
        o.travel = 0.0;
        return o;
    }
    const double whole = std::floor(view.progress);
    const bool running = view.progress < last_cut();
    o.cut = static_cast<int>(running ? whole + 1.0 : whole);
    o.travel = running ? view.progress - whole : 1.0;
    const bool strip_lies_there = strip() != nullptr && !running && !trial_.shims_changed_since_last_test();
    if (strip_lies_there && trial_.stage <= session::Stage::work_out) {
        o.fence_station_mm = in_from_end[0];
        o.far_station_mm = in_from_end[1];
    }
    return o;
}

void Bench::tick(double seconds) {
    said_for = std::max(0.0, said_for - seconds);
    if (!view.playing) return;
    view.progress = std::min(last_cut(), view.progress + seconds / seconds_per_cut);
    if (view.progress >= last_cut()) view.playing = false;
}

}  // namespace offsquare::gui
