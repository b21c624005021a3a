// Make the whole five-cut test with a fresh board, the fence as it now is; or the same with the sled pushed by hand.
// Either may be cut with the fence brushed before each cut, as the check "brushed" is: then no chip lies there.
#pragma once

#include "cut/five_cut.h"
#include "session/actions/act.h"

namespace offsquare::session {

struct CutTest {
    static constexpr std::string_view word = "cut";
    bool brushed = false;

    std::string sentence(const shop::Drawing& drawing, base::Units units) const;
    Cost cost() const;
    void write(Json& to) const;
    static base::Result<CutTest> read(const Json& from);
    base::Result<void> apply(State& state) const;
};

/// Each cut alike: the sled turns in its play as the hand has it.
struct PushTest {
    static constexpr std::string_view word = "push-test";
    cut::HandPass pass;
    bool brushed = false;

    std::string sentence(const shop::Drawing& drawing, base::Units units) const;
    Cost cost() const;
    void write(Json& to) const;
    static base::Result<PushTest> read(const Json& from);
    base::Result<void> apply(State& state) const;
};

/// What a hand may do in a PushTest: places within 2 m of the blade's line, by increasing travel, a force that a person
/// has. Empty: all is well.
std::string trouble_with(const cut::HandPass& pass);
inline constexpr std::size_t most_grips = 500;

/// "80 mm right of the blade's line", "on the blade's line".
std::string beside_line(double x_mm, base::Units units);

/// "The sled is pushed by hand 80 mm right of the blade's line, and 60 mm left of it from 40 mm before the blade on,
/// with up to 80 N."
std::string hand_words(const contact::HandPush& hand, base::Units units);

}  // namespace offsquare::session
