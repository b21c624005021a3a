// What the program prints under --json. The keys are a contract; units stand in the names; no value is ever
// not-a-number or infinite.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "session/trial.h"

namespace offsquare::cli {

using Json = nlohmann::ordered_json;

inline constexpr int schema_version = 1;

/// A number for a document: -0 becomes 0. Throws std::logic_error for what is not finite (a bug of ours, exit code 70).
double number(double value);
Json interval_of(const base::Interval& interval);  ///< [lo, hi]

/// The head of every document that comes from a scenario.
Json document(std::uint64_t seed);

/// `outcome`, and when a strip was read: `strip`, `estimate` (of this test alone), `shim`, `verdict`;
/// `estimate_together` when shim and verdict rest on the mean of several tests.
void add_test(Json& to, const session::Test& test);
/// `truth` and `corners_rad`.
void add_truth(Json& to, const session::Test& test, const scenario::Scenario& scenario);
Json verdict_of(const diagnose::Verdict& verdict);
std::string_view word_of_state(diagnose::State state);  ///< "pass", "fail", "undecided"

/// The document as text, two spaces an indent, newline at the end.
std::string printed(const Json& json);

/// The hidden errors one by one: key as in the file without "faults.", value in mm or rad.
struct HiddenError {
    std::string name;
    double value = 0.0;
    bool is_angle = false;
};
std::vector<HiddenError> hidden_errors(const shop::Truth& truth);

struct HiddenProfile {
    std::string_view name;
    const base::Profile* profile = nullptr;  ///< looks into the truth that was given
};
std::vector<HiddenProfile> hidden_profiles(const shop::Truth& truth);

}  // namespace offsquare::cli
