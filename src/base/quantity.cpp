// Reading. A typed number is kept as decimal digits, a power of ten and a denominator until its unit is known, so that
// 0.485in becomes the double nearest to 12.319 mm and not a product of rounded factors. Text is cleaned to ASCII
// first (quantity_text.h); std::from_chars knows no locale.
#include "base/quantity.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>

#include <fmt/format.h>

#include "base/elementary.h"
#include "base/quantity_text.h"

namespace offsquare::base {
namespace {

constexpr double largest_length_mm = 1e6;       // a kilometre: no shop is longer, and every 64th stays exact
constexpr double largest_angle_rad = pi / 2.0;  // beyond a quarter turn a set-up error means nothing
constexpr std::size_t longest_text = 100;       // bytes
constexpr int largest_power = 60;               // of ten, of the last digit: keeps steps and values away from overflow
constexpr std::size_t exact_digits = 15;        // up to here digits * unit fits 63 bits
constexpr std::size_t fraction_digits = 6;  // of a whole part, numerator or denominator: their products stay below 2^53

/// One unit is `factor` * 10^`power` millimetres (or, for an angle in decimal units, radians); exact.
struct Scale {
    int factor = 1;
    int power = 0;
};

struct NamedScale {
    std::string_view name;
    Scale scale;
};

constexpr Scale inch_scale = {254, -1};
constexpr Scale foot_scale = {3048, -1};
constexpr std::array<NamedScale, 17> length_names = {{{"mm", {1, 0}},
                                                      {"cm", {1, 1}},
                                                      {"m", {1, 3}},
                                                      {"um", {1, -3}},
                                                      {"in", inch_scale},
                                                      {"inch", inch_scale},
                                                      {"inches", inch_scale},
                                                      {"\"", inch_scale},
                                                      {"thou", {254, -4}},
                                                      {"ft", foot_scale},
                                                      {"foot", foot_scale},
                                                      {"feet", foot_scale},
                                                      {"'", foot_scale},
                                                      {"micron", {1, -3}},
                                                      {"microns", {1, -3}},
                                                      {"millimetre", {1, 0}},
                                                      {"millimetres", {1, 0}}}};

/// One unit is `scale` / `parts` of pi, or `scale` radians where parts is 0.
struct AngleScale {
    Scale scale;
    double parts = 0.0;
};

struct NamedAngle {
    std::string_view name;
    AngleScale scale;
};

constexpr AngleScale degree_scale = {{1, 0}, 180.0};
constexpr AngleScale minute_scale = {{1, 0}, 10800.0};
constexpr std::array<NamedAngle, 9> angle_names = {{{"rad", {{1, 0}, 0.0}},
                                                    {"mrad", {{1, -3}, 0.0}},
                                                    {"urad", {{1, -6}, 0.0}},
                                                    {"deg", degree_scale},
                                                    {"degree", degree_scale},
                                                    {"degrees", degree_scale},
                                                    {"arcmin", minute_scale},
                                                    {"'", minute_scale},
                                                    {"arcminutes", minute_scale}}};

/// A number as typed: digits * 10^power / denominator.
struct Number {
    std::string digits = "0";  ///< no leading zeros but for zero itself
    int power = 0;
    std::uint64_t denominator = 1;
};

/// What was expected, once per kind of thing that can be asked for.
struct Kind {
    std::string_view name;
    std::string_view expected;
};
constexpr Kind a_length_in_mm = {"a length",
                                 "a number with a unit (mm, cm, m, um, in, thou, ft), for example 0.4 mm or 15 3/8 in"};
constexpr Kind a_length_in_inches = {
    "a length", "a number with a unit (in, thou, ft, mm, cm, m, um), for example 15 3/8 in or 4 thou"};
constexpr Kind an_angle = {
    "an angle",
    "a gap per length or a number with a unit (deg, arcmin, rad and its parts), for example 0.5 mm/m or 0.003 in/ft"};
constexpr Kind a_number = {"a number", "digits with at most one decimal sign, for example 12 or -3.25"};

// ---- the cleaned text -----------------------------------------------------------------------------------------------

tl::unexpected<Problem> refuse(const Kind& kind, std::string_view text, std::string_view why) {
    return fail(Grade::bad_data, fmt::format("found \"{}\", which is not {}: {}. Expected {}.", shown(text), kind.name,
                                             why, kind.expected));
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return c >= 'a' && c <= 'z'; }
bool is_decimal_sign(char c) { return c == '.' || c == ','; }

/// A place in the cleaned text.
class Cursor {
public:
    explicit Cursor(std::string_view text) : text_(text) {}
    std::string_view rest() const { return text_; }
    bool at_end() const { return text_.empty(); }
    char peek(std::size_t ahead = 0) const { return ahead < text_.size() ? text_[ahead] : '\0'; }
    void skip(std::size_t n) { text_.remove_prefix(n); }
    void skip_spaces() {
        while (peek() == ' ') skip(1);
    }
    bool take(char c) {
        if (at_end() || peek() != c) return false;
        skip(1);
        return true;
    }
    template <class Test>
    std::string_view take_while(Test test) {
        std::size_t n = 0;
        while (n < text_.size() && test(text_[n])) ++n;
        const std::string_view run = text_.substr(0, n);
        skip(n);
        return run;
    }

private:
    std::string_view text_;
};

// ---- numbers --------------------------------------------------------------------------------------------------------

/// Either a number, or why there is none.
template <class T>
using Found = tl::expected<T, std::string>;
tl::unexpected<std::string> because(std::string why) { return tl::unexpected<std::string>(std::move(why)); }

std::string without_leading_zeros(std::string digits) {
    digits.erase(0, std::min(digits.find_first_not_of('0'), digits.size() - 1));
    return digits;
}

/// The power of ten after `e`, or 0 where there is none.
Found<int> take_exponent(Cursor& at) {
    const bool has_sign = at.peek(1) == '-' || at.peek(1) == '+';
    if (at.peek() != 'e' || !is_digit(at.peek(has_sign ? 2 : 1))) return 0;
    const bool negative = at.peek(1) == '-';
    at.skip(has_sign ? 2 : 1);
    const std::string_view run = at.take_while(is_digit);
    int power = 0;
    const auto read = std::from_chars(run.data(), run.data() + run.size(), power);
    if (read.ec != std::errc() || power > largest_power) return because("its power of ten is too large");
    return negative ? -power : power;
}

Found<Number> take_decimal(Cursor& at) {
    const std::string whole(at.take_while(is_digit));
    const bool pointed = is_decimal_sign(at.peek()) && (!whole.empty() || is_digit(at.peek(1)));
    if (pointed) at.skip(1);
    const std::string part(pointed ? at.take_while(is_digit) : std::string_view{});
    if (whole.empty() && part.empty()) {
        return because(at.at_end() ? std::string("a number is missing at its end")
                                   : fmt::format("no number at \"{}\"", shown(at.rest())));
    }
    if (is_decimal_sign(at.peek()))
        return because("it has a second decimal sign in one number (digit groups are not read)");
    const Found<int> typed_power = take_exponent(at);
    if (!typed_power) return because(typed_power.error());
    const int power = *typed_power - static_cast<int>(part.size());
    if (power < -largest_power) return because("it has more decimals than any measurement");
    return Number{without_leading_zeros(whole + part), power, 1};
}

/// Where a fraction starts at `from`: the bytes up to its slash, numerator included; 0 where none starts.
std::size_t slash_after_digits(const Cursor& at, std::size_t from) {
    std::size_t i = from;
    while (is_digit(at.peek(i))) ++i;
    return i > from && at.peek(i) == '/' && is_digit(at.peek(i + 1)) ? i : 0;
}

std::uint64_t integer(std::string_view digits) {
    std::uint64_t v = 0;
    std::from_chars(digits.data(), digits.data() + digits.size(), v);
    return v;
}

/// The numerator, slash and denominator at the cursor, on top of a whole number.
Found<Number> take_fraction(Cursor& at, std::string_view whole) {
    const std::string_view top = at.take_while(is_digit);
    at.skip(1);
    const std::string_view bottom = at.take_while(is_digit);
    if (std::max({whole.size(), top.size(), bottom.size()}) > fraction_digits)
        return because("its fraction has too many digits");
    if (integer(bottom) == 0) return because("the lower number of its fraction is zero");
    if (!whole.empty() && integer(top) >= integer(bottom))
        return because("the fraction after a whole number must be less than one");
    const std::uint64_t parts = integer(whole) * integer(bottom) + integer(top);
    return Number{fmt::format("{}", parts), 0, integer(bottom)};
}

/// `12`, `0.5`, `3/8`, `15 3/8` or `15-3/8`.
Found<Number> take_number(Cursor& at) {
    if (slash_after_digits(at, 0) != 0) return take_fraction(at, {});
    const Cursor before = at;
    const std::string_view whole = Cursor(at).take_while(is_digit);
    if (!whole.empty()) {
        at.skip(whole.size());
        const bool hyphen = at.take('-');
        if (!hyphen) at.skip_spaces();
        const bool apart = hyphen || before.peek(whole.size()) == ' ';
        if (apart && slash_after_digits(at, 0) != 0) return take_fraction(at, whole);
        at = before;
    }
    return take_decimal(at);
}

std::optional<double> decimal_value(std::string_view digits, int power) {
    const std::string text = fmt::format("{}e{}", digits, power);
    double v = 0.0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), v);
    if (read.ec != std::errc() || !std::isfinite(v)) return std::nullopt;
    return v;
}

