// What must hold between values: each rule names both keys.
#pragma once

#include <optional>
#include <string>

#include "scenario/scenario.h"

namespace offsquare::scenario {

/// A rule that a scenario breaks.
struct Broken {
    std::string first_key;  ///< the key to point at
    std::string second_key;
    std::string message;  ///< both keys with their values, what must hold, and an example
};

/// The first rule that is broken, if any. Ranges of single values come before what holds between two.
std::optional<Broken> broken_rule(const Scenario& scenario);

}  // namespace offsquare::scenario
