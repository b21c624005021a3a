// What became of each case for this person, kept in a small file of plain lines. Written whole, so that it is the old
// one or the new one whatever ends the program; two windows add to it in turn.
//
//     two-boards = proved, 41 min, 210 mm
//     needs-oil = open, 12 min, 44 mm
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "scenario/scenario.h"
#include "session/history.h"

namespace offsquare::lesson {

enum class Became {
    fresh,   ///< nothing was done at it
    open,    ///< something was done
    failed,  ///< something was put right, and the test after it did not pass
    proved
};

struct Result {
    Became became = Became::fresh;
    double minutes = 0.0;   ///< what was spent by then
    double board_mm = 0.0;  ///< cut off
    friend bool operator==(const Result&, const Result&) = default;
};

/// What stands now, by what this person saw.
Result result_of(const session::Seen& seen);
/// Whether what came of it counts: nobody has set the errors of the saw himself.
bool is_fair(const session::History& history);
bool is_fair(const std::vector<session::Action>& done);
/// Which of the two stays: the proof, of two proofs the cheaper one; else the newer.
Result kept_of(const Result& before, const Result& now);
/// "new", "open", "not proved", "proved in 24 min".
std::string words_of(const Result& result);
/// Whether it was proved for what it may cost.
bool within(const Result& result, const scenario::Budget& budget);

class Results {
public:
    /// `data`: the person's folder; empty: nothing is kept. Reading never fails: a line that is not understood is
    /// carried along.
    explicit Results(std::filesystem::path data = {});

    Result of(std::string_view name) const;
    /// Keeps it if it says more than what is kept. Cheap where nothing changed.
    void note(std::string_view name, const Result& now);
    /// Writes what waited because another window was at the file. Cheap where nothing waits; call it now and then.
    void settle();
    /// Why something could not be kept, once; empty: all is well.
    std::string trouble();

private:
    void write();

    std::filesystem::path data_;
    std::map<std::string, Result, std::less<>> known_;
    std::map<std::string, Result, std::less<>> unwritten_;
    std::string trouble_;
    bool told_ = false;
};

}  // namespace offsquare::lesson
