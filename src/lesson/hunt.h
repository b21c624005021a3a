// One attempt at a case: whom the person suspected and how sure, what was done at the saw, what help was asked for, and
// how it was closed, in order. The rules of practice stand on top of session/history.h: nothing is taken back (a
// reading is not unread, a minute does not come back), no value is set, nothing is typed that was not read here, and
// what the case may cost ends it.
//
//     scenario + seed + moves -> Hunt, a pure function
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "session/history.h"

namespace offsquare::lesson {

struct Suspect {
    shop::Fault fault = shop::Fault::fence_skew;
    int sure = 50;  ///< that it is there, of 100; 0 to 100
    friend bool operator==(const Suspect&, const Suspect&) = default;
};

/// Whom the person believes it of by now, and whom no more. A fault is named once at most.
struct Suspects {
    std::vector<Suspect> order;  ///< the likeliest first, as the person has put them
    std::vector<shop::Fault> ruled_out;
    friend bool operator==(const Suspects&, const Suspects&) = default;
};

/// Something done at the saw, as one intention.
struct Did {
    std::vector<session::Action> intention;
};

/// A hint that was asked for: 1 to 3, never a lower one than before since the last thing that was done.
struct AskedHint {
    int rung = 1;
};

enum class Ending {
    proved,       ///< the corner is proved, and these faults were there
    undecidable,  ///< with what is here it cannot be decided
    given_up,
    ran_out  ///< of minutes or of board: never a move, it follows
};
std::string_view name_of(Ending ending);  ///< "proved", "undecidable", "given-up", "ran-out"

struct Close {
    Ending how = Ending::proved;
    std::vector<shop::Fault> named;  ///< that are or were there, as the person says; empty: nothing that counts
    int sure = 50;                   ///< of that, of 100
};

using Move = std::variant<Suspects, Did, AskedHint, Close>;

class Hunt {
public:
    /// `name`: of the case, as a person types it; empty: of a scenario that is none of them.
    Hunt(const scenario::Scenario& scenario, std::uint64_t seed, std::string name = {});

    /// Refused, with the reason, and nothing changed (Grade::usage): it is closed; a move of practice that is not
    /// allowed (set a value, type readings, a shim that is not in the drawer); a fault named twice; sureness outside
    /// 0 to 100; a hint lower than the last or none; closed as proved where it is not; closed as ran_out; and what
    /// session::History refuses.
    base::Result<void> make(Move move);

    const std::string& name() const { return name_; }
    const session::Seen& seen() const { return history_.seen(); }
    const session::History& history() const { return history_; }
    const scenario::Budget& budget() const { return history_.start().budget; }
    const std::vector<Move>& moves() const { return moves_; }
    /// Of each move, how many events the saw had seen when it was made: for whoever tells it step by step.
    const std::vector<std::size_t>& events_before() const { return events_before_; }

    const Suspects& suspects() const { return suspects_; }
    int hint_now() const { return hint_now_; }  ///< since the last thing that was done; 0: none
    int hints_asked() const { return hints_; }  ///< in all
    /// What ended it; empty: it is open.
    const std::optional<Close>& closed() const { return closed_; }

    /// What is left of the case's minutes and board; empty: it may cost what it takes.
    std::optional<double> minutes_left() const;
    std::optional<double> board_left_mm() const;
    /// Whether this would use up more than is left: it is done, and then the case is over.
    bool runs_out_by(std::span<const session::Action> intention) const;

private:
    base::Result<void> take(const Suspects& suspects);
    base::Result<void> take(const Did& did);
    base::Result<void> take(const AskedHint& hint);
    base::Result<void> take(const Close& close);

    std::string name_;
    session::History history_;
    std::vector<Move> moves_;
    std::vector<std::size_t> events_before_;
    Suspects suspects_;
    int hint_now_ = 0;
    int hints_ = 0;
    std::optional<Close> closed_;
};

bool is_in(const std::vector<shop::Fault>& faults, shop::Fault fault);

/// The suspects who are named when it is closed, as long as the person says nothing else: those believed in more than
/// half.
std::vector<shop::Fault> named_by(const Suspects& suspects);

}  // namespace offsquare::lesson
