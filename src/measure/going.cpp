#include "measure/going.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace offsquare::measure {
namespace {

constexpr std::string_view goes_words = "goes";
constexpr std::string_view not_in_words = "does not go in";

/// With less of them in the slots nobody can tell whether it would go.
double just_in_mm(const shop::Drawing& d) {
    return std::min({50.0, 0.9 * d.sled.runner_length_mm, 0.9 * d.table.depth_mm});
}

}  // namespace

WayIn way_in(const shop::Drawing& d) {
    const shop::RunnerReach reach = shop::runner_reach(d.sled);
    const double half_table = 0.5 * d.table.depth_mm;
    const double past_the_blade = 0.5 * shop::chord_mm(d.blade) + 25.0;
    const double from = -half_table - reach.front + just_in_mm(d);
    return {from, std::max(from + 1.0, std::min({past_the_blade, half_table - reach.rear, d.sled.stop_y_mm}))};
}

double gone_in_mm(const shop::Drawing& d, double s_mm) {
    return s_mm + shop::runner_reach(d.sled).front + 0.5 * d.table.depth_mm;
}

double whole_way_mm(const shop::Drawing& d) { return std::round(gone_in_mm(d, way_in(d).to_mm)); }

Going going_of(double went_mm, const shop::Drawing& d) {
    if (went_mm >= whole_way_mm(d)) return Going::goes;
    return went_mm < just_in_mm(d) ? Going::does_not_go_in : Going::sticks;
}

std::optional<double> went_of(std::string_view words, const shop::Drawing& drawing) {
    if (words == goes_words) return whole_way_mm(drawing);
    if (words == not_in_words) return 0.0;
    return std::nullopt;
}

std::string words_of_went(double went_mm, const shop::Drawing& drawing, base::Units units) {
    switch (going_of(went_mm, drawing)) {
        case Going::goes: return std::string(goes_words);
        case Going::does_not_go_in: return std::string(not_in_words);
        case Going::sticks: break;
    }
    return fmt::format("sticks {} in", base::show_size(went_mm, units));
}

}  // namespace offsquare::measure
