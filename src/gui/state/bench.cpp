#include "gui/state/bench.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "session/reveal.h"

namespace offsquare::gui {
namespace {

constexpr double seconds_per_cut = 1.4;
constexpr double words_stay = 6.0;  ///< seconds

}  // namespace

Bench::Bench(scenario::Scenario scenario) : history_(scenario) { open(std::move(scenario)); }

void Bench::start(session::History history) {
    history_ = std::move(history);
    if (!view.units_chosen) view.units.system = history_.start().units.system;
    view.looking_at.reset();
    view.exaggeration = 0.0;
    held_at_.reset();
    changed();
    dirty_ = false;
}

void Bench::open(scenario::Scenario scenario) { start(session::History(scenario)); }

void Bench::open(session::Replay replay) {
    start(std::move(replay.history));
    view.progress = last_cut();
}

void Bench::open(scenario::Readings readings) {
    session::History history(readings.scenario, readings.scenario.seed, measure::Precision::real, true);
    for (measure::CheckReport& r : readings.reports) {
        const session::FenceStood stood{r.occasion.behind_left_mm, r.occasion.behind_right_mm,
                                        r.occasion.clamped_again};
        if (auto typed = history.act(session::TypeReadings{r.occasion.check, std::move(r.readings), stood}); !typed)
            say(typed.error().message, true);
    }
    start(std::move(history));
}

void Bench::take_up(session::Replay replay) {
    open(std::move(replay));
    dirty_ = true;
}

void Bench::choose_units(base::Units::System system) {
    view.units.system = system;
    view.units_chosen = true;
}

void Bench::changed() {
    next_ = session::next_in_job(seen());
    notes_ = session::notes_of(seen());
    revealed_ = view.reveal ? std::make_shared<const session::Revealed>(session::reveal(history_)) : nullptr;
    view.progress = std::min(view.progress, last_cut());
    dirty_ = true;
    ++changes_;
}

std::shared_ptr<const session::Revealed> Bench::revealed() const {
    if (!view.reveal) return nullptr;
    return revealed_ ? revealed_ : std::make_shared<const session::Revealed>(session::reveal(history_));
}

void Bench::play_if_new_test(std::size_t tests_before) {
    if (seen().tests.size() <= tests_before) return;
    view.progress = view.reduced_motion ? last_cut() : 0.0;
    view.playing = !view.reduced_motion;
    in_from_end = {0.0, 0.0};
}

bool Bench::act(std::span<const session::Action> intention) {
    const std::size_t tests_before = seen().tests.size();
    if (const auto done = history_.act(intention); !done) {
        say(base::said_in(done.error().message, view.units), true);
        return false;
    }
    changed();
    view.looking_at.reset();
    play_if_new_test(tests_before);
    return true;
}

void Bench::undo() {
    if (!history_.can_take_back()) return say("There is nothing to undo.");
    std::string what = history_.last_intention(view.units);
    if (const auto done = history_.take_back(); !done) return say(done.error().message, true);
    say("Undone: " + what);
    changed();
    view.progress = last_cut();
    view.playing = false;
}

void Bench::redo() {
    if (!history_.can_do_again()) return say("There is nothing to redo.");
    std::string what = history_.next_intention(view.units);
    if (const auto done = history_.do_again(); !done) return say(done.error().message, true);
    say("Done again: " + what);
    changed();
    view.progress = last_cut();
    view.playing = false;
}

void Bench::start_again() {
    history_ = session::History(history_.start(), seen().seed + 1, seen().precision, seen().real_saw, seen().grain);
    changed();
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
    const std::vector<session::Action> whole = session::proof_intention();
    if (!act(whole.front())) return;
    view.progress = last_cut();
    view.playing = false;
    // One intention with the cut, as far as it goes: where no strip came of it there is nothing to read.
    for (std::size_t i = 1; i < whole.size() && has_strip(); ++i) {
        session::Entry entry(whole[i]);
        entry.joins = true;
        if (const auto done = history_.add(entry); !done) return say(done.error().message, true);
    }
    changed();
}

bool Bench::next_step() {
    if (cutting()) {
        view.progress = last_cut();
        view.playing = false;
        return false;
    }
    if (next_.intention.empty())
        return next_.todo != session::Todo::done || session::proof_of(seen()) == session::Proved::marked;
    if (next_.todo == session::Todo::read_fence_end) read(session::End::fence);
    else if (next_.todo == session::Todo::read_far_end) read(session::End::far);
    else act(next_.intention);
    return false;
}

session::Now Bench::now() const {
    if (!cutting()) return session::words_of(next_, seen(), view.units);
    const int cut = std::min(5, static_cast<int>(view.progress) + 1);
    const char* what =
        cut == 1  ? "This cut only makes the first straight edge."
        : cut < 5 ? "The fresh edge lies on the fence. Each turn adds the same corner error once more."
                  : "The last cut takes a strip off, which lies where it fell until the blade has stopped. Its two "
                    "ends show all four corner errors added.";
    return {fmt::format("Cut {} of 5", cut), what, "Show the strip"};
}

session::ClassWords Bench::class_words() const {
    const int running = cutting() ? std::min(5, static_cast<int>(view.progress) + 1) : 0;
    return session::class_words(seen(), running, view.units);
}

void Bench::show_class(bool on) {
    view.for_class = on;
    view.looking_at.reset();
    if (on) say("Class view. N is the next step; C or Escape leaves.");
    else said_for = 0.0;
}

double Bench::exaggeration() const {
    return view.exaggeration > 0.0 ? view.exaggeration : picture::job_exaggeration(seen(), revealed());
}

picture::ViewOptions Bench::options() const {
    picture::ViewOptions o;
    o.units = view.units;
    o.exaggeration = exaggeration();
    o.revealed = revealed();
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
    const bool strip_lies_there = has_strip() && !running && !seen().shims_changed_since_last_test;
    if (strip_lies_there && present_stage() <= session::Stage::work_out) {
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
