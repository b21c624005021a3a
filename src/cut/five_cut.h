// The five-cut test, done for real: a board is seated, cut and turned five times; the fifth cut leaves a strip that can
// be measured.
//
// Kept piece left of the blade: the board is turned clockwise, so that the fresh edge comes to lie on the fence; the
// strip falls on the right. Kept piece right of the blade: the mirror image.
#pragma once

#include <array>
#include <limits>
#include <optional>
#include <string_view>

#include "contact/push.h"
#include "contact/runners.h"
#include "contact/seating.h"
#include "cut/chance.h"
#include "cut/kerf.h"
#include "cut/piece.h"
#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::cut {

/// How a test ended.
enum class Outcome {
    done,
    nothing_cut,    ///< the blade is down, or the board never comes to it
    misses_blade,   ///< the board lies wholly beside the kerf
    stops_short,    ///< the travel ends with the board not cut through
    strip_crosses,  ///< the strip runs out to nothing before its far end
    no_strip,       ///< so little is left that the pieces no longer have the edges of the test
    runners_bind,   ///< the runners do not fit in the slots somewhere along the travel
    off_the_fence,  ///< the board does not meet the fence's face
    sled_sticks,    ///< pushed by hand: the sled jams, or the hand is too weak, before the board is cut through
    off_the_table,  ///< the sled would have to start with its runners in front of the table, or end behind it
};
std::string_view name_of(Outcome outcome);      ///< "done", "nothing-cut", ...
std::string_view sentence_of(Outcome outcome);  ///< what happened and what to change, in one plain sentence

/// One cut. Everything in the sled frame as the board lay for this cut.
struct Cut {
    base::Pose X_SW;  ///< board on the fence (W: the sled frame of the cut before, turned with the board)
    Kerf kerf;
    Piece kept;
    double corner_rad = 0.0;  ///< kept corner at the fence less a right angle: face made by this cut against the edge
                              ///< on the fence (chords)
    double kerf_mm = 0.0;     ///< width of the kerf at the fence
    double step_mm = 0.0;  ///< at the fence, how far the kept face stands out because the push ended before all of the
                           ///< blade had passed: that face less the face of a whole pass; 0 after one
};

/// A strip with the ends where a caliper goes. Stations run along the old edge from the fence end (0) to the far end
/// (length_mm).
struct Strip {
    Strip() {}    // not defaulted: std::optional::emplace() would fill all of it with zeros first
    Piece piece;  ///< in the sled frame of the fifth cut
    shop::Side side = shop::Side::right;  ///< where it fell, as the operator sees it
    Vec2 fence_end;                       ///< ends of the old edge
    Vec2 far_end;
    double length_mm = 0.0;  ///< of the old edge
    double width_at(
        double station_mm) const;  ///< taken square to the old edge's chord, from the edge to the fifth cut's face [mm]
    Face new_face;                 ///< the fifth cut's face, in the frame of `piece`
    base::Profile old_edge;  ///< departure of the old edge from its chord by station, > 0 towards the strip's outside
};

struct FiveCut {
    Outcome outcome = Outcome::done;
    shop::Side kept = shop::Side::left;  ///< which piece is cut again
    int cuts_made = 0;                   ///< 0..5
    Piece rough;                         ///< the board as it came, its first edge along x
    std::array<Cut, 5> cuts;             ///< the first `cuts_made` are filled
    std::optional<Strip> strip;          ///< when done
    double skew_rad = 0.0;               ///< the skew that the fence has now, shims counted (truth)

    /// The board as it lay for a cut, 1 to `cuts_made`, in the sled frame; worked out when asked.
    Piece before(int cut) const;
    /// What that cut took off, in the sled frame; worked out when asked. Empty: all of it went into chips.
    Piece offcut(int cut) const;
};

/// Each cut with its own share of chance.
FiveCut five_cut_each(const shop::Drawing& drawing, const shop::Truth& truth, const contact::Shims& shims,
                      const Chances& chances, Grain grain = Grain::fine);
/// Only the first `cuts` of them, 1 to 5; without the fifth there is no strip, and `done` means that they are made.
/// Not `turned`: the board is cut but once, so that only its length has to pass.
FiveCut first_cuts(const shop::Drawing& drawing, const shop::Truth& truth, const contact::Shims& shims,
                   const Chances& chances, int cuts, Grain grain = Grain::fine, bool turned = true);
/// Every cut pushed alike, without chips.
FiveCut five_cut(const shop::Drawing& drawing, const shop::Truth& truth, const contact::Shims& shims,
                 const contact::Push& push = {});

/// A pass that a hand pushes, the same for all five cuts.
struct HandPass {
    friend bool operator==(const HandPass&, const HandPass&) = default;
    contact::HandPush hand;                                        ///< a push, not a pull
    double stops_at_mm = std::numeric_limits<double>::infinity();  ///< the travel at which the hand stops
};
/// Each cut on the way that the sled takes under that hand, with the drawing's friction and drags (contact/push.h); of
/// chance only the chips. The sled starts with least_guided_mm of its runners in their slots at least.
FiveCut five_cut_pushed(const shop::Drawing& drawing, const shop::Truth& truth, const contact::Shims& shims,
                        const HandPass& pass, const Chances& chances, Grain grain = Grain::fine);

}  // namespace offsquare::cut
