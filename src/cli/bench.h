// What the verbs that simulate have in common: the scenario with its changes, the seed, the shims put in, how readings
// are made.
#pragma once

#include <cstdint>
#include <istream>
#include <string>
#include <vector>

#include "base/result.h"
#include "cli/arguments.h"
#include "scenario/scenario.h"
#include "session/trial.h"

namespace offsquare::cli {

struct Bench {
    scenario::Scenario scenario;
    std::vector<std::string> warnings;  ///< about the file; they belong on stderr
    std::uint64_t seed = 0;
    measure::Precision precision = measure::Precision::real;
    int reads = 2;                       ///< readings at each end, >= 1
    std::vector<session::Action> shims;  ///< what --shim asks for
    session::Action test =
        session::CutTest{};  ///< how a test is cut: pressed as the scenario says, or pushed by a hand
};

/// Scenario text from a path, "-" (from `in`) or "built-in".
base::Result<scenario::Loaded> load_scenario(const std::string& operand,
                                             const std::vector<scenario::Override>& overrides, std::istream& in);

base::Result<std::vector<scenario::Override>> overrides_of(const Arguments& arguments);

base::Result<Bench> bench_of(const Arguments& arguments, std::istream& in);

/// One test with its readings and the working, to be put at the end of a list of actions.
std::vector<session::Action> one_test(const Bench& bench);

/// The list up to the last action that is possible: readings are left out when no strip came of the test.
struct Played {
    std::vector<session::Action> actions;
    session::Trial trial;
};
base::Result<Played> play_one_test(const Bench& bench, std::vector<session::Action> before);

}  // namespace offsquare::cli
