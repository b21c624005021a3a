// What a person can do at the saw, as values. The list of actions, with the scenario and the seed, is the whole state
// of a session.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/quantity.h"
#include "base/result.h"
#include "cut/five_cut.h"
#include "measure/check.h"
#include "shim/propose.h"
#include "shop/drawing.h"
#include "shop/fault.h"

namespace offsquare::session {

/// An end of the strip: the one that lay at the fence during the fifth cut, or the far one.
enum class End { fence, far };

/// Change a value of the scenario: a size, an instrument, a hidden error.
struct SetValue {
    std::string key;    ///< dotted path, "fence.shim_left"
    std::string value;  ///< as typed
};
/// Change two values at once, as one thing that is done and undone: the sizes of a board whose corner was dragged.
struct SetBoth {
    SetValue first;
    SetValue second;
};
/// Make the whole five-cut test with a fresh board, the fence as it now is.
struct CutTest {};
/// The same with the sled pushed by hand, each cut alike: it turns in its play as the hand has it.
struct PushTest {
    cut::HandPass pass;
};
/// What a hand may do in a PushTest: places within 2 m of the blade's line, by increasing travel, a force that a person
/// has. Empty: all is well.
std::string trouble_with(const cut::HandPass& pass);
inline constexpr std::size_t most_grips = 500;
/// Put the caliper on the strip and read it. Several readings at one end are repeats.
struct Read {
    End end = End::fence;
    double station_mm = 0.0;  ///< how far in from that end, along the old edge, >= 0
};
/// Put one piece from the drawer behind an end of the fence.
struct PutShim {
    shim::At at = shim::At::left;
    int drawer_row = 0;
};
/// Put something of exactly this thickness behind an end (from the command line: a shim that is not in the drawer).
struct PutThickness {
    shim::At at = shim::At::left;
    double thickness_mm = 0.0;
};
/// Take the last piece put behind this end out again.
struct TakeShim {
    shim::At at = shim::At::left;
};

/// Look at the working: the readings count as final. (The numbers themselves follow from the readings alone.)
struct WorkOut {};

/// Make one of the checks and write down what it reads.
struct MakeCheck {
    measure::Check check = measure::Check::five_cut;
};
/// How the fence stood when something was read: shims as marked, and how often it was clamped anew since the first
/// reading.
struct FenceStood {
    double behind_left_mm = 0.0;
    double behind_right_mm = 0.0;
    int clamped_again = 0;
};
/// Write down the readings of one check that were typed by hand: of a real saw, or from paper.
struct TypeReadings {
    measure::Check check = measure::Check::five_cut;
    std::vector<measure::CheckReading> readings;  ///< in the order of measure::info(check).readings
    std::optional<FenceStood> stood;              ///< empty: as the fence of this session stands now
};
/// Put one fault right, as well as that goes (session/repair.h). The readings that depended on it no longer hold.
struct Repair {
    shop::Fault fault = shop::Fault::fence_skew;
};

using Action = std::variant<MakeCheck, TypeReadings, Repair, SetValue, SetBoth, CutTest, PushTest, Read, WorkOut,
                            PutShim, PutThickness, TakeShim>;

/// "80 mm right of the blade's line", "on the blade's line".
std::string beside_line(double x_mm, base::Units units);

/// "The sled is pushed by hand 80 mm right of the blade's line, and 60 mm left of it from 40 mm before the blade on,
/// with up to 80 N."
std::string hand_words(const contact::HandPush& hand, base::Units units);

/// What the action does, as one sentence: "Put brass 0.10 mm behind the left end of the fence."
std::string sentence_of(const Action& action, const shop::Drawing& drawing, base::Units units);

}  // namespace offsquare::session
