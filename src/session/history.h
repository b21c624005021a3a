// The history of a session: what was done at the saw, in order. Nothing is erased. What is taken back stays in the
// record as taken back, so that a later rule ("a reading is not unread") can be put on top.
//
//     scenario + seed + record -> State, a pure function; here it is reached step by step, and what was reached is kept
//     at intervals, so that taking back and going on cost what changed and not the whole list.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "scenario/scenario.h"
#include "session/seen.h"

namespace offsquare::session {

struct Saw;

/// One line of the record: something done, or the last intention taken back, or what was taken back done again.
struct Entry {
    enum class Kind { act, take_back, again };

    Kind kind = Kind::act;
    Action action;            ///< act: what was done
    bool joins = false;       ///< act: it belongs to the intention of the act before it (a whole stack, a proof)
    bool taken_back = false;  ///< act: so it stands in the record now; whoever makes a record leaves it false

    Entry() = default;
    /// An act that is an intention of its own.
    template <class A>
    requires std::is_constructible_v<Action, A&&> Entry(A&& done) : action(std::forward<A>(done)) {}
    static Entry taking_back();
    static Entry doing_again();
};

/// More entries than this are refused, so that whatever can be done can also be saved and replayed: more than a person
/// makes, more than the longest job of the command line, and few enough that a hostile file cannot keep a processor
/// busy for long.
inline constexpr std::size_t most_entries = 10000;

class History {
public:
    explicit History(const scenario::Scenario& scenario);  ///< with the scenario's own seed, read as a person reads
    History(const scenario::Scenario& scenario, std::uint64_t seed,
            measure::Precision precision = measure::Precision::real, bool real_saw = false,
            cut::Grain grain = cut::Grain::fine);

    const Seen& seen() const;
    const scenario::Scenario& start() const { return start_; }  ///< before anything was done
    const scenario::Scenario& scenario() const;  ///< with the values that were set; its errors are sealed
    const std::vector<Entry>& record() const { return record_; }
    /// What was done and is not taken back.
    std::vector<Action> actions() const;

    /// One intention: all of it, or, with the reason, nothing. It ends with a test of which no strip comes: what was to
    /// be done with the strip is left out. Grade::usage.
    base::Result<void> act(std::span<const Action> intention);
    base::Result<void> act(const Action& action) { return act(std::span(&action, 1)); }

    bool can_take_back() const { return !intentions_.empty(); }
    bool can_do_again() const { return !undone_.empty(); }
    /// Takes back the last intention that stands. Refused (Grade::usage): there is none.
    base::Result<void> take_back();
    base::Result<void> do_again();
    /// The intention that take_back or do_again would move, in one sentence; empty: none.
    std::string last_intention(base::Units units) const;
    std::string next_intention(base::Units units) const;

    /// The same as one entry of a record. Grade::usage.
    base::Result<void> add(const Entry& entry);

private:
    friend const Saw& saw_of(const History& history);
    struct Milestone {
        std::size_t done = 0;  ///< how many actions stand before it
        std::shared_ptr<const State> state;
    };
    using Intention = std::vector<std::size_t>;  ///< entries of the record

    base::Result<void> room_for(std::size_t entries) const;
    struct Reached {
        std::shared_ptr<const State> state;
        std::size_t done = 0;  ///< actions of the list
    };
    base::Result<Reached> reached(std::span<const Action> more) const;
    void reach(std::shared_ptr<const State> state, std::size_t done);
    void go_back_to(std::size_t done);
    std::string sentence_of_all(const Intention& intention, base::Units units) const;

    scenario::Scenario start_;
    std::vector<Entry> record_;
    std::vector<Intention> intentions_;  ///< that stand, in order
    std::vector<Intention> undone_;      ///< the next to be done again last
    std::size_t done_ = 0;               ///< actions that stand
    std::shared_ptr<const State> now_;
    std::vector<Milestone> milestones_;  ///< by increasing `done`; the first is the start
};

/// The whole list, each action an intention of its own.
base::Result<History> run(const scenario::Scenario& scenario, std::span<const Action> actions, std::uint64_t seed,
                          measure::Precision precision = measure::Precision::real);

}  // namespace offsquare::session
