#include "session/actions/work_out.h"

#include "session/state.h"

namespace offsquare::session {

std::string WorkOut::sentence(const shop::Drawing&, base::Units) const {
    return "Work out the shim from the readings.";
}
void WorkOut::write(Json&) const {}
base::Result<WorkOut> WorkOut::read(const Json&) { return WorkOut{}; }

base::Result<void> WorkOut::apply(State& state) const {
    Seen& seen = state.seen;
    if (seen.last_test() == nullptr || !seen.last_test()->skew_rad)
        return base::fail(base::Grade::usage, "there is nothing to work out yet; read the strip at both ends first");
    seen.tests.change(seen.tests.size() - 1).worked_out = true;
    return {};
}

}  // namespace offsquare::session
