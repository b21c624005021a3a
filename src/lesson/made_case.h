// Cases as many as anyone wants, from a tier and a seed: sizes, faults, the owner's sentence and what it may cost.
//
//     tier 1  one fault
//     tier 2  one of two that look alike, or nothing that counts
//     tier 3  two faults, or one that no test cut shows
//     tier 4  a sled that jams or an instrument that lies
//
// None is given that the program's own advice does not solve for what it may cost: its notebook is followed to the
// proof first, and every fault that counts must have been put right by then.
#pragma once

#include <cstdint>

#include "base/result.h"
#include "scenario/scenario.h"

namespace offsquare::lesson {

inline constexpr int tiers = 4;

/// The same for the same tier (1 to 4) and seed. Some seconds. Grade::usage: there is no such tier; Grade::bad_data: of
/// `most_attempts` drawn saws none could be solved.
base::Result<scenario::Scenario> made_case(int tier, std::uint64_t seed);

inline constexpr std::uint32_t most_attempts = 12;

/// The same case once more: the same causes in other sizes, perhaps to the other side, another run of chance, and told
/// in other words. `round` from 1; the same for the same round. As made_case.
base::Result<scenario::Scenario> case_again(const scenario::Scenario& scenario, std::uint64_t round);

/// Its twin: the same sizes of the saw and the same complaint, and another cause. As made_case; Grade::bad_data too
/// where no other cause has such a complaint.
base::Result<scenario::Scenario> twin_of(const scenario::Scenario& scenario, std::uint64_t seed);

}  // namespace offsquare::lesson
