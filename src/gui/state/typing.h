// Readings of a real saw, as they are being typed: one entry for each reading of each check, until they go into the
// notebook. No ImGui here and no arithmetic of the trade.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "gui/state/bench.h"
#include "session/slips.h"

namespace offsquare::gui {

class Typing {
public:
    /// What was typed for one reading; empty: nothing yet, or nothing that can be read.
    struct Entry {
        std::optional<double> value;  ///< [mm]
        std::optional<double> u;      ///< standard uncertainty; empty: that of the instrument
        bool u_is_bad = false;        ///< what stands in its field cannot be read
    };
    bool open = false;  ///< the checks page shows the fields and not how the check is done
    session::Slips
        asked;  ///< what looks like a slip in the readings as they stand, until they are changed or it is meant

    std::vector<Entry>& entries(measure::Check check);
    /// Standard uncertainties of this shop's instruments, in the order of the check's readings.
    static std::vector<double> usual_u(measure::Check check, const Bench& bench);
    /// What stood behind the ends of the fence at a real saw; until it is typed, as at the reading before.
    std::optional<double> behind_left_mm, behind_right_mm;
    static session::FenceStood stood_last(const Bench& bench);

    /// The action, or what is still missing and what was expected there.
    base::Result<session::TypeReadings> action(measure::Check check, const Bench& bench);
    /// They are in the notebook: the fields of this check are empty again.
    void written(measure::Check check);

private:
    std::map<measure::Check, std::vector<Entry>> entries_;
};

}  // namespace offsquare::gui
