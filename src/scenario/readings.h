// A readings file: the checks that were made on one saw and what they read, with the sizes of that saw. Written by
// `offsquare cut --check` and by the window, or by hand for a real saw. It is a scenario file without [faults], and a
// [[check]] for each check:
//
//     format = 1
//     units = "metric"
//     [fence]
//     length = 560
//     ...
//     [[check]]
//     name = "five-cut"                     # as `offsquare checks` lists them
//     fence_end = ["12.03 mm", "0.02 mm"]   # what was read, and its standard uncertainty
//     far_end = 11.28                       # without one, that of the instrument in this file
//     length = 298
//     behind_left = 0.3                     # shims at that time; left out: none
//     clamped_again = 1                     # how often the fence was clamped anew since the first check; left out: 0
//     [[check]]
//     name = "push-through"
//     went = "212 mm"                       # where the sled stuck; or "goes", or "does not go in"
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "measure/check.h"
#include "scenario/scenario.h"

namespace offsquare::scenario {

struct Readings {
    Scenario scenario;                          ///< the sizes; its truth is empty
    std::vector<measure::CheckReport> reports;  ///< in the order of the file
    std::vector<std::string> warnings;
    bool common_caliper = false;  ///< a caliper's reading came without its uncertainty, in a file that names no caliper
};

/// Errors name file, line, column, what was found, what is allowed, and an example. Faults that stand in the file are
/// left out with a warning: nobody knows them.
base::Result<Readings> parse_readings(std::string_view text, std::string_view name);

/// "-" is standard input.
base::Result<Readings> load_readings(const std::string& path);

/// The file for these reports; parse_readings gives them back, lengths and angles to the last bit.
std::string readings_text(const Scenario& scenario, const std::vector<measure::CheckReport>& reports);

}  // namespace offsquare::scenario
