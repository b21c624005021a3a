// Pushing the sled by hand: how it lies in its play, what push it needs, and where it binds.
//
// Quasi-static, with Coulomb's friction. A hand that pushes along the slots, beside the line of what drags, turns the
// sled until it bears on two walls, one at each end: on the left wall at one end and on the right wall at the other,
// with the same force N. With L between the two along the slots, e from the middle line of the two contacts to the
// hand, D all drag and x_D the line that it acts on:
//     N = D*(x - x_D)/(L - 2*mu*e),   P = D + 2*mu*N.
// Where 2*mu*e reaches L no push moves the sled, however hard: it jams. A hand that gives no more than F stops earlier,
// at e = (1 - D/F)*L/(2*mu) when x_D is the middle line. Which way the sled turns follows from the hand's side of x_D;
// how far, and which walls then bear, is found as for a cut (runners.h), pressed by a moment alone. No step of a pass
// asks for memory.
//
// Where it stops: no mass, no bending, walls taken as along the slots when the forces are found (a wall turned by 1
// mrad changes them by about 1e-3 of mu*N); the hand pushes along the slots only; where both runners touch at one end,
// each takes half. L is taken along the runners, not along the slots: with the two contacts on different runners that
// leaves out yaw times their distance (0.1 % of L for 0.1 mm of play on 150 mm). A sled that wedges itself is not
// foreseen: where L is below mu times the distance of the two contacts across the slots (65 mm for 0.25 on the usual
// sled), walls can hold each other without any push; the live sled (live.h) did so at L = 50 mm.
#pragma once

#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "contact/runners.h"
#include "shop/drawing.h"
#include "shop/hidden.h"

namespace offsquare::contact {

/// What rubs and drags; where from: shop::Feed.
struct Rub {
    double mu = 0.25;        ///< between runner and slot wall, >= 0
    double base_n = 15.0;    ///< drag of the base on the table [N], > 0
    double base_x_mm = 0.0;  ///< line it acts on, x in S
    double blade_n = 20.0;   ///< drag of the blade while it cuts [N], at x = 0
};
Rub rub_of(const shop::Feed& feed);

/// From the travel `from_mm` on the hand holds the sled at x (in S, from the blade's line, positive right).
struct Grip {
    friend bool operator==(const Grip&, const Grip&) = default;
    double from_mm = -std::numeric_limits<double>::infinity();
    double x_mm = 0.0;
};

enum class Way { push, pull_back };

struct HandPush {
    friend bool operator==(const HandPush&, const HandPush&) = default;
    std::vector<Grip> grips;  ///< by increasing from_mm; the first holds from the start
    double force_n = std::numeric_limits<double>::infinity();  ///< the most that the hand gives, > 0
    Way way = Way::push;
};

/// Where the hand holds the sled at the travel s: x in S. No grips: on the blade's line.
double grip_at(const HandPush& hand, double s_mm);

/// The sled somewhere along its travel.
struct PushedPose {
    double s_mm = 0.0;
    double x_mm = 0.0;             ///< of the sled's origin in T
    double yaw_rad = 0.0;          ///< counter-clockwise
    double push_n = 0.0;           ///< that moves it on [N], > 0 pushing as well as pulling back
    double wall_n = 0.0;           ///< on each of the two walls [N]
    double eccentricity_mm = 0.0;  ///< from the middle line of the two contacts to the hand, > 0 to the right
    double critical_mm =
        0.0;  ///< at this distance on the side to which it is turned it jams, however hard the push: L/(2 mu)
    double share = 0.0;  ///< eccentricity towards that side as a share of the critical one: at 1 it jams; < 0 the walls
                         ///< ease the turn
};

enum class Stuck {
    no,
    does_not_fit,  ///< the runners are too tight in their slots there
    jams,          ///< friction at the walls grows as fast as the push
    too_weak,      ///< it would go, with more push than the hand gives
};

struct PushedPass {
    std::vector<PushedPose> path;  ///< in the order of the motion; ends where it sticks
    Stuck stuck = Stuck::no;
    double stuck_at_mm = 0.0;    ///< travel s, to 1e-6 mm
    PushedPose at_worst;         ///< where `share` is greatest, or where it sticks by friction
    double push_needed_n = 0.0;  ///< greatest of the path, and where the hand is too weak what it would have needed [N]
};

/// What decides whether the blade has wood to cut.
struct Meeting {
    double half_chord_mm = 0.0;  ///< half the blade's slot in the table
    double board_mm = 0.0;       ///< board along the feed
};
Meeting meeting_of(const shop::Drawing& drawing);
/// Whether some of a board on the fence lies over the blade with the fence's face at s.
bool wood_in_the_chord(const Meeting& meeting, double s_mm);

/// Where along the runners the walls are looked at; the same where all of the runners is over the table.
enum class Places {
    on_runners,  ///< at the same places of the runners all along, as a cut does
    even_parts   ///< the guided length in equal parts, as version 0.1.0 did
};

/// The whole way between two travels, from < to, in equal steps. `steps` >= 1. A hand on the line of the drag leaves
/// the sled turned as it was; where none has turned it yet it lies midway.
PushedPass push_sled(const shop::Drawing& drawing, const shop::Truth& truth, const HandPush& hand, const Rub& rub,
                     double from_mm, double to_mm, int steps = 256, Places places = Places::on_runners);

/// A pushed pass as the way on which a board is carried past the blade: from its start to where it ended or stuck.
/// Between two steps x and yaw go straight, a turn from one wall to the other too. Fewer than two poses: it stuck at
/// once.
Travel travel_of(const PushedPass& pass);

/// A part of the travel.
struct PushRange {
    double from_mm = 0.0;
    double to_mm = 0.0;
};
/// With less of its runners in their slots nobody pushes a sled: it would not be guided.
inline constexpr double least_guided_mm = 50.0;
/// How far a hand pushes or pulls: with `least_guided_mm` of the runners in their slots (nine tenths of a runner or a
/// table that is hardly longer), and not past the stop.
PushRange hand_range(const shop::Drawing& drawing);
/// Where the sled goes in a usual pass: from clear of the blade until the fence has passed the chord, within
/// hand_range.
PushRange usual_pass(const shop::Drawing& drawing);

}  // namespace offsquare::contact
