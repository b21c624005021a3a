// One of the two calls that look at the saw itself (the other is watch.h): the truth, for a person who has asked for
// it.
#pragma once

#include <array>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/frame.h"
#include "base/profile.h"
#include "scenario/scenario.h"
#include "session/history.h"
#include "shop/fault.h"

namespace offsquare::cut {
struct FiveCut;
}

namespace offsquare::session {

/// A departure from straight that is not a plain bow.
struct HiddenShape {
    std::string_view key;  ///< in files, without "faults."
    base::Profile profile;
};

/// A test as it really was cut.
struct TrueTest {
    double skew_rad = 0.0;                    ///< of the fence during the test, shims counted
    std::vector<double> corners_rad;          ///< of the cuts that were made: each corner less a right angle
    std::shared_ptr<const cut::FiveCut> cut;  ///< with all its pieces, for as_known.h
};

struct Revealed {
    std::array<double, shop::fault_count> sizes{};  ///< by fault [mm or rad], as set and as repairs left them
    std::vector<HiddenShape> shapes;                ///< all of them, straight ones too
    double skew_now_rad = 0.0;                      ///< of the fence as it stands, shims counted
    std::vector<TrueTest> tests;                    ///< one for each of Seen::tests
};
Revealed reveal(const History& history);

/// The hidden errors of a scenario alone.
Revealed reveal(const scenario::Scenario& scenario);

/// The present value of any key of the set-up, hidden ones too, as text that could be typed again. Empty for an unknown
/// key.
std::string revealed_value(const History& history, std::string_view key);

}  // namespace offsquare::session
