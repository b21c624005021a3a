// Write down the readings of one check that were typed by hand: of a real saw, or from paper.
#pragma once

#include <optional>
#include <vector>

#include "measure/check.h"
#include "session/actions/act.h"

namespace offsquare::session {

/// How the fence stood when something was read: shims as marked, and how often it was clamped anew since the first
/// reading.
struct FenceStood {
    double behind_left_mm = 0.0;
    double behind_right_mm = 0.0;
    int clamped_again = 0;
};

struct TypeReadings {
    static constexpr std::string_view word = "type-readings";
    measure::Check check = measure::Check::five_cut;
    std::vector<measure::CheckReading> readings;  ///< in the order of measure::info(check).readings
    std::optional<FenceStood> stood;              ///< empty: as the fence of this session stands now

    std::string sentence(const shop::Drawing& drawing, base::Units units) const;
    Cost cost() const { return {}; }  ///< the minutes were spent elsewhere
    void write(Json& to) const;
    static base::Result<TypeReadings> read(const Json& from);
    base::Result<void> apply(State& state) const;
};

}  // namespace offsquare::session
