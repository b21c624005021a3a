#include "session/action.h"

#include <fmt/format.h>

namespace offsquare::session {
namespace {

std::string lower_first(std::string_view text) {
    std::string out(text);
    if (out.size() > 1 && out[0] >= 'A' && out[0] <= 'Z') out[0] = static_cast<char>(out[0] - 'A' + 'a');
    return out;
}

struct Teller {
    const shop::Drawing& drawing;
    base::Units units;

    std::string operator()(const SetValue& a) const { return fmt::format("Set {} to {}.", a.key, a.value); }
    std::string operator()(const SetBoth& a) const {
        return fmt::format("Set {} to {} and {} to {}.", a.first.key, a.first.value, a.second.key, a.second.value);
    }
    std::string operator()(const CutTest&) const { return "Cut a five-cut test."; }
    std::string operator()(const Read& a) const {
        const char* end = a.end == End::fence ? "fence" : "far";
        if (a.station_mm == 0.0) return fmt::format("Read the strip at its {} end.", end);
        return fmt::format("Read the strip {} in from its {} end.", base::show_size(a.station_mm, units), end);
    }
    std::string operator()(const MakeCheck& a) const { return fmt::format("Make a check: {}.", lower_first(measure::info(a.check).title)); }
    std::string operator()(const Repair& a) const { return fmt::format("Repair {}: {}", shop::info(a.fault).key, lower_first(shop::info(a.fault).repair)); }
    std::string operator()(const WorkOut&) const { return "Work out the shim from the readings."; }
    std::string operator()(const PutShim& a) const {
        const bool known = a.drawer_row >= 0 && a.drawer_row < static_cast<int>(drawing.drawer.size());
        if (!known) return fmt::format("Put line {} of the drawer behind the {} end of the fence.", a.drawer_row, shim::name_of(a.at));
        const shop::Shim& s = drawing.drawer[static_cast<std::size_t>(a.drawer_row)];
        return fmt::format("Put {} {} behind the {} end of the fence.", s.name, base::show_small(s.thickness_mm, units), shim::name_of(a.at));
    }
    std::string operator()(const PutThickness& a) const {
        return fmt::format("Put a shim of {} behind the {} end of the fence.", base::show_small(a.thickness_mm, units), shim::name_of(a.at));
    }
    std::string operator()(const TakeShim& a) const {
        return fmt::format("Take the last shim out from behind the {} end of the fence.", shim::name_of(a.at));
    }
};

}  // namespace

std::string sentence_of(const Action& action, const shop::Drawing& drawing, base::Units units) { return std::visit(Teller{drawing, units}, action); }

}  // namespace offsquare::session
