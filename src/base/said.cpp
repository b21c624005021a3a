// Sentences of the program's own stand in its tables in millimetres and milliradians, once; here they become what the
// person has chosen to read.
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <vector>

#include <fmt/format.h>

#include "base/elementary.h"
#include "base/quantity.h"

namespace offsquare::base {
namespace {
namespace in_prose {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; }

/// A decimal number in a text, without its sign.
struct Number {
    double value = 0.0;
    int decimals = 0;
    std::size_t end = 0;  ///< the place behind it
};

/// The number that begins at `at`; none inside a word or of a number in several parts, as in "2.2.7".
std::optional<Number> number_at(std::string_view text, std::size_t at) {
    if (at >= text.size() || !is_digit(text[at])) return std::nullopt;
    if (at > 0 && (is_letter(text[at - 1]) || is_digit(text[at - 1]) || text[at - 1] == '.')) return std::nullopt;
    Number n;
    n.end = at;
    while (n.end < text.size() && is_digit(text[n.end])) ++n.end;
    if (n.end + 1 < text.size() && text[n.end] == '.' && is_digit(text[n.end + 1])) {
        const std::size_t point = n.end++;
        while (n.end < text.size() && is_digit(text[n.end])) ++n.end;
        n.decimals = static_cast<int>(n.end - point) - 1;
        if (n.end + 1 < text.size() && text[n.end] == '.' && is_digit(text[n.end + 1])) return std::nullopt;
    }
    std::from_chars(text.data() + at, text.data() + n.end, n.value);
    return n;
}

/// The place behind `word` at `at`, where no letter, digit or slash follows it.
std::optional<std::size_t> behind(std::string_view text, std::size_t at, std::string_view word) {
    if (!text.substr(at).starts_with(word)) return std::nullopt;
    const std::size_t end = at + word.size();
    if (end < text.size() && (is_letter(text[end]) || is_digit(text[end]) || text[end] == '/')) return std::nullopt;
    return end;
}

enum class Unit { mm, m, mrad };

/// Numbers with one unit: "0.50, 0.53 and 0.57 mm", "1 to 5 mm", "-3mm"; or one gap over a length: "0.35 mm in 1 m".
struct Measured {
    std::vector<Number> numbers;
    std::vector<std::string_view> between;  ///< what stands between them
    std::string_view space;                 ///< before the unit: one or none
    Unit unit = Unit::mm;
    double over_mm = 0.0;  ///< of a gap
    std::size_t end = 0;
};

constexpr std::array<std::string_view, 5> joints{", ", " and ", " to ", " or ", " by "};

std::optional<std::string_view> joint_at(std::string_view text, std::size_t at) {
    for (const std::string_view joint : joints) {
        if (text.substr(at).starts_with(joint)) return text.substr(at, joint.size());
    }
    return std::nullopt;
}

/// Reads the unit behind the numbers; false where none stands.
bool take_unit(std::string_view text, Measured& m) {
    const std::size_t at = m.numbers.back().end;
    m.space = text.substr(at).starts_with(' ') ? text.substr(at, 1) : std::string_view();
    const std::size_t start = at + m.space.size();
    for (const auto& [word, unit] : {std::pair{"mm", Unit::mm}, {"mrad", Unit::mrad}, {"m", Unit::m}}) {
        if (const auto end = behind(text, start, word)) {
            m.unit = unit;
            m.end = *end;
            return true;
        }
    }
    return false;
}

/// The length that a gap in mm is over: " in 1 m", " in 300 mm".
void take_over(std::string_view text, Measured& m) {
    constexpr std::string_view in = " in ";
    if (m.unit != Unit::mm || !text.substr(m.end).starts_with(in)) return;
    const auto length = number_at(text, m.end + in.size());
    if (!length || !text.substr(length->end).starts_with(' ')) return;
    const auto mm = behind(text, length->end + 1, "mm");
    const auto metres = behind(text, length->end + 1, "m");
    if (!mm && !metres) return;
    m.over_mm = length->value * (mm ? 1.0 : 1000.0);
    m.end = mm ? *mm : *metres;
}

std::optional<Measured> measured_at(std::string_view text, std::size_t at) {
    Measured m;
    auto number = number_at(text, at);
    while (number) {
        m.numbers.push_back(*number);
        if (take_unit(text, m)) {
            take_over(text, m);
            return m;
        }
        const auto joint = joint_at(text, number->end);
        if (!joint) return std::nullopt;
        m.between.push_back(*joint);
        number = number_at(text, number->end + joint->size());
    }
    return std::nullopt;
}

std::string without_trailing_zeros(std::string text) {
    if (text.find('.') == std::string::npos) return text;
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string decimal(double value, int decimals) {
    return print_length(value, LengthStyle::mm, decimals, false);  // rounds as everything that is shown
}

bool is_angle(const Measured& m) { return m.unit == Unit::mrad || m.over_mm > 0.0; }

/// One of its numbers in the unit that `unit_said` names.
std::string number_said(const Measured& m, const Number& n, Units units) {
    if (is_angle(m)) {
        const double slope = m.unit == Unit::mrad ? tan_of(n.value / 1000.0) : n.value / m.over_mm;
        if (units == Units::metric) return decimal(1000.0 * slope, n.decimals);
        return without_trailing_zeros(decimal(12000.0 * slope, n.decimals));
    }
    if (m.unit == Unit::m)
        return without_trailing_zeros(decimal(1000.0 * n.value / (12.0 * mm_per_inch), n.decimals + 1));
    return without_trailing_zeros(print_length(n.value, LengthStyle::inch, n.decimals + 2, false));
}

/// Of a length that need not be exact: an eighth of an inch, or from 6 in on a whole one.
std::string round_inches(double length_mm) {
    constexpr double long_mm = 6.0 * mm_per_inch;
    const double step_mm = length_mm < long_mm ? mm_per_inch / 8.0 : mm_per_inch;
    return print_length(step_mm * std::round(length_mm / step_mm), LengthStyle::inch_fraction, 0, false);
}

/// Whether a length stands there that need not be exact: "about 60 mm", "300 mm or more".
bool is_rough(std::string_view before, const Measured& m, std::string_view behind_it) {
    constexpr double thin_mm = 3.0;  // an eighth would be half of it
    const bool thin =
        std::any_of(m.numbers.begin(), m.numbers.end(), [](const Number& n) { return n.value < thin_mm; });
    return m.unit == Unit::mm && m.over_mm == 0.0 && !thin &&
           (before.ends_with("about ") || behind_it.starts_with(" or more") || behind_it.starts_with(" or less"));
}

std::string unit_said(const Measured& m, Units units) {
    if (is_angle(m)) return units == Units::metric ? " mm in 1 m" : " thou in 12 in";
    return std::string(m.space) + (m.unit == Unit::m ? "ft" : "in");
}

/// Whether this person reads it as it stands.
bool stays(const Measured& m, Units units) {
    if (m.unit == Unit::mrad) return units.angles == Units::Angles::mrad;
    return units == Units::metric;
}

std::string said(const Measured& m, Units units, bool rough) {
    std::string text;
    for (std::size_t i = 0; i < m.numbers.size(); ++i) {
        if (i > 0) text += m.between[i - 1];
        text += rough ? round_inches(m.numbers[i].value) : number_said(m, m.numbers[i], units);
    }
    return text + unit_said(m, units);
}

}  // namespace in_prose
}  // namespace

std::string said_in(std::string_view text, Units units) {
    std::string out;
    std::size_t at = 0;
    while (at < text.size()) {
        const auto m = in_prose::measured_at(text, at);
        if (m && !in_prose::stays(*m, units)) {
            const bool rough =
                units == Units::imperial && in_prose::is_rough(text.substr(0, at), *m, text.substr(m->end));
            out += in_prose::said(*m, units, rough);
            at = m->end;
            continue;
        }
        const std::size_t end = m ? m->end : at + 1;
        out += text.substr(at, end - at);
        at = end;
    }
    return out;
}

}  // namespace offsquare::base
