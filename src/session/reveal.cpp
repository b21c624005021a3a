#include "session/reveal.h"

#include "scenario/value.h"
#include "session/saw.h"

namespace offsquare::session {
namespace {

void add_errors(const shop::Truth& truth, Revealed& to) {
    for (const shop::FaultInfo& f : shop::faults())
        to.sizes[static_cast<std::size_t>(f.fault)] = shop::size_of(truth, f.fault);
    to.shapes = {{"fence_profile", truth.fence_profile},
                 {"left_slot_profile", truth.left_slot_profile},
                 {"right_slot_profile", truth.right_slot_profile},
                 {"left_runner_profile", truth.left_runner_profile},
                 {"right_runner_profile", truth.right_runner_profile},
                 {"edge_profile", truth.edge_profile}};
}

TrueTest true_test(const CutTestPieces& test) {
    TrueTest out{test.cut->skew_rad, {}, test.cut};
    for (int i = 0; i < test.cut->cuts_made; ++i)
        out.corners_rad.push_back(test.cut->cuts[static_cast<std::size_t>(i)].corner_rad);
    return out;
}

}  // namespace

Revealed reveal(const History& history) {
    const Saw& saw = saw_of(history);
    Revealed revealed;
    add_errors(saw.truth(), revealed);
    revealed.skew_now_rad = skew_now_rad(saw);
    for (const CutTestPieces& test : saw.tests) revealed.tests.push_back(true_test(test));
    return revealed;
}

Revealed reveal(const scenario::Scenario& scenario) {
    Revealed revealed;
    add_errors(*scenario.truth, revealed);
    return revealed;
}

std::string revealed_value(const History& history, std::string_view key) {
    return scenario::any_value_of(saw_of(history).scenario, key);
}

}  // namespace offsquare::session
