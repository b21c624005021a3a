// Where the sled stands at one place of its travel, by two roads.
//
// With the yaw's sine t and its cosine 1 - u, a sample at y leaves  x <= room + u*runner face + t*y.  The push presses
// into the crossing of two such walls.
#pragma once

#include <optional>

#include "contact/clearance.h"
#include "contact/tracks.h"

namespace offsquare::contact {

/// How the hand presses, seen so that a side force acts to the right.
struct Press {
    double side = 1.0;  ///< >= 0
    double moment_mm = 0.0;
};

struct Stand {
    SlotPose middle;  ///< x of the middle of the guided length; sine of the yaw
    double u = 0.0;   ///< one less the yaw's cosine
};

/// The samples whose walls stop the sled, one that would turn it back each way. Mostly they still do at the next place
/// of the travel.
struct WallPair {
    std::size_t rising = 0;
    std::size_t falling = 0;
};

/// The general road: the linear program of clearance.h for a given cosine, again and again until the cosine no longer
/// changes; each round makes its error smaller by about the yaw itself. The search starts from `start`, which changes
/// no answer. Empty: the runners do not fit.
std::optional<Stand> stand_by_search(const Tracks& tracks, const Samples& samples, const Press& press, Stand start);

/// The fast road: two walls hold the sled, so their crossing is written down, cosine and all, and one look at all other
/// walls shows whether it is the answer; a wall that stands in the way takes the place of one of the two. Starts from
/// `pair` and from the cosine of a yaw nearby, 1 - u, which change no answer; leaves the pair that was found. Empty
/// where the answer is not such a crossing (no side force, the opposite walls in the way, a closed clearance): then the
/// general road must be asked.
std::optional<Stand> stand_by_pair(const Tracks& tracks, const Samples& samples, const Press& press, double u,
                                   WallPair& pair);

/// The fast road, or where it does not lead there, the general one.
std::optional<Stand> stand_of(const Tracks& tracks, const Samples& samples, const Press& press, Stand start,
                              WallPair& pair);

}  // namespace offsquare::contact
