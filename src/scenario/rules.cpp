#include "scenario/rules.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "scenario/value.h"

namespace offsquare::scenario {
namespace {

using D = shop::Drawing;

/// `first` must be so with respect to `second`.
struct Rule {
    std::string_view first;
    std::string_view relation;
    std::string_view second;
    std::string_view example;
    bool (*holds)(const D&);
};

double trimmed_mm(const D& d) {
    return 2.0 * (d.board.trim_mm + d.blade.kerf_mm);
}  // two of cuts 1 to 4 fall on either direction

const std::array all_rules = {
    Rule{"blade.height", "must be less than half of", "blade.diameter", "height = \"60 mm\" with diameter = \"250 mm\"",
         [](const D& d) { return d.blade.height_mm < d.blade.diameter_mm / 2.0; }},
    Rule{"slots.left", "must lie on the table, half a slot included, so within half of", "table.width",
         "left = \"-140 mm\" with width = \"700 mm\"",
         [](const D& d) { return -d.slots.left_x_mm + d.slots.width_mm / 2.0 < d.table.width_mm / 2.0; }},
    Rule{"slots.right", "must lie on the table, half a slot included, so within half of", "table.width",
         "right = \"140 mm\" with width = \"700 mm\"",
         [](const D& d) { return d.slots.right_x_mm + d.slots.width_mm / 2.0 < d.table.width_mm / 2.0; }},
    Rule{"slots.left", "must leave room for the blade and half of", "slots.width",
         "left = \"-140 mm\" with width = \"19 mm\"",
         [](const D& d) { return -d.slots.left_x_mm > d.slots.width_mm / 2.0 + d.blade.kerf_mm; }},
    Rule{"slots.right", "must leave room for the blade and half of", "slots.width",
         "right = \"140 mm\" with width = \"19 mm\"",
         [](const D& d) { return d.slots.right_x_mm > d.slots.width_mm / 2.0 + d.blade.kerf_mm; }},
    Rule{"sled.runner_length", "must not be more than", "sled.depth",
         "runner_length = \"420 mm\" with depth = \"420 mm\"",
         [](const D& d) { return d.sled.runner_length_mm <= d.sled.depth_mm; }},
    Rule{"sled.fence_from_rear", "must be less than", "sled.depth",
         "fence_from_rear = \"60 mm\" with depth = \"420 mm\"",
         [](const D& d) { return d.sled.fence_from_rear_mm < d.sled.depth_mm; }},
    Rule{"fence.thickness", "must not be more than", "sled.fence_from_rear",
         "thickness = \"36 mm\" with fence_from_rear = \"60 mm\"",
         [](const D& d) { return d.fence.thickness_mm <= d.sled.fence_from_rear_mm; }},
    Rule{"fence.length", "must not be more than", "sled.width", "length = \"560 mm\" with width = \"620 mm\"",
         [](const D& d) { return d.fence.length_mm <= d.sled.width_mm; }},
    Rule{"fence.shim_left", "must be less than", "fence.shim_right",
         "shim_left = \"-250 mm\" with shim_right = \"250 mm\"",
         [](const D& d) { return d.fence.shim_left_x_mm < d.fence.shim_right_x_mm; }},
    Rule{"fence.shim_left", "must lie on the fence, so within half of", "fence.length",
         "shim_left = \"-250 mm\" with length = \"560 mm\"",
         [](const D& d) { return std::abs(d.fence.shim_left_x_mm) <= d.fence.length_mm / 2.0; }},
    Rule{"fence.shim_right", "must lie on the fence, so within half of", "fence.length",
         "shim_right = \"250 mm\" with length = \"560 mm\"",
         [](const D& d) { return std::abs(d.fence.shim_right_x_mm) <= d.fence.length_mm / 2.0; }},
    Rule{"board.width", "must not be more than", "sled.width",
         "width = \"330 mm\" with width = \"620 mm\" under [sled]",
         [](const D& d) { return d.board.width_mm <= d.sled.width_mm; }},
    Rule{"board.length", "must not be more than (the board is turned)", "sled.width",
         "length = \"320 mm\" with width = \"620 mm\" under [sled]",
         [](const D& d) { return d.board.length_mm <= d.sled.width_mm; }},
    Rule{"board.width", "must be more than two trims, three kerfs and", "board.strip",
         "width = \"330 mm\" with strip = \"12 mm\"",
         [](const D& d) { return d.board.width_mm > trimmed_mm(d) + d.blade.kerf_mm + d.board.strip_mm; }},
    Rule{"board.length", "must be more than two kerfs and twice", "board.trim",
         "length = \"320 mm\" with trim = \"8 mm\"", [](const D& d) { return d.board.length_mm > trimmed_mm(d); }},
};

/// "fence.shim_left (-250 mm)"
std::string named(const Scenario& s, std::string_view key) {
    const std::string text = any_value_of(s, key);
    const bool bare = text.find_first_not_of("0123456789.+-e") == std::string::npos;
    return fmt::format("{} ({}{})", key, text, !bare ? "" : s.units == base::Units::metric ? " mm" : " in");
}

std::optional<Broken> out_of_range(const Scenario& s) {
    for (const Entry& e : schema()) {
        const bool in_rows = e.key.find('#') != std::string_view::npos;
        const std::size_t rows = in_rows ? s.drawing.drawer.size() : 1;
        for (std::size_t row = 0; row < rows; ++row) {
            const auto ok = in_range(s, {&e, row}, s.units);
            if (!ok) return Broken{key_with_row(e, row), key_with_row(e, row), ok.error()};
        }
    }
    return std::nullopt;
}

std::optional<Broken> too_full(const Scenario& s) {
    int pieces = 0;
    for (std::size_t row = 0; row < s.drawing.drawer.size(); ++row) {
        pieces += s.drawing.drawer[row].count;
        if (pieces <= static_cast<int>(drawer_rows)) continue;
        const std::string key = fmt::format("drawer.{}.count", row);
        return Broken{key, "drawer",
                      fmt::format("{} ({}) makes more than {} pieces in the drawer, too many to try every stack. "
                                  "Allowed: at most {} in all rows together. "
                                  "Example: count = 2",
                                  key, s.drawing.drawer[row].count, drawer_rows, drawer_rows)};
    }
    return std::nullopt;
}

std::optional<Broken> lone_reading(const Scenario& s) {
    if (s.drawing.caliper.repeat_readings != 1) return std::nullopt;
    return Broken{"caliper.repeat_readings", "caliper.repeatability",
                  "caliper.repeat_readings: found 1, and one reading has no scatter to give caliper.repeatability. "
                  "Allowed: 0 (taken as known) or at least 2. "
                  "Example: repeat_readings = 10"};
}

std::optional<Broken> against_another(const Scenario& s) {
    for (const Rule& r : all_rules) {
        if (r.holds(s.drawing)) continue;
        return Broken{std::string(r.first), std::string(r.second),
                      fmt::format("{} {} {}. Example: {}", named(s, r.first), r.relation, named(s, r.second),
                                  base::said_in(r.example, s.units))};
    }
    return std::nullopt;
}

}  // namespace

std::optional<Broken> broken_rule(const Scenario& s) {
    for (const auto rule : {out_of_range, lone_reading, too_full, against_another}) {
        if (auto broken = rule(s)) return broken;
    }
    return std::nullopt;
}

}  // namespace offsquare::scenario