/// number * scale, rounded once wherever the digits allow. Powers are small enough (largest_power) that nothing
/// overflows.
double scaled(const Number& n, Scale scale) {
    if (n.denominator != 1) {
        const auto top = static_cast<double>(integer(n.digits) * static_cast<std::uint64_t>(scale.factor));
        const double bottom = static_cast<double>(n.denominator);
        const double ten = decimal_value("1", scale.power < 0 ? -scale.power : scale.power).value_or(1.0);
        return scale.power < 0 ? top / (bottom * ten) : top * ten / bottom;
    }
    if (n.digits.size() <= exact_digits) {
        const std::uint64_t product = integer(n.digits) * static_cast<std::uint64_t>(scale.factor);
        return decimal_value(fmt::format("{}", product), n.power + scale.power).value_or(0.0);
    }
    return decimal_value(n.digits, n.power + scale.power).value_or(0.0) * scale.factor;
}

/// What one unit of the last typed digit is worth.
double step_of(const Number& n, Scale scale) { return scaled(Number{"1", n.power, n.denominator}, scale); }

/// 127 is a prime of the inch (25.4 = 2 · 127 / 10) and of no metric unit.
Typed typed(const Number& n, Scale scale) { return {scaled(n, scale), step_of(n, scale), scale.factor % 127 == 0}; }

