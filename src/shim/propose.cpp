#include "shim/propose.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/elementary.h"
#include "diagnose/five_cut.h"
#include "shim/stacks.h"

namespace offsquare::shim {
namespace {

using shop::Drawing;

std::vector<PickedShim> picked(const std::vector<shop::Shim>& drawer, const Count& count) {
    std::vector<PickedShim> pieces;
    for (std::size_t i = 0; i < count.size(); ++i) {
        for (int k = 0; k < count[i]; ++k)
            pieces.push_back({drawer[i].name, drawer[i].thickness_mm, drawer[i].u_mm, static_cast<int>(i)});
    }
    std::stable_sort(pieces.begin(), pieces.end(),
                     [](const PickedShim& a, const PickedShim& b) { return a.thickness_mm > b.thickness_mm; });
    return pieces;
}

/// What is left of the skew when its end moves `thickness_mm` (of variance `variance`) further from the operator than
/// now.
base::Uncertain remainder(const base::Uncertain& skew, double span, double thickness_mm, double variance) {
    const double sign = skew.value >= 0.0 ? 1.0 : -1.0;
    const double slope = base::tan_of(skew.value) - sign * thickness_mm / span;
    const double per_slope = 1.0 / (1.0 + slope * slope);
    const std::array<base::Contribution, 2> parts{{{1.0, skew.u, skew.dof}, {per_slope / span, std::sqrt(variance)}}};
    return base::combine(base::atan_of(slope), parts);
}

std::string pieces_text(const std::vector<PickedShim>& pieces, base::Units units) {
    std::string text;
    for (const PickedShim& p : pieces)
        text += (text.empty() ? "" : " and ") + p.name + " " + base::show_small(p.thickness_mm, units);
    return text;
}

/// Whether nothing, one piece from the far end, or another is to be taken out.
struct TakeOut {
    std::vector<PickedShim> piece;
    double thickness_mm = 0.0;
    double variance = 0.0;
};
std::vector<TakeOut> ways_to_take(const std::vector<PickedShim>& behind_far) {
    std::vector<TakeOut> ways{{}};
    for (const PickedShim& p : behind_far) ways.push_back({{p}, p.thickness_mm, p.u_mm * p.u_mm});
    return ways;
}

std::optional<OtherWay> other_way(const base::Uncertain& skew, const Drawing& d, const Count& available,
                                  const Behind& behind, const Stack& best, double ideal) {
    const bool near_left = best.at == At::left;
    const double worth = 0.1 * d.tolerance_rad;
    if (std::abs(best.remainder_rad.value) <= worth) return std::nullopt;
    std::optional<OtherWay> found;
    double least = 0.5 * std::abs(best.remainder_rad.value);
    for (const TakeOut& take : ways_to_take(near_left ? behind.right : behind.left)) {
        const BothEnds pair = nearest_pair(d.drawer, available, ideal - take.thickness_mm);
        const double variance = variance_of(d.drawer, pair.near) + variance_of(d.drawer, pair.far) + take.variance;
        const base::Uncertain left =
            remainder(skew, d.fence.span_mm(), pair.difference_mm + take.thickness_mm, variance);
        const bool uses_far_end = !take.piece.empty() || pieces_in(pair.far) > 0;
        if (!uses_far_end || std::abs(left.value) >= least) continue;
        least = std::abs(left.value);
        OtherWay w;
        (near_left ? w.add_left : w.add_right) = picked(d.drawer, pair.near);
        (near_left ? w.add_right : w.add_left) = picked(d.drawer, pair.far);
        (near_left ? w.take_right : w.take_left) = take.piece;
        w.remainder_rad = left;
        found = std::move(w);
    }
    return found;
}

Stack best_stack(const base::Uncertain& skew, const Drawing& d, const Count& available, At at, double ideal) {
    const Count count = nearest_stack(d.drawer, available, ideal);
    Stack stack{at, picked(d.drawer, count), thickness_of(d.drawer, count), {}};
    stack.remainder_rad = remainder(skew, d.fence.span_mm(), stack.thickness_mm, variance_of(d.drawer, count));
    return stack;
}

constexpr std::string_view why_none_small =
    "No shim: the error that was read is within the tolerance, its uncertainty counted.";
constexpr std::string_view why_none_unsure =
    "No shim yet: the readings cannot tell the error from zero, so not even the end is sure. Repeat the test or read "
    "with a finer instrument.";

std::string why_end(At at) {
    return fmt::format("The {} end of the fence sits too near you; a shim behind that end moves it away from you.",
                       name_of(at));
}

}  // namespace

std::string_view name_of(At at) { return at == At::left ? "left" : at == At::right ? "right" : "none"; }

std::string words_of(const OtherWay& way, base::Units units) {
    std::string text;
    const auto say = [&](const std::vector<PickedShim>& pieces, std::string_view what) {
        if (!pieces.empty())
            text += (text.empty() ? "" : ", and ") + fmt::format(fmt::runtime(what), pieces_text(pieces, units));
    };
    say(way.take_left, "take {} out from behind the left end");
    say(way.take_right, "take {} out from behind the right end");
    say(way.add_left, "put {} behind the left end");
    say(way.add_right, "put {} behind the right end");
    const bool both = !way.add_left.empty() && !way.add_right.empty();
    return both ? text + " (the difference counts)" : text;
}

base::Uncertain ideal_shim(const base::Uncertain& skew_rad, double span_mm) {
    const double slope = base::tan_of(std::abs(skew_rad.value));
    const std::array<base::Contribution, 1> parts{{{span_mm * (1.0 + slope * slope), skew_rad.u, skew_rad.dof}}};
    return base::combine(span_mm * slope, parts);
}

Proposal propose(const base::Uncertain& skew_rad, const Drawing& drawing, const std::vector<int>& left_in_drawer,
                 const Behind& behind) {
    Proposal p;
    p.ideal_mm = ideal_shim(skew_rad, drawing.fence.span_mm());
    const base::Interval c = base::coverage(skew_rad);
    p.tells_end = c.lo > 0.0 || c.hi < 0.0;
    const bool small = diagnose::state_of(c, drawing.tolerance_rad) == diagnose::State::pass;
    if (small || !p.tells_end) {
        p.best.remainder_rad = skew_rad;
        p.why = small ? why_none_small : why_none_unsure;
        return p;
    }
    p.at = skew_rad.value > 0.0 ? At::left : At::right;
    p.best = best_stack(skew_rad, drawing, left_in_drawer, p.at, p.ideal_mm.value);
    p.other_way = other_way(skew_rad, drawing, left_in_drawer, behind, p.best, p.ideal_mm.value);
    p.why = why_end(p.at);
    return p;
}

}  // namespace offsquare::shim
