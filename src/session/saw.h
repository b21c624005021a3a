// The hidden side of a session: what the saw is, whatever anyone has read of it. Only what makes events may see this
// header, and reveal.h and watch.h look at it for others; tests/house/lock.h holds the lock.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "base/shared_list.h"
#include "contact/seating.h"
#include "cut/five_cut.h"
#include "scenario/scenario.h"
#include "shim/propose.h"
#include "shop/truth.h"

namespace offsquare::session {

class History;

/// A piece behind the fence: what is marked on it, and what it really measures.
struct PlacedShim {
    shim::PickedShim picked;  ///< drawer_row -1: not from the drawer
    double true_mm = 0.0;
    std::uint32_t piece = 0;  ///< which piece of its drawer line
};
using Stack = std::vector<PlacedShim>;

/// The test as it really was cut.
struct CutTestPieces {
    std::shared_ptr<const cut::FiveCut> cut;
    Stack behind_left, behind_right;
};

struct Saw {
    scenario::Scenario scenario;  ///< with the values that were set and what repairs left
    Stack behind_left, behind_right;
    double crept_rad = 0.0;  ///< how far the last clamping turned the fence
    Stack clamped_left;      ///< what stood behind the fence when it was clamped last
    Stack clamped_right;
    std::vector<std::vector<std::uint32_t>> drawer;  ///< the pieces in each drawer line, the next one to be taken last
    std::uint32_t tests_cut = 0;                     ///< ever, so that no two tests share a draw
    std::uint32_t checks_made = 0;                   ///< ever, for the same reason
    base::SharedList<CutTestPieces> tests;           ///< one for each of Seen::tests

    const shop::Truth& truth() const { return *scenario.truth; }
};

/// The saw behind a history: for what makes events, for reveal and watch, and for tests.
const Saw& saw_of(const History& history);

/// The hidden errors with the fence as it was clamped last.
shop::Truth as_clamped(const Saw& saw);
contact::Shims true_shims(const Saw& saw);
double skew_now_rad(const Saw& saw);  ///< of the fence as it stands, shims counted

bool same_pieces(const Stack& a, const Stack& b);

/// How far in from an end the caliper may stand [mm]: the two places stay on their own halves of the strip.
inline double furthest_in_mm(const cut::Strip& strip) { return 0.45 * strip.length_mm; }

}  // namespace offsquare::session