// ---- units ----------------------------------------------------------------------------------------------------------

/// The unit at the cursor, after spaces: a word or one quote mark; empty where none stands.
std::string_view take_unit(Cursor& at) {
    at.skip_spaces();
    if (at.peek() == '\'' || at.peek() == '"') {
        const std::string_view mark = at.rest().substr(0, 1);
        at.skip(1);
        return mark;
    }
    return at.take_while(is_letter);
}

std::optional<Scale> length_scale(std::string_view name) {
    for (const NamedScale& n : length_names) {
        if (n.name == name) return n.scale;
    }
    return std::nullopt;
}

std::optional<AngleScale> angle_scale(std::string_view name) {
    for (const NamedAngle& n : angle_names) {
        if (n.name == name) return n.scale;
    }
    return std::nullopt;
}

bool is_foot(std::string_view name) { return name == "ft" || name == "foot" || name == "feet" || name == "'"; }

constexpr Scale scale_of(LengthUnit unit) {
    switch (unit) {
        case LengthUnit::mm: return {1, 0};
        case LengthUnit::inch: return inch_scale;
        case LengthUnit::thou: return {254, -4};
        case LengthUnit::foot: return foot_scale;
    }
    return {1, 0};
}

constexpr AngleScale scale_of(AngleUnit unit) {
    switch (unit) {
        case AngleUnit::rad: return {{1, 0}, 0.0};
        case AngleUnit::mrad: return {{1, -3}, 0.0};
        case AngleUnit::degree: return degree_scale;
    }
    return {{1, 0}, 0.0};
}

// ---- lengths and angles, after the sign ----

/// The unit must be known; an empty name is allowed where `otherwise` is given.
Found<Scale> known_length_unit(std::string_view name, std::optional<Scale> otherwise) {
    if (name.empty()) {
        if (otherwise) return *otherwise;
        return because("a length in it has no unit");
    }
    const auto scale = length_scale(name);
    if (!scale) return because(fmt::format("\"{}\" is not a unit of length", shown(name)));
    return *scale;
}

/// The inches that may follow feet: `3 1/2in`, also after a hyphen.
Found<Typed> add_inches(Cursor& at, Typed feet) {
    at.take('-');
    at.skip_spaces();
    const Found<Number> number = take_number(at);
    if (!number) return because(number.error());
    const std::string_view unit = take_unit(at);
    if (length_scale(unit).value_or(foot_scale).factor != inch_scale.factor || unit == "thou") {
        return because("what follows the feet must be inches with their unit (in or \")");
    }
    const Typed inches = typed(*number, inch_scale);
    return Typed{feet.value + inches.value, inches.step, true};
}

Found<Typed> take_length(Cursor& at, LengthUnit assumed) {
    const Found<Number> number = take_number(at);
    if (!number) return because(number.error());
    const std::string_view unit = take_unit(at);
    const Found<Scale> scale = known_length_unit(unit, scale_of(assumed));
    if (!scale) return because(scale.error());
    const Typed first = typed(*number, *scale);
    at.skip_spaces();
    const bool more = is_digit(at.peek()) || is_decimal_sign(at.peek()) || (at.peek() == '-' && is_digit(at.peek(1)));
    return is_foot(unit) && more ? add_inches(at, first) : Found<Typed>(first);
}

/// `/` or the word `in`, before the length of a gap per length.
bool take_per(Cursor& at) {
    if (at.take('/')) return true;
    if (!at.rest().starts_with("in") || is_letter(at.peek(2))) return false;
    at.skip(2);
    return true;
}

