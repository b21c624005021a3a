#include "shop/sense.h"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

namespace offsquare::shop {
namespace {

/// Wood that must stay above the blade so that the two halves of the sled hold together [mm]; invented, about two
/// fingers.
constexpr double bridge_mm = 25.0;
/// Share of the runners that must be in the slots while the blade cuts; invented.
constexpr double guided_share = 1.0 / 3.0;

std::optional<Advice> bridge(const Drawing& d, base::Units units) {
    const double full = std::max(d.blade.height_mm, d.blade.full_height_mm);
    const double left = d.fence.height_mm - full;
    if (left >= bridge_mm) return std::nullopt;
    const std::string found = left > 0.0
                                  ? fmt::format("Only {} of the fence would stand above the blade at its full height",
                                                base::show_size(left, units))
                                  : std::string("The blade at its full height would cut the fence through");
    return Advice{"fence.height", fmt::format("{}: the sled could come apart in two. Make the fence at least {} high.",
                                              found, base::show_size(full + bridge_mm, units))};
}

/// y of the fence's face where the push ends: past the far end of the blade, or where it stops.
double end_of_push(const Drawing& d) { return std::min(0.5 * chord_mm(d.blade), d.sled.stop_y_mm); }

std::optional<Advice> exit(const Drawing& d, base::Units units) {
    const double out = end_of_push(d) + 0.5 * chord_mm(d.blade) - d.fence.thickness_mm;
    if (out <= d.sled.exit_cover_mm) return std::nullopt;
    return Advice{"sled.exit_cover",
                  fmt::format("At the end of the push the blade stands out {} behind the fence, where your thumbs are, "
                              "and only {} of it is covered. Fix a block there that covers all of it.",
                              base::show_size(out, units), base::show_size(d.sled.exit_cover_mm, units))};
}

/// How much of the runners is over the table when the fence's face stands at y.
double guided_mm(const Drawing& d, double y) {
    const RunnerReach part = over_table(runner_reach(d.sled), 0.5 * d.table.depth_mm, y);
    return std::max(0.0, part.front - part.rear);
}

std::optional<Advice> guide(const Drawing& d, base::Units units) {
    const double begin = -0.5 * chord_mm(d.blade) - std::max(d.board.length_mm, d.board.width_mm);
    const double least = std::min(guided_mm(d, begin), guided_mm(d, end_of_push(d)));
    if (least >= guided_share * d.sled.runner_length_mm) return std::nullopt;
    const char* where = guided_mm(d, begin) <= guided_mm(d, end_of_push(d)) ? "when the blade meets the board"
                                                                            : "at the end of the push";
    const std::string found =
        least <= 0.0 ? std::string("The runners are out of their slots")
                     : fmt::format("Only {} of the runners is still in the slots", base::show_size(least, units));
    return Advice{
        "sled.runner_length",
        fmt::format("{} {}: nothing guides the sled there, and it can turn. Take a smaller board or longer runners.",
                    found, where)};
}

std::optional<Advice> travel(const Drawing& d, base::Units units) {
    const double short_by = 0.5 * chord_mm(d.blade) - d.sled.stop_y_mm;
    if (short_by <= 0.0) return std::nullopt;
    return Advice{
        "sled.stop",
        fmt::format("The push stops {} before the whole board has passed the whole blade: a blade that is not parallel "
                    "then leaves a step near the fence. Push on until the fence is past the blade.",
                    base::show_size(short_by, units))};
}

std::optional<Advice> depth(const Drawing& d, base::Units units) {
    const double bed = d.sled.depth_mm - d.sled.fence_from_rear_mm;
    const double over = std::max(d.board.length_mm, d.board.width_mm) - bed;
    if (over <= 0.0) return std::nullopt;
    return Advice{"sled.depth", fmt::format("The board hangs {} over the front of the sled, and it has to be turned: "
                                            "it can tip and catch. Take a smaller board or a deeper sled.",
                                            base::show_size(over, units))};
}

}  // namespace

std::vector<Advice> sense_of(const Drawing& drawing, base::Units units) {
    std::vector<Advice> all;
    for (const auto& rule : {bridge, exit, guide, travel, depth}) {
        if (auto advice = rule(drawing, units)) all.push_back(std::move(*advice));
    }
    return all;
}

}  // namespace offsquare::shop
