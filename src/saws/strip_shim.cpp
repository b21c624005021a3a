#include "saws/strip_shim.h"

#include <cmath>

#include <fmt/format.h>

namespace offsquare::saws {
namespace {

std::string why_of(const diagnose::StripReadings& strip, shim::At at, bool tells_end) {
    if (at == shim::At::none)
        return "both ends of the strip are equal, so the four corners add up to nothing and the fence is square as far "
               "as these readings tell.";
    const bool wider_at_fence = strip.fence_end_mm.value > strip.far_end_mm.value;
    return fmt::format(
        "the strip fell on the {} and is wider at the {} end, so the {} end of the fence sits too near you.{}",
        strip.side == shop::Side::left ? "left" : "right", wider_at_fence ? "fence" : "far", shim::name_of(at),
        tells_end ? "" : " But the readings allow zero and the other end too: cut and read once more before you shim.");
}

}  // namespace

StripShim shim_of(const diagnose::StripReadings& strip, double span_mm) {
    StripShim s;
    s.skew_rad = diagnose::skew_from_strip(strip);
    s.shim_mm = shim::ideal_shim(s.skew_rad, span_mm);
    s.at = s.skew_rad.value > 0.0 ? shim::At::left : s.skew_rad.value < 0.0 ? shim::At::right : shim::At::none;
    s.coverage95_mm = base::coverage(s.shim_mm);
    s.why = why_of(strip, s.at, s.tells_end());
    return s;
}

std::string too_steep(const diagnose::StripReadings& strip) {
    const double taper = std::abs(strip.fence_end_mm.value - strip.far_end_mm.value) / strip.between_mm.value;
    if (taper < 0.2) return "";  // where diagnose::skew_from_strip stops
    return fmt::format(
        "a strip that tapers by {:.3g} of its length is not from a five-cut test; below 0.2 is allowed. "
        "Are the widths, the length and their units right?",
        taper);
}

}  // namespace offsquare::saws
