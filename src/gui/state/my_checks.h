// The other checks of a person's own saw, as they are typed. No ImGui here.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "base/result.h"
#include "saws/entry.h"
#include "saws/tools.h"

namespace offsquare::gui {

class MyChecks {
public:
    measure::Check check = measure::Check::fence_straightedge;
    bool takes_keyboard = false;  ///< the first field gets the cursor
    bool typing = false;          ///< the fields are shown and not how it is done
    bool only_mine = false;       ///< the list shows what the tools at hand allow
    std::vector<saws::Tool> tools{saws::Tool::caliper, saws::Tool::rule};

    /// What is typed for each reading of the check that is looked at.
    std::vector<std::string>& texts();
    void forget() { texts_.erase(check); }

    /// As an entry of the log; or what is still missing, in plain words.
    base::Result<saws::CheckMade> made(const shop::Drawing& drawing, base::Units units);

private:
    std::map<measure::Check, std::vector<std::string>> texts_;
};

}  // namespace offsquare::gui