/// What stands after that; the number may be left out (`/ft`).
Found<double> take_per_length(Cursor& at) {
    at.skip_spaces();
    Found<Number> number = Number{"1", 0, 1};
    if (!is_letter(at.peek())) number = take_number(at);
    if (!number) return because(number.error());
    const Found<Scale> scale = known_length_unit(take_unit(at), std::nullopt);
    if (!scale) return because(scale.error());
    const double length_mm = scaled(*number, *scale);
    if (!(length_mm > 0.0)) return because("the length that the gap is over is zero");
    return length_mm;
}

/// The angle whose tangent is gap over length; the step follows by the derivative of the arc tangent.
Found<Typed> take_gap(Cursor& at, const Number& number, std::string_view unit) {
    const Found<Scale> scale = known_length_unit(unit, std::nullopt);
    if (!scale) return because(scale.error());
    const Typed gap = typed(number, *scale);
    const Found<double> length_mm = take_per_length(at);
    if (!length_mm) return because(length_mm.error());
    const double slope = gap.value / *length_mm;
    return Typed{atan_of(slope), gap.step / *length_mm / (1.0 + slope * slope)};
}

Typed typed(const Number& n, AngleScale a) {
    const Typed t = typed(n, a.scale);
    return a.parts == 0.0 ? t : Typed{t.value / a.parts * pi, t.step / a.parts * pi};
}

Found<Typed> take_angle(Cursor& at, AngleUnit assumed) {
    const Found<Number> number = take_number(at);
    if (!number) return because(number.error());
    const std::string_view unit = take_unit(at);
    at.skip_spaces();
    if (take_per(at)) return take_gap(at, *number, unit);
    if (unit.empty()) return typed(*number, scale_of(assumed));
    const auto scale = angle_scale(unit);
    if (scale) return typed(*number, *scale);
    if (length_scale(unit)) return because("a length alone is no angle (say over which length, as in 0.003 in/ft)");
    return because(fmt::format("\"{}\" is not a unit of angle", shown(unit)));
}

/// Why no reading should even be tried, or nothing.
std::optional<std::string> hopeless(std::string_view text) {
    if (text.find_first_not_of(" \t") == std::string_view::npos) return "it is empty";
    if (text.size() > longest_text)
        return fmt::format("it has {} bytes where {} are allowed", text.size(), longest_text);
    const bool both = text.find('.') != std::string_view::npos && text.find(',') != std::string_view::npos;
    if (both) return "it has both . and , (use one of them as the decimal sign; digit groups are not read)";
    return std::nullopt;
}

/// Sign, body, end: the frame of every quantity. `take` reads the body.
template <class Take>
Result<Typed> read(std::string_view text, const Kind& kind, double largest, std::string_view limit, Take take) {
    if (const auto why = hopeless(text)) return refuse(kind, text, *why);
    const std::string clean = cleaned(text);
    Cursor at(clean);
    at.skip_spaces();
    const bool negative = at.take('-');
    if (!negative) at.take('+');
    at.skip_spaces();
    Found<Typed> found = take(at);
    if (!found) return refuse(kind, text, found.error());
    at.skip_spaces();
    if (is_digit(at.peek()))
        return refuse(kind, text,
                      fmt::format("a second number stands at \"{}\" (digit groups are not read)", shown(at.rest())));
    if (!at.at_end()) return refuse(kind, text, fmt::format("it goes on with \"{}\"", shown(at.rest())));
    if (!(std::fabs(found->value) <= largest)) return refuse(kind, text, limit);
    if (negative && found->value != 0.0) found->value = -found->value;
    return *found;
}

}  // namespace

Result<Typed> parse_length(std::string_view text, LengthUnit assumed) {
    const bool metric = assumed == LengthUnit::mm;
    return read(text, metric ? a_length_in_mm : a_length_in_inches, largest_length_mm,
                metric ? "it is larger than 1000000 mm" : "it is larger than a kilometre",
                [assumed](Cursor& at) { return take_length(at, assumed); });
}

Result<Typed> parse_angle(std::string_view text, AngleUnit assumed) {
    return read(text, an_angle, largest_angle_rad, "it is larger than a quarter turn (90 deg)",
                [assumed](Cursor& at) { return take_angle(at, assumed); });
}

Result<double> parse_number(std::string_view text) {
    const auto plain = [](Cursor& at) -> Found<Typed> {
        const Found<Number> number = take_decimal(at);
        if (!number) return because(number.error());
        return typed(*number, Scale{});
    };
    return read(text, a_number, std::numeric_limits<double>::max(), "it is too large", plain).map([](const Typed& t) {
        return t.value;
    });
}

}  // namespace offsquare::base
