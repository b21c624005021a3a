// Where everything lies in the drawing of the table: from what a person may know, never from the truth.
//
// The drawn saw is a simple one: the fence is turned by the skew that was read, times the exaggeration, and a perfect
// blade cuts along x = 0. The pieces follow in closed form: after cut k every corner that a cut has made is a right
// angle plus the drawn skew; the last corner takes what is left of 360 degrees (Euclid I.32). Kept piece right of the
// blade: everything is built mirrored (x becomes -x, the skew changes sign) and mirrored back.
#pragma once

#include <vector>

#include "picture/table_view.h"

namespace offsquare::session {
struct TrueTest;  // session/reveal.h
}

namespace offsquare::picture {

/// What is shown, chosen from what is seen by the options.
struct Shown {
    const session::Test* test = nullptr;  ///< null: the board is ready and no test is looked at
    const shop::Drawing* drawing = nullptr;
    const std::vector<shim::PickedShim>* left = nullptr;  ///< behind the ends of the fence
    const std::vector<shim::PickedShim>* right = nullptr;
    int cut = 0;  ///< 0: ready
    double travel = 0.0;
    bool skew_known = false;  ///< read in this test, or expected from an earlier one and the shims put in since
    double skew_rad = 0.0;    ///< 0 while unknown
    bool strip_read = false;  ///< the skew was read on the strip of this very test
    const session::TrueTest* revealed = nullptr;  ///< of this test, when the truth is asked for
};
Shown shown_of(const session::Seen& seen, const ViewOptions& options);

/// A piece as drawn, in the sled frame: corners counter-clockwise from the one at the fence next to the blade (kept
/// left).
struct Quad {
    Vec2 fence_blade, far_blade, far_out, fence_out;
    std::vector<Vec2> outline() const { return {fence_blade, far_blade, far_out, fence_out}; }
};

struct Scene {
    Shown shown;
    double factor = 1.0;   ///< of all angles
    double theta = 0.0;    ///< drawn skew of the fence [rad]
    double mirror = 1.0;   ///< -1: kept piece right of the blade
    double chord = 0.0;    ///< of the blade [mm]
    double sled_y = 0.0;   ///< y of the sled's origin in T
    double settled = 0.0;  ///< 0 while the cuts run; 1 when the strip lies aside, ready for the caliper

    const shop::Drawing& drawing() const { return *shown.drawing; }
    Vec2 table(Vec2 p_S) const { return {p_S.x, p_S.y + sled_y}; }
    std::vector<Vec2> table(std::vector<Vec2> p_S) const;
    double face(double x) const;  ///< y of the drawn fence face in S
    double rear() const { return -drawing().sled.fence_from_rear_mm; }
    double front() const { return drawing().sled.depth_mm - drawing().sled.fence_from_rear_mm; }
    double side_edge() const;            ///< how far table, sled and board reach to either side
    double top() const;                  ///< how far the board reaches from the line of the fence over the five cuts
    double rail() const;                 ///< depth of the rail at the base's front: what the board leaves, 10 to 30 mm
    double piece_factor(int cut) const;  ///< of the taper of what that cut takes off: as much as its width can bear
    double lean(
        int cut) const;  ///< its drawn taper over its length [rad], > 0: wider at the fence; 0 until the strip is read
    double edge_factor() const;       ///< of the rough first edge: as much as the trim can bear
    double edge_lean(int cut) const;  ///< drawn lean of the rough edge [rad, kept piece on the left], > 0: towards the
                                      ///< offcut; 0 once that cut's board has none
    bool parted() const;              ///< the present cut has gone through
    Quad kept(int cut) const;         ///< as it lies after that cut; in S
    Quad before(int cut) const;       ///< the board as it lies for that cut
    Quad offcut(int cut) const;       ///< what the cut takes off, where it fell
    double strip_height() const;      ///< of the old edge of the strip, as drawn
    double aside() const { return 15.0 * settled * mirror; }  ///< how far the strip is moved away from the blade, in x
};

Scene scene_of(const session::Seen& seen, const ViewOptions& options);
Scene scene_of(const Shown& shown, double exaggeration);

/// y of the sled's origin with the board before the blade, at the end of a cut, and drawn back to look at the pieces.
struct Stations {
    double back, through, rest;
};
Stations stations_of(const Scene& scene);

/// The factor that a fence of this skew is drawn with: `factor` or, where that would leave the page, as much of it as
/// does not, to three figures. So a larger error is never drawn smaller.
double factor_that_fits(double skew_rad, double factor);
/// `factor`, or as much of it as the limit bears: to three figures, at least 1.
double no_more_than(double limit, double factor);

}  // namespace offsquare::picture
