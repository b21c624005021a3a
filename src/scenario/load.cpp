#include "base/read.h"
#include "scenario/raw.h"
#include "scenario/scenario.h"

namespace offsquare::scenario {

base::Result<Loaded> load(const std::string& path, const std::vector<Override>& overrides) {
    const std::string name = shown(path, 200);
    const auto text = base::read_file(path, name, base::scenario_wanted);
    if (!text) return tl::unexpected<base::Problem>(text.error());
    return parse(*text, name, overrides);
}

}  // namespace offsquare::scenario
