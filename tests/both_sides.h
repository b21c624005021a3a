#pragma once
/// \file
/// Both sides of a session, for tests: what a person sees of the saw, and the saw itself.
#include "session/history.h"
#include "session/saw.h"

namespace both_sides {

inline const offsquare::shop::Truth& truth_of(const offsquare::session::History& history) {
    return offsquare::session::saw_of(history).truth();
}
inline double skew_now_rad(const offsquare::session::History& history) {
    return offsquare::session::skew_now_rad(offsquare::session::saw_of(history));
}
/// The test as it really was cut; the last one unless told otherwise.
inline const offsquare::cut::FiveCut& cut_of(const offsquare::session::History& history, std::size_t test) {
    return *offsquare::session::saw_of(history).tests.at(test).cut;
}
inline const offsquare::cut::FiveCut& cut_of(const offsquare::session::History& history) {
    return *offsquare::session::saw_of(history).tests.back().cut;
}

}  // namespace both_sides
