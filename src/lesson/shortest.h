// The shortest road through a case: found by search, with the truth at hand. Every fault that counts is found by
// readings and not guessed; then it is put right, and the corner is proved.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lesson/truth_of.h"
#include "measure/check.h"

namespace offsquare::lesson {

/// One stretch of a road.
struct Leg {
    enum class Kind { check, test, repair, shims };
    Kind kind = Kind::check;
    std::string what;  ///< "Straightedge on the fence", "Put right: fence bowed", "Five-cut test"
    double minutes = 0.0;
    double board_mm = 0.0;
    bool told_nothing = false;  ///< a check or a test that changed hardly anything of what could be believed
};

Leg::Kind kind_of(const session::Action& action);

struct Road {
    std::vector<Leg> legs;
    double minutes() const;
    double board_mm() const;
};

/// The road that the program's own advice takes, whatever it costs: its notebook, followed to the proof. nullopt: it
/// does not get there, or something that counts was not put right by then.
std::optional<Road> advised_road(const scenario::Scenario& scenario, std::uint64_t seed, const Truth& truth);

/// Of all sets of up to three checks that see what is wrong, by rising minutes, the first whose readings on this saw
/// (as this seed reads them) name every fault that counts and no other; with the repairs, and the job from there to its
/// proof. A fence that is only off square needs no check besides its tests. Looks at `most_tried` sets at most. Where
/// none of them does it (a sled that jams is freed by trying), the advised road. nullopt: nothing gets there for what
/// the case may cost.
std::optional<Road> shortest_road(const scenario::Scenario& scenario, std::uint64_t seed, const Truth& truth);

inline constexpr std::size_t most_tried = 60;

}  // namespace offsquare::lesson
