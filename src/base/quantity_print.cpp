// Printing. Rounding is done on the decimal digits, half away from zero, because a person who typed 0.0125 expects
// 0.013 and not what the nearest binary number happens to round to.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/elementary.h"
#include "base/quantity.h"

namespace offsquare::base {
namespace {

constexpr int significant =
    15;  // decimal digits that a double holds for certain; more would show the binary noise of a change of unit
constexpr int most_decimals = 15;

/// Adds one unit in the last place to a string of decimal digits.
std::string counted_up(std::string digits) {
    std::size_t i = digits.size();
    while (i > 0 && digits[i - 1] == '9') digits[--i] = '0';
    if (i == 0) return "1" + digits;
    digits[i - 1] = static_cast<char>(digits[i - 1] + 1);
    return digits;
}

/// magnitude = 0.digits * 10^(point), `significant` digits.
struct Scientific {
    std::string digits;
    int point = 0;
};

Scientific scientific(double magnitude) {
    const std::string text = fmt::format("{:.{}e}", magnitude, significant - 1);  // d.dddde+-XX
    return {text.substr(0, 1) + text.substr(2, significant - 1), std::stoi(text.substr(text.find('e') + 1)) + 1};
}

/// The digits cut after the first `keep`, rounded.
std::string rounded(const std::string& digits, int keep) {
    if (keep < 0) return "0";
    const std::string kept = digits.substr(0, static_cast<std::size_t>(keep));
    return digits[static_cast<std::size_t>(keep)] >= '5' ? counted_up(kept) : kept;
}

std::string magnitude_text(double magnitude, int decimals) {
    const Scientific s = scientific(magnitude);
    const int keep = s.point + decimals;
    if (keep >= significant) return fmt::format("{:.{}f}", magnitude, decimals);
    std::string digits = rounded(s.digits, keep);
    const auto places = static_cast<std::size_t>(decimals);
    if (digits.size() <= places) digits.insert(0, places + 1 - digits.size(), '0');
    if (places > 0) digits.insert(digits.size() - places, 1, '.');
    return digits;
}

/// The number with so many decimals; no sign before a zero.
std::string fixed(double v, int decimals) {
    if (!std::isfinite(v)) return "no value";
    const std::string text = magnitude_text(std::fabs(v), std::clamp(decimals, 0, most_decimals));
    const bool zero = text.find_first_of("123456789") == std::string::npos;
    return v < 0.0 && !zero ? "-" + text : text;
}

std::string without_trailing_zeros(std::string text) {
    if (text.find('.') == std::string::npos) return text;
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

double inches(double length_mm) { return length_mm / mm_per_inch; }

/// Sixty-fourths of an inch, half away from zero.
double sixty_fourths(double length_mm) { return std::round(length_mm * 64.0 / mm_per_inch); }

std::string fraction_text(double length_mm) {
    if (!std::isfinite(length_mm)) return "no value";
    const double parts = std::fabs(sixty_fourths(length_mm));
    const double whole = std::floor(parts / 64.0);
    int top = static_cast<int>(parts - 64.0 * whole);
    int bottom = 64;
    while (top != 0 && top % 2 == 0) {
        top /= 2;
        bottom /= 2;
    }
    const std::string sign = length_mm < 0.0 && parts != 0.0 ? "-" : "";
    if (top == 0) return sign + fixed(whole, 0);
    return sign + (whole == 0.0 ? "" : fixed(whole, 0) + " ") + fmt::format("{}/{}", top, bottom);
}

/// The true minus in front of a number that starts with a hyphen.
std::string for_people(std::string text) {
    if (text.starts_with('-')) text.replace(0, 1, "\xe2\x88\x92");
    return text;
}

/// An angle as a person reads it: in which unit, how many of it, to how many decimals.
struct InUnit {
    double count;
    int decimals;
    const char* unit;
};

InUnit as_slope(double angle_rad, Units units) {
    const double gap = tan_of(angle_rad);
    return units == Units::metric ? InUnit{1000.0 * gap, 2, " mm in 1 m"} : InUnit{12000.0 * gap, 1, " thou in 12 in"};
}

InUnit as_asked(double angle_rad, Units units) {
    return units.angles == Units::Angles::mrad ? InUnit{1000.0 * angle_rad, 2, " mrad"} : as_slope(angle_rad, units);
}

std::string digits_of(const InUnit& angle) { return for_people(fixed(angle.count, angle.decimals)); }

/// Whether it would be shown as nought.
bool is_nought(const InUnit& angle) {
    return std::isfinite(angle.count) && digits_of(angle).find_first_of("123456789") == std::string::npos;
}

/// One of the last decimal in place of nought.
InUnit at_least_shown(InUnit angle) {
    if (is_nought(angle)) angle.count = std::pow(10.0, -angle.decimals);
    return angle;
}

std::string text_of(const InUnit& angle) { return digits_of(angle) + angle.unit; }

const char* less_than(const InUnit& angle) { return is_nought(angle) ? "less than " : ""; }

std::string with(const std::string& number, const char* unit, bool wanted) { return wanted ? number + unit : number; }

}  // namespace

std::string print_length(double length_mm, LengthStyle style, int decimals, bool with_unit) {
    switch (style) {
        case LengthStyle::mm: return with(fixed(length_mm, decimals), " mm", with_unit);
        case LengthStyle::inch: return with(fixed(inches(length_mm), decimals), " in", with_unit);
        case LengthStyle::inch_fraction: return with(fraction_text(length_mm), " in", with_unit);
        case LengthStyle::thou: return with(fixed(1000.0 * length_mm / mm_per_inch, decimals), " thou", with_unit);
    }
    return {};
}

std::string print_angle(double angle_rad, AngleStyle style, int decimals, bool with_unit) {
    switch (style) {
        case AngleStyle::mrad: return with(fixed(1000.0 * angle_rad, decimals), " mrad", with_unit);
        case AngleStyle::degree: return with(fixed(angle_rad / pi * 180.0, decimals), "\xc2\xb0", with_unit);
        case AngleStyle::mm_per_m: return with(fixed(1000.0 * tan_of(angle_rad), decimals), " mm/m", with_unit);
        case AngleStyle::inch_per_foot: return with(fixed(12.0 * tan_of(angle_rad), decimals), " in/ft", with_unit);
    }
    return {};
}

std::string show_size(double length_mm, Units units) {
    if (units == Units::metric) return for_people(without_trailing_zeros(fixed(length_mm, 2)) + " mm");
    const double parts = sixty_fourths(length_mm);
    const double off_in = std::fabs(length_mm - parts * mm_per_inch / 64.0) / mm_per_inch;
    const bool vanishes = parts == 0.0 && length_mm != 0.0;  // a thin thing must not read `0 in`
    const bool a_fraction = off_in <= 0.002 && !vanishes;
    return for_people(a_fraction ? print_length(length_mm, LengthStyle::inch_fraction, 0)
                                 : print_length(length_mm, LengthStyle::inch, 3));
}

std::string show_about(double length_mm, Units units) {
    const double eighth_mm = mm_per_inch / 8.0;
    const double rounded_mm = eighth_mm * std::round(length_mm / eighth_mm);
    return show_size(units == Units::metric || rounded_mm == 0.0 ? length_mm : rounded_mm, units);
}

std::string show_reading(double length_mm, Units units) {
    return for_people(units == Units::metric ? print_length(length_mm, LengthStyle::mm, 3)
                                             : print_length(length_mm, LengthStyle::inch, 4));
}

std::string show_small(double length_mm, Units units) { return show_reading(length_mm, units); }

std::string show_angle(double angle_rad, Units units) {
    const InUnit slope = as_slope(angle_rad, units);
    const std::string text = less_than(slope) + text_of(at_least_shown(slope));
    if (units.angles == Units::Angles::slope) return text;
    return fmt::format("{} ({})", text, text_of(at_least_shown(as_asked(angle_rad, units))));
}

std::string show_angle_short(double angle_rad, Units units) {
    const InUnit angle = as_asked(angle_rad, units);
    return less_than(angle) + text_of(at_least_shown(angle));
}

std::string show_angle_number(double angle_rad, Units units) {
    const InUnit angle = as_asked(angle_rad, units);
    return less_than(angle) + digits_of(at_least_shown(angle));
}

std::string show_angle_unit(Units units) { return std::string(as_asked(0.0, units).unit).substr(1); }

std::string show_angle_within(double middle_rad, double half_rad, Units units) {
    const InUnit middle = as_asked(middle_rad, units);
    return fmt::format("{} ± {}{}", digits_of(middle), show_angle_number(half_rad, units), middle.unit);
}

}  // namespace offsquare::base
