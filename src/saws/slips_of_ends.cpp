#include "saws/slips_of_ends.h"

#include <cmath>

#include <fmt/format.h>

#include "saws/strip_shim.h"
#include "session/model.h"

namespace offsquare::saws {
namespace {

struct Stood {
    const Entry* entry = nullptr;
    double skew_rad = 0.0;
    double u_rad = 0.0;
    double slope = 0.0;  ///< of the shims behind it: (right - left)/span
};

/// The newest test before this one on a fence that was only shimmed since; and how the fence stands now.
struct Chain {
    std::optional<Stood> last;
    Standing now;
};

Chain chain_of(const Sled& sled, Date date, std::optional<int> corrects) {
    Chain c;
    const Entry* last = nullptr;
    double slope_then = 0.0;
    for (const Entry* e : in_effect(sled)) {
        if (e->number == corrects || e->date > date) break;
        if (const auto* moved = std::get_if<ShimsMoved>(&e->what)) c.now = moved_on(std::move(c.now), *moved);
        const auto* done = std::get_if<PutRight>(&e->what);
        if (std::holds_alternative<FenceMoved>(e->what) || (done != nullptr && done->fault)) last = nullptr;
        const auto* test = std::get_if<StripTest>(&e->what);
        if (test == nullptr) continue;
        last = e;
        slope_then = (total_mm(c.now.right) - total_mm(c.now.left)) / test->strip.span->value;
    }
    if (last == nullptr) return c;
    const diagnose::StripReadings r =
        strip_readings(std::get<StripTest>(last->what).strip, set_up_of(sled, last->date));
    const base::Uncertain skew = diagnose::skew_from_strip(r);
    c.last = Stood{last, skew.value, skew.u, slope_then};
    return c;
}

}  // namespace

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

Questions ends_in_doubt(const Sled& sled, const Strip& strip, Date date, base::Units units,
                        std::optional<int> corrects) {
    if (strip.fence_end.empty() || strip.far_end.empty() || !strip.between || !strip.fell) return {};
    const Chain chain = chain_of(sled, date, corrects);
    if (!chain.last) return {};
    const SetUp set_up = set_up_of(sled, date);
    const diagnose::StripReadings readings = strip_readings(strip, set_up);
    if (!too_steep(readings).empty()) return {};
    const base::Uncertain is = diagnose::skew_from_strip(readings);
    const double span = strip.span ? strip.span->value : set_up.scenario.drawing.fence.span_mm();
    const double slope = (total_mm(chain.now.right) - total_mm(chain.now.left)) / span;
    const double turned = slope - chain.last->slope;
    const double by_chance = usual_scatter_rad(set_up.scenario.drawing, turned != 0.0, strip.brushed);
    const double u = std::sqrt(is.u * is.u + chain.last->u_rad * chain.last->u_rad + 2.0 * by_chance * by_chance);
    const auto off = [&](double now, double then) { return std::abs(now - (then + turned)) / u; };
    const double then = chain.last->skew_rad;
    const double apart = std::abs(is.value - (then + turned));
    // So far off as hardly ever by chance, and near where the other way round lies.
    constexpr double contradicts = 4.0;
    constexpr double fits = 2.5;
    // Where they lie far further apart than any chance makes them, the much nearer of the two is enough.
    const bool far_apart = apart > 4.0 * set_up.scenario.drawing.tolerance_rad;
    constexpr double much_nearer = 3.0;
    // A difference that hardly counts need not be asked about.
    if (off(is.value, then) < contradicts || apart < 2.0 * set_up.scenario.drawing.tolerance_rad) return {};
    const double as_typed = off(is.value, then);
    const auto fits_so = [&](double how_far) {
        return how_far < fits || (far_apart && much_nearer * how_far < as_typed);
    };
    const bool this_one = fits_so(off(-is.value, then));
    const bool other_one = fits_so(off(is.value, -then));
    if (!this_one && !other_one) return {};
    const std::string when =
        fmt::format("the test of {} (entry {})", in_words(chain.last->entry->date), chain.last->entry->number);
    const char* which = this_one && other_one ? "one of the two strips" : this_one ? "this strip" : "the earlier strip";
    return {
        {Field::ends,
         0,
         fmt::format("This strip says that the {} end of the fence is too near you by {}; after {}{} that cannot be. "
                     "It would fit if the two ends of {} were exchanged, or if it had fallen on the other side.",
                     is.value > 0.0 ? "left" : "right", base::show_angle(std::abs(is.value), units), when,
                     turned != 0.0 ? " and the shims since" : "", which),
         {},
         this_one,
         chain.last->entry->number}};
}

}  // namespace offsquare::saws
