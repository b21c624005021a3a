#include "session/actions/shims.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "session/state.h"

namespace offsquare::session {
namespace {

using base::fail;
using base::Grade;

Stack& behind(Saw& saw, shim::At at) { return at == shim::At::left ? saw.behind_left : saw.behind_right; }

base::Result<double> number_of(const Json& from, std::string_view action, const char* key) {
    const auto value = real(from, key);
    if (!value || std::abs(*value) > 1e6) return bad_form(key, fmt::format("{} needs a number \"{}\"", action, key));
    return *value;
}

/// What really stands there, once a piece of the drawer is measured to the last bit.
double true_thickness(const State& state, const shop::Shim& marked, int row, std::uint32_t piece) {
    if (state.seen.precision == measure::Precision::exact) return marked.thickness_mm;
    const double off = marked.u_mm * base::standard_normal({state.seen.seed, base::Purpose::shim_thickness,
                                                            static_cast<std::uint32_t>(row), piece});
    return std::max(0.0, marked.thickness_mm + off);
}

}  // namespace

std::string PutShim::sentence(const shop::Drawing& drawing, base::Units units) const {
    const bool known = drawer_row >= 0 && drawer_row < static_cast<int>(drawing.drawer.size());
    if (!known)
        return fmt::format("Put line {} of the drawer behind the {} end of the fence.", drawer_row, shim::name_of(at));
    const shop::Shim& s = drawing.drawer[static_cast<std::size_t>(drawer_row)];
    return fmt::format("Put {} {} behind the {} end of the fence.", s.name, base::show_small(s.thickness_mm, units),
                       shim::name_of(at));
}

void PutShim::write(Json& to) const {
    to["at"] = shim::name_of(at);
    to["drawer_line"] = drawer_row;
}

base::Result<PutShim> PutShim::read(const Json& from) {
    const auto end = at_of(from);
    if (!end) return tl::unexpected(end.error());
    const auto line = number_of(from, word, "drawer_line");
    if (!line) return tl::unexpected(line.error());
    if (std::trunc(*line) != *line)
        return bad_form("drawer_line", "\"drawer_line\" must be a whole number, counted from 0");
    return PutShim{*end, static_cast<int>(*line)};
}

base::Result<void> PutShim::apply(State& state) const {
    auto& [saw, seen] = state;
    const auto& drawer = seen.drawing.drawer;
    if (at == shim::At::none) return fail(Grade::usage, "a shim goes behind the left or the right end");
    if (drawer_row < 0 || drawer_row >= static_cast<int>(drawer.size()))
        return fail(Grade::usage, fmt::format("the drawer has no line {}; it has {} lines, counted from 0", drawer_row,
                                              drawer.size()));
    const auto row = static_cast<std::size_t>(drawer_row);
    const shop::Shim& s = drawer[row];
    if (saw.drawer[row].empty())
        return fail(Grade::usage, fmt::format("no {} of that thickness is left in the drawer", s.name));
    const std::uint32_t piece = saw.drawer[row].back();
    saw.drawer[row].pop_back();
    behind(saw, at).push_back(
        {{s.name, s.thickness_mm, s.u_mm, drawer_row}, true_thickness(state, s, drawer_row, piece), piece});
    shims_changed(state);
    return {};
}

std::string PutThickness::sentence(const shop::Drawing&, base::Units units) const {
    return fmt::format("Put a shim of {} behind the {} end of the fence.", base::show_small(thickness_mm, units),
                       shim::name_of(at));
}

void PutThickness::write(Json& to) const {
    to["at"] = shim::name_of(at);
    to["thickness_mm"] = thickness_mm;
}

base::Result<PutThickness> PutThickness::read(const Json& from) {
    const auto end = at_of(from);
    if (!end) return tl::unexpected(end.error());
    const auto thickness = number_of(from, word, "thickness_mm");
    if (!thickness) return tl::unexpected(thickness.error());
    return PutThickness{*end, *thickness};
}

base::Result<void> PutThickness::apply(State& state) const {
    if (at == shim::At::none) return fail(Grade::usage, "a shim goes behind the left or the right end");
    // Thicker than any set-up error that the model holds for; it also keeps the fence's slope small.
    constexpr double thickest = 20.0;
    if (!(thickness_mm >= 0.0 && thickness_mm <= thickest))
        return fail(Grade::usage,
                    fmt::format("a shim is between 0 and {} thick, not {}", base::show_size(thickest, state.seen.units),
                                base::show_small(thickness_mm, state.seen.units)));
    behind(state.saw, at).push_back({{"shim", thickness_mm, 0.0, -1}, thickness_mm, 0});
    shims_changed(state);
    return {};
}

std::string TakeShim::sentence(const shop::Drawing&, base::Units) const {
    return fmt::format("Take the last shim out from behind the {} end of the fence.", shim::name_of(at));
}

void TakeShim::write(Json& to) const { to["at"] = shim::name_of(at); }

base::Result<TakeShim> TakeShim::read(const Json& from) {
    const auto end = at_of(from);
    if (!end) return tl::unexpected(end.error());
    return TakeShim{*end};
}

base::Result<void> TakeShim::apply(State& state) const {
    Stack& placed = behind(state.saw, at);
    if (at == shim::At::none || placed.empty())
        return fail(Grade::usage, fmt::format("no shim stands behind the {} end", shim::name_of(at)));
    // It lies on top of its heap: putting it back gives the same piece again.
    if (const int row = placed.back().picked.drawer_row; row >= 0)
        state.saw.drawer[static_cast<std::size_t>(row)].push_back(placed.back().piece);
    placed.pop_back();
    shims_changed(state);
    return {};
}

}  // namespace offsquare::session
