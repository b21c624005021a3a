#include "saws/shims_told.h"

#include <cmath>

#include <fmt/format.h>

#include "saws/strip_shim.h"
#include "session/model.h"

namespace offsquare::saws {
namespace {

using base::Units;

/// The newest test before, how the shims stood then, and how they stand now.
struct Chain {
    const Entry* last = nullptr;
    double slope_then = 0.0;  ///< of the shims behind it: (right - left)/span
    Standing now;
};

double slope_of(const Standing& s, double span_mm) { return (total_mm(s.right) - total_mm(s.left)) / span_mm; }

Chain chain_of(const Sled& sled, Date date, std::optional<int> corrects) {
    Chain c;
    for (const Entry* e : in_effect(sled)) {
        if (e->number == corrects || e->date > date) break;
        if (const auto* moved = std::get_if<ShimsMoved>(&e->what)) c.now = moved_on(std::move(c.now), *moved);
        const auto* done = std::get_if<PutRight>(&e->what);
        if (std::holds_alternative<FenceMoved>(e->what) || (done != nullptr && done->fault)) c.last = nullptr;
        if (!is_strip(*e)) continue;
        c.last = e;
        c.slope_then = slope_of(c.now, std::get<StripTest>(e->what).strip.span->value);
    }
    return c;
}

std::string off_by(double skew_rad, Units units) {
    return fmt::format("{}, {} end too near you", base::show_angle(std::abs(skew_rad), units),
                       skew_rad > 0.0 ? "left" : "right");
}

/// Beyond what the two readings and chance make of it: most would not happen once in twenty.
constexpr double beyond_chance = 2.0;

std::string heading_of(const AgainstBefore& a) {
    const double by = a.is.value - a.was.value;
    if (a.turned == 0.0 || std::abs(a.is.value - a.should_be()) < beyond_chance * a.u()) return "";
    // Of what they should have done: hardly anything, or the opposite.
    const double share = by / a.turned;
    if (share < -0.5) return "The fence went the other way: look at the shim first";
    if (share < 0.5) return "The shim hardly moved the fence: look at it first";
    if (share > 1.5) return "The fence went further than the shim is thick: look first";
    return "";
}

const char* what_to_look_at(double share) {
    if (share > 1.5)
        return " Was more put in than was written down? Is the shim as thick as it says? Or are the two ends of one "
               "strip exchanged, and the shim did nothing? Cut once more, the end at the fence marked, before you "
               "change anything.";
    return share < -0.5
               ? " Is it behind the end that you wrote down, and was the end of the strip that lay at the fence "
                 "marked, both times? If the other end was meant, correct that entry."
               : " Is it in, between the fence and what the fence is clamped against, at the shim point? Was it "
                 "written down twice? Brush the fence and cut once more before you add to it.";
}

}  // namespace

double AgainstBefore::u() const { return std::sqrt(is.u * is.u + was.u * was.u + 2.0 * by_chance * by_chance); }

double usual_scatter_rad(const shop::Drawing& drawing, bool clamped_again, bool brushed) {
    const session::Assumptions assumed = session::usual_assumptions(drawing);
    diagnose::Sizes sizes{};
    for (std::size_t i = 0; i < sizes.size(); ++i) {
        // As on a good saw, and then as large as on hardly any.
        const shop::Lobe& good = assumed.prior[i].front();
        sizes[i] = good.mean + 2.0 * good.sd;
    }
    const measure::Occasion occasion{brushed ? measure::Check::brushed : measure::Check::five_cut, 0.0, 0.0,
                                     clamped_again ? 1 : 0};
    const std::vector<double> chance = assumed.model.chance_on(occasion, sizes);
    return chance.empty() ? 0.0 : std::sqrt(std::max(0.0, chance.front()));
}

std::optional<AgainstBefore> against_before(const Sled& sled, const Strip& strip, Date date,
                                            std::optional<int> corrects) {
    if (strip.fence_end.empty() || strip.far_end.empty() || !strip.between || !strip.fell) return std::nullopt;
    const Chain chain = chain_of(sled, date, corrects);
    if (chain.last == nullptr) return std::nullopt;
    const SetUp set_up = set_up_of(sled, date);
    const diagnose::StripReadings now = strip_readings(strip, set_up);
    if (!too_steep(now).empty()) return std::nullopt;
    const diagnose::StripReadings then =
        strip_readings(std::get<StripTest>(chain.last->what).strip, set_up_of(sled, chain.last->date));
    const double span = strip.span ? strip.span->value : set_up.scenario.drawing.fence.span_mm();
    AgainstBefore a;
    a.before = chain.last;
    a.was = diagnose::skew_from_strip(then);
    a.is = diagnose::skew_from_strip(now);
    a.turned = slope_of(chain.now, span) - chain.slope_then;
    a.by_chance = usual_scatter_rad(set_up.scenario.drawing, a.turned != 0.0, strip.brushed);
    return a;
}

std::optional<ShimsTold> shims_told(const Sled& sled, Units units) {
    const Entry* newest = newest_test(sled);
    if (newest == nullptr) return std::nullopt;
    const auto a = against_before(sled, std::get<StripTest>(newest->what).strip, newest->date, newest->number);
    if (!a || a->turned == 0.0) return std::nullopt;
    ShimsTold told;
    told.heading = heading_of(*a);
    told.sentence = fmt::format("Before the shims the strip said {}; after them {}.", off_by(a->was.value, units),
                                off_by(a->is.value, units));
    if (!told.heading.empty())
        told.sentence += fmt::format(" They should have brought it to {}.{}", off_by(a->should_be(), units),
                                     what_to_look_at((a->is.value - a->was.value) / a->turned));
    return told;
}

}  // namespace offsquare::saws
