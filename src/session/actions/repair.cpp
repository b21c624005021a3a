#include "session/actions/repair.h"

#include <algorithm>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/elementary.h"
#include "session/repair.h"
#include "session/state.h"

namespace offsquare::session {
namespace {

/// What the bare fence must be off by, so that as it is clamped, with its shims, it is off by `skew_rad`.
double as_it_stands(double skew_rad, const Saw& saw) {
    const contact::Shims shims = true_shims(saw);
    if (shims.left_mm == shims.right_mm) return skew_rad - saw.crept_rad;
    const double slope = (shims.right_mm - shims.left_mm) / saw.scenario.drawing.fence.span_mm();
    return base::atan_of(base::tan_of(skew_rad) - slope) - saw.crept_rad;
}

}  // namespace

std::string Repair::sentence(const shop::Drawing&, base::Units) const {
    return fmt::format("Repair {}: {}", shop::info(fault).key, lower_first(shop::info(fault).repair));
}

Cost Repair::cost() const { return {repair_minutes(fault), 0.0}; }

void Repair::write(Json& to) const {
    to["fault"] = shop::info(fault).key;
    if (fault == shop::Fault::fence_skew && with_shims) to["with_shims"] = true;
}

base::Result<Repair> Repair::read(const Json& from) {
    const auto fault = shop::fault_of(session::word(from, "fault"));
    if (!fault)
        return bad_form("fault",
                        "a repair needs the key of a fault, as offsquare faults lists them, for example "
                        "{\"do\":\"repair\",\"fault\":\"blade_toe\"}");
    if (from.contains("with_shims") && !from["with_shims"].is_boolean())
        return bad_form("with_shims", "\"with_shims\" must be true or false");
    return Repair{*fault, from.contains("with_shims") && from["with_shims"].get<bool>()};
}

base::Result<void> Repair::apply(State& state) const {
    auto& [saw, seen] = state;
    // Which repair of this set-up it is, so that no two leave the same.
    const auto n = static_cast<std::uint32_t>(std::count_if(
        seen.repairs.begin(), seen.repairs.end(), [](const RepairNote& r) { return r.of_this_set_up && !r.by_shims; }));
    double& size = shop::size_of(*saw.scenario.truth, fault);
    size = left_over(fault, seen.seed, n, seen.precision);
    if (fault == shop::Fault::fence_skew && with_shims) size = as_it_stands(size, saw);
    const bool jammed = jams(seen);
    strike_out(state, fault);
    const bool runner = fault == shop::Fault::left_play || fault == shop::Fault::right_play;
    RepairNote note{fault, this_event(state)};
    note.eased = runner && jammed;
    seen.repairs.push_back(note);
    begin_anew(state);
    return {};
}

}  // namespace offsquare::session
