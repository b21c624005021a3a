// What the verbs that simulate are asked for: the scenario with its changes, the seed, the shims put in, how readings
// are made.
#pragma once

#include <cstdint>
#include <istream>
#include <string>
#include <vector>

#include "base/result.h"
#include "cli/arguments.h"
#include "scenario/scenario.h"
#include "session/history.h"
#include "session/next.h"

namespace offsquare::cli {

struct Request {
    scenario::Scenario scenario;
    std::vector<std::string> warnings;  ///< about the file; they belong on stderr
    std::uint64_t seed = 0;
    measure::Precision precision = measure::Precision::real;
    std::vector<session::Action> shims;             ///< what --shim asks for
    session::Ways ways{session::CutTest{true}, 2};  ///< how a test is cut, and how often each end of its strip is read
};

/// Scenario text from a path, "-" (from `in`) or "built-in".
base::Result<scenario::Loaded> load_scenario(const std::string& operand,
                                             const std::vector<scenario::Override>& overrides, std::istream& in);

base::Result<std::vector<scenario::Override>> overrides_of(const Arguments& arguments);

/// How the person wants numbers: the units of the scenario or of what was typed, and angles as --angles says.
base::Result<base::Units> units_of(const Arguments& arguments, base::Units::System system);

base::Result<Request> request_of(const Arguments& arguments, std::istream& in);

/// The session that it starts, with the shims behind the fence.
base::Result<session::History> start(const Request& request);

/// The same with one test, read and worked out as far as that goes: no strip, no readings.
base::Result<session::History> with_one_test(const Request& request);

}  // namespace offsquare::cli
