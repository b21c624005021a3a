#include "saws/slips_of_ends.h"

#include <cmath>

#include <fmt/format.h>

#include "saws/shims_told.h"

namespace offsquare::saws {
namespace {

// So far off as hardly ever by chance, and near where the other reading of it lies.
constexpr double contradicts = 4.0;
constexpr double fits = 2.5;
constexpr double much_nearer = 3.0;

/// What else would make the strip fit.
struct Otherwise {
    bool this_strip = false;   ///< its ends exchanged
    bool other_strip = false;  ///< those of the one before
    bool other_end = false;    ///< the shims behind the other end
};

Otherwise otherwise(const AgainstBefore& a, double tolerance_rad) {
    const auto off = [&](double is, double should_be) { return std::abs(is - should_be) / a.u(); };
    const double as_typed = off(a.is.value, a.should_be());
    // Where they lie far further apart than any chance makes them, the much nearer of the two is enough.
    const bool far_apart = std::abs(a.is.value - a.should_be()) > 4.0 * tolerance_rad;
    const auto fits_so = [&](double is, double should_be) {
        const double how_far = off(is, should_be);
        return how_far < fits || (far_apart && much_nearer * how_far < as_typed);
    };
    return {fits_so(-a.is.value, a.should_be()), fits_so(a.is.value, a.turned - a.was.value),
            a.turned != 0.0 && fits_so(a.is.value, a.was.value - a.turned)};
}

std::string would_fit(const Otherwise& o) {
    const char* which = o.this_strip && o.other_strip ? "one of the two strips"
                        : o.this_strip                ? "this strip"
                                                      : "the earlier strip";
    const std::string exchanged =
        fmt::format("It would fit if the two ends of {} were exchanged, or if it had fallen on the other side.", which);
    const std::string shims = "if the shims went behind the other end than the one that was written down.";
    if (!o.this_strip && !o.other_strip) return "It would fit " + shims;
    return o.other_end ? exchanged + " Or " + shims : exchanged;
}

}  // namespace

Questions ends_in_doubt(const Sled& sled, const Strip& strip, Date date, base::Units units,
                        std::optional<int> corrects) {
    const auto a = against_before(sled, strip, date, corrects);
    if (!a) return {};
    const double tolerance = set_up_of(sled, date).scenario.drawing.tolerance_rad;
    const double apart = std::abs(a->is.value - a->should_be());
    // A difference that hardly counts need not be asked about.
    if (apart < contradicts * a->u() || apart < 2.0 * tolerance) return {};
    const Otherwise o = otherwise(*a, tolerance);
    if (!o.this_strip && !o.other_strip && !o.other_end) return {};
    const std::string when = fmt::format("the test of {} (entry {})", in_words(a->before->date), a->before->number);
    return {{Field::ends,
             0,
             fmt::format("This strip says that the {} end of the fence is too near you by {}; after {}{} that cannot "
                         "be. {}",
                         a->is.value > 0.0 ? "left" : "right", base::show_angle(std::abs(a->is.value), units), when,
                         a->turned != 0.0 ? " and the shims since" : "", would_fit(o)),
             {},
             o.this_strip,
             a->before->number}};
}

}  // namespace offsquare::saws
