#include "session/history.h"

#include <algorithm>

#include <fmt/format.h>

#include "session/state.h"

namespace offsquare::session {
namespace {

using base::fail;
using base::Grade;
using base::Result;

/// Every one of so many last steps is kept, of earlier ones each so many.
constexpr std::size_t kept_whole = 32;
constexpr std::size_t kept_each = 32;

/// The last thing that was done is a test of which no strip came.
bool nothing_to_read(const Seen& seen) {
    const Test* test = seen.last_test();
    return test != nullptr && test->event == seen.events.size() && test->outcome != cut::Outcome::done;
}

std::shared_ptr<const State> kept(State state) { return std::make_shared<const State>(std::move(state)); }

}  // namespace

Entry Entry::taking_back() {
    Entry entry;
    entry.kind = Kind::take_back;
    return entry;
}

Entry Entry::doing_again() {
    Entry entry;
    entry.kind = Kind::again;
    return entry;
}

History::History(const scenario::Scenario& scenario) : History(scenario, scenario.seed) {}

History::History(const scenario::Scenario& scenario, std::uint64_t seed, measure::Precision precision, bool real_saw,
                 cut::Grain grain)
    : start_(scenario), now_(kept(start_of(scenario, seed, precision, real_saw, grain))), milestones_{{0, now_}} {}

const Seen& History::seen() const { return now_->seen; }

const scenario::Scenario& History::scenario() const { return now_->saw.scenario; }

const Saw& saw_of(const History& history) { return history.now_->saw; }

std::vector<Action> History::actions() const {
    std::vector<Action> standing;
    for (const Intention& intention : intentions_)
        for (const std::size_t i : intention) standing.push_back(record_[i].action);
    return standing;
}

Result<void> History::room_for(std::size_t entries) const {
    if (record_.size() + entries <= most_entries) return {};
    return fail(Grade::usage, fmt::format("a session holds {} actions at most, and this one has as many; save it, then "
                                          "start again",
                                          most_entries));
}

Result<History::Reached> History::reached(std::span<const Action> more) const {
    Reached all{now_, 0};
    for (const Action& action : more) {
        if (all.done > 0 && nothing_to_read(all.state->seen)) return all;
        auto next = after(*all.state, action);
        if (!next) return tl::unexpected(std::move(next.error()));
        all = {kept(std::move(*next)), all.done + 1};
    }
    return all;
}

void History::reach(std::shared_ptr<const State> state, std::size_t done) {
    now_ = std::move(state);
    done_ = done;
    milestones_.push_back({done_, now_});
    // Of those that are no longer among the last ones only some are kept.
    if (milestones_.size() <= kept_whole) return;
    const std::size_t old = milestones_.size() - 1 - kept_whole;
    const bool spare = old > 0 && milestones_[old].done / kept_each == milestones_[old - 1].done / kept_each;
    if (spare) milestones_.erase(milestones_.begin() + static_cast<std::ptrdiff_t>(old));
}

Result<void> History::act(std::span<const Action> intention) {
    if (intention.empty()) return {};
    if (auto room = room_for(intention.size()); !room) return room;
    auto all = reached(intention);
    if (!all) return tl::unexpected(std::move(all.error()));
    Intention entries;
    for (const Action& action : intention.first(all->done)) {
        Entry entry(action);
        entry.joins = !entries.empty();
        entries.push_back(record_.size());
        record_.push_back(std::move(entry));
    }
    intentions_.push_back(std::move(entries));
    undone_.clear();
    reach(std::move(all->state), done_ + all->done);
    return {};
}

void History::go_back_to(std::size_t done) {
    while (milestones_.back().done > done) milestones_.pop_back();
    const Milestone from = milestones_.back();
    now_ = from.state;
    done_ = from.done;
    if (done_ == done) return;
    const std::vector<Action> all = actions();
    for (std::size_t i = from.done; i < done; ++i) {
        // It was possible when it was done, and nothing before it has changed.
        reach(kept(after(*now_, all[i]).value()), i + 1);
    }
}

Result<void> History::take_back() {
    if (intentions_.empty()) return fail(Grade::usage, "there is nothing to take back");
    if (auto room = room_for(1); !room) return room;
    Intention last = std::move(intentions_.back());
    intentions_.pop_back();
    for (const std::size_t i : last) record_[i].taken_back = true;
    record_.push_back(Entry::taking_back());
    go_back_to(done_ - last.size());
    undone_.push_back(std::move(last));
    return {};
}

Result<void> History::do_again() {
    if (undone_.empty()) return fail(Grade::usage, "there is nothing to do again");
    if (auto room = room_for(1); !room) return room;
    std::vector<Action> actions;
    for (const std::size_t i : undone_.back()) actions.push_back(record_[i].action);
    auto all = reached(actions);
    if (!all) return tl::unexpected(std::move(all.error()));
    for (const std::size_t i : undone_.back()) record_[i].taken_back = false;
    record_.push_back(Entry::doing_again());
    intentions_.push_back(std::move(undone_.back()));
    undone_.pop_back();
    reach(std::move(all->state), done_ + all->done);
    return {};
}

Result<void> History::add(const Entry& entry) {
    switch (entry.kind) {
        case Entry::Kind::take_back: return take_back();
        case Entry::Kind::again: return do_again();
        case Entry::Kind::act: break;
    }
    if (!entry.joins) return act(entry.action);
    if (intentions_.empty() || record_.back().kind != Entry::Kind::act)
        return fail(Grade::usage, "an action that belongs to the one before it must follow it");
    if (auto done = act(entry.action); !done) return done;
    record_.back().joins = true;
    const std::size_t joined = intentions_.back().front();
    intentions_.pop_back();
    intentions_.back().push_back(joined);
    return {};
}

std::string History::sentence_of_all(const Intention& intention, base::Units units) const {
    const Entry& first = record_[intention.front()];
    std::string text = sentence_of(first.action, now_->seen.drawing, units);
    if (intention.size() == 1) return text;
    const std::size_t more = intention.size() - 1;
    return fmt::format("{} And {} {} with it.", text, more, more == 1 ? "step more" : "steps more");
}

std::string History::last_intention(base::Units units) const {
    return intentions_.empty() ? std::string() : sentence_of_all(intentions_.back(), units);
}

std::string History::next_intention(base::Units units) const {
    return undone_.empty() ? std::string() : sentence_of_all(undone_.back(), units);
}

Result<History> run(const scenario::Scenario& scenario, std::span<const Action> actions, std::uint64_t seed,
                    measure::Precision precision) {
    History history(scenario, seed, precision);
    for (const Action& action : actions) {
        if (Result<void> done = history.act(action); !done) return tl::unexpected(std::move(done.error()));
    }
    return history;
}

}  // namespace offsquare::session
