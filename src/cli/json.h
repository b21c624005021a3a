// What the program prints under --json. The keys are a contract; units stand in the names; no value is ever
// not-a-number or infinite.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "session/seen.h"

namespace offsquare::session {
struct Revealed;  // session/reveal.h: only for who has asked for the truth
}

namespace offsquare::cli {

using Json = nlohmann::ordered_json;

inline constexpr int schema_version = 1;

/// A number for a document: -0 becomes 0. Throws std::logic_error for what is not finite (a bug of ours, exit code 70).
double number(double value);
Json interval_of(const base::Interval& interval);  ///< [lo, hi]

/// The head of every document that comes from a scenario.
Json document(std::uint64_t seed);

/// `outcome`, `brushed`, and when a strip was read: `strip`, `estimate` (what this strip alone says), `shim`, `verdict`
/// (about the fence); `estimate_together` when the shim rests on the mean of several tests.
void add_test(Json& to, const session::Test& test);
/// `truth` and `corners_rad`, of the last test.
void add_truth(Json& to, const session::Revealed& revealed);
/// Of a test whose strip is read, about the fence with that board: `about` ("fence"), `state`, `tolerance_rad`,
/// `fence_skew_rad` and `coverage95_rad` with all that may change from test to test counted; `strip_state`, what the
/// strip alone would say; `changes_between_tests`; `board` (`width_mm`, `length_mm`) and `other_boards` ("unknown",
/// "alike", "otherwise"). Undecided: `tests_to_decide`, and `least_work` (`what`: "test", "wiggle", "wiggle and test"
/// or "none"; `tests`, `minutes`).
Json verdict_of(const session::Test& test);
std::string_view word_of_state(diagnose::State state);  ///< "pass", "fail", "undecided"

/// The document as text, two spaces an indent, newline at the end.
std::string printed(const Json& json);

}  // namespace offsquare::cli
