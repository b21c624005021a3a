#include "scenario/value.h"

#include <charconv>
#include <array>
#include <cmath>
#include <limits>

#include <fmt/format.h>

namespace offsquare::scenario {
namespace {

using Kind = KeyInfo::Kind;
using Done = tl::expected<void, std::string>;
template <class... F>
struct Overloaded : F... {
    using F::operator()...;
};
template <class... F>
Overloaded(F...) -> Overloaded<F...>;

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr std::string_view none = "none";

tl::unexpected<std::string> no(std::string message) { return tl::unexpected<std::string>(std::move(message)); }

base::LengthUnit unit_of(base::Units units) {
    return units == base::Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch;
}

// ---- printing -------------------------------------------------------------------------------------------------------

double rounded_to_15_digits(double v) {
    const std::string text = fmt::format("{:.14e}", v);
    double rounded = v;
    std::from_chars(text.data(), text.data() + text.size(), rounded);  // leaves v where it is not finite
    return rounded;
}

/// The number in a unit as decimal text that reads back as the same double; empty when there is none. Only shortest
/// forms are tried, because that is what is left of a bare number once the file library has made a double of it. The
/// rounded one comes first: it is what a person would have typed.
template <class ReadBack>
std::string exact_text(double shown, double wanted, ReadBack read_back) {
    for (const double candidate :
         {rounded_to_15_digits(shown), shown, std::nextafter(shown, infinite), std::nextafter(shown, -infinite)}) {
        std::string text = fmt::format("{}", candidate);
        const auto back = read_back(text);
        if (back && back->value == wanted) return text;
    }
    return {};
}

std::string length_text(double mm, base::Units bare) {
    if (mm == 0.0) return "0";
    const auto read_back = [bare](const std::string& t) { return base::parse_length(t, unit_of(bare)); };
    const std::string text = exact_text(bare == base::Units::metric ? mm : mm / base::mm_per_inch, mm, read_back);
    return text.empty() ? fmt::format("{} mm", mm) : text;
}

std::string angle_text(double rad) {
    if (rad == 0.0) return "0";
    const std::string text =
        exact_text(rad * 1000.0, rad, [](const std::string& t) { return base::parse_angle(t, base::AngleUnit::mrad); });
    return text.empty() ? fmt::format("{} rad", rad) : text;
}

bool is_bare_number(const std::string& text) {
    return text.find_first_not_of("0123456789.+-e") == std::string::npos && !text.empty();
}

std::string quoted(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') out += '\\';
        if (c == '\n') {
            out += "\\n";
        } else if (c == '\t') {
            out += "\\t";
        } else {
            out += c;
        }
    }
    return out + "\"";
}

std::string quoted_unless_number(const std::string& text) { return is_bare_number(text) ? text : quoted(text); }

std::string points_text(const base::Profile& profile, base::Units bare) {
    std::string out = "[";
    for (const base::Vec2 p : profile.points()) {
        if (out.size() > 1) out += ", ";
        out += "[" + quoted_unless_number(length_text(p.x, bare)) + ", " +
               quoted_unless_number(length_text(p.y, bare)) + "]";
    }
    return out + "]";
}

std::string range_text(double mm, base::Units units) {
    return units == base::Units::metric ? fmt::format("{:.10g} mm", mm)
                                        : fmt::format("{:.4g} in", mm / base::mm_per_inch);
}

/// The words that stand for the values of a choice.
template <class T>
struct Word {
    T value;
    std::string_view word;
};
template <class T>
constexpr std::array<Word<T>, 0> words_of{};
template <>
constexpr std::array words_of<shop::Side>{Word<shop::Side>{shop::Side::left, "left"},
                                          Word<shop::Side>{shop::Side::right, "right"}};
template <>
constexpr std::array words_of<shop::Hand>{
    Word<shop::Hand>{shop::Hand::left, "left"}, Word<shop::Hand>{shop::Hand::middle, "middle"},
    Word<shop::Hand>{shop::Hand::right, "right"}, Word<shop::Hand>{shop::Hand::wandering, "wandering"}};
template <>
constexpr std::array words_of<base::Units>{Word<base::Units::System>{base::Units::metric, "metric"},
                                           Word<base::Units::System>{base::Units::imperial, "imperial"}};
template <>
constexpr std::array words_of<Concern>{Word<Concern>{Concern::corner, "corner"}, Word<Concern>{Concern::face, "face"},
                                       Word<Concern>{Concern::slide, "slide"},
                                       Word<Concern>{Concern::change, "change"}};

template <class Words>
std::string all_words(const Words& words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i)
        text += fmt::format("{}{}", i == 0 ? "" : i + 1 == words.size() ? " or " : ", ", words[i].word);
    return text;
}

std::string allowed_word(const Entry& e) {
    if (std::holds_alternative<Finder<shop::Side>>(e.home)) return all_words(words_of<shop::Side>);
    if (std::holds_alternative<Finder<shop::Hand>>(e.home)) return all_words(words_of<shop::Hand>);
    if (std::holds_alternative<Finder<base::Units>>(e.home)) return all_words(words_of<base::Units>);
    if (std::holds_alternative<Finder<Concern>>(e.home)) return all_words(words_of<Concern>);
    return fmt::format("a text of {:.0f} to {:.0f} letters", e.min, e.max);
}

std::string allowed_count(const Entry& e) {
    if (std::holds_alternative<Finder<std::uint64_t>>(e.home)) return "a whole number from 0 to 18446744073709551615";
    return e.min == e.max ? fmt::format("{:.0f}", e.min)
                          : fmt::format("a whole number from {:.0f} to {:.0f}", e.min, e.max);
}

std::string a_wave(base::Units bare) { return base::said_in("wave 0.05 mm / 180 mm", bare); }

std::string allowed_value(const Entry& e, base::Units bare) {
    const std::string unit = bare == base::Units::metric ? "mm" : "inches";
    switch (e.kind) {
        case Kind::length:
            return fmt::format("a length from {} to {} (a bare number is in {}){}", range_text(e.min, bare),
                               range_text(e.max, bare), unit, e.may_be_none ? ", or none" : "");
        case Kind::angle:
            return base::said_in(
                       fmt::format("an angle from {:.10g} mrad to {:.10g} mrad", e.min * 1000.0, e.max * 1000.0),
                       bare) +
                   std::string(bare_angles);
        case Kind::number: return fmt::format("a number from {:.10g} to {:.10g}", e.min, e.max);
        case Kind::count: return allowed_count(e);
        case Kind::word: return allowed_word(e);
        case Kind::points:
            return fmt::format(
                "at most {} pairs [place, departure] by increasing place, places from {} to {}, departures from {} to "
                "{} (bare numbers are in {}); or a wave by its height and length, \"{}\"",
                longest_list, range_text(-furthest_point_mm, bare), range_text(furthest_point_mm, bare),
                range_text(e.min, bare), range_text(e.max, bare), unit, a_wave(bare));
    }
    return {};
}

std::string example_text(const Entry& e, base::Units bare) {
    const std::string text = base::said_in(e.example, bare);
    return fmt::format("{} = {}", e.key.substr(e.key.rfind('.') + 1),
                       e.kind == Kind::points ? text : quoted_unless_number(text));
}

// ---- reading --------------------------------------------------------------------------------------------------------

/// What was found, why it will not do, and what would.
tl::unexpected<std::string> refuse(Found at, std::string_view why, base::Units bare) {
    return no(fmt::format("{}: {}. {}", key_with_row(*at.entry, at.row), why, allowed(*at.entry, bare)));
}
tl::unexpected<std::string> refuse(Found at, const Raw& raw, std::string_view why, base::Units bare) {
    return refuse(at, fmt::format("found {}, {}", shown(raw), why), bare);
}

/// base's own words for what is wrong with a number, without what it expects in general: here the range is known, too.
std::string reason(const base::Problem& p) { return p.message.substr(0, p.message.find(". Expected")); }

bool inside(double v, double min, double max) { return v >= min && v <= max; }  // false for NaN

bool is_written_number(const Raw& raw) { return raw.type == Raw::Type::text || raw.type == Raw::Type::number; }

/// A length in [mm] or an angle in [rad].
base::Result<double> measured(std::string_view text, Kind kind, base::Units bare) {
    const auto typed =
        kind == Kind::angle ? base::parse_angle(text, base::AngleUnit::mrad) : base::parse_length(text, unit_of(bare));
    return typed.map([](const base::Typed& t) { return t.value; });
}

/// A number, or a length or an angle in [mm] or [rad].
tl::expected<double, std::string> quantity(Found at, const Raw& raw, base::Units bare) {
    const Entry& e = *at.entry;
    if (!is_written_number(raw))
        return refuse(at, raw, "which is not a number or a text with a number and a unit", bare);
    if (e.may_be_none && raw.text == none) return infinite;
    const base::Result<double> value =
        e.kind == Kind::number ? base::parse_number(raw.text) : measured(raw.text, e.kind, bare);
    if (!value) return refuse(at, reason(value.error()), bare);
    if (!inside(*value, e.min, e.max)) return refuse(at, raw, "which is out of range", bare);
    return *value + 0.0;  // no negative zero
}

Done put_number(Scenario& s, Finder<double> finder, Found at, const Raw& raw, base::Units bare) {
    const auto value = quantity(at, raw, bare);
    if (!value) return no(value.error());
    finder(s, at.row) = *value;
    return {};
}

template <class T>
Done put_whole(T& value, Found at, const Raw& raw, base::Units bare) {
    if (!is_written_number(raw)) return refuse(at, raw, "which is not a whole number", bare);
    T read{};
    const char* const end = raw.text.data() + raw.text.size();
    const auto r = std::from_chars(raw.text.data(), end, read);
    if (r.ec == std::errc::result_out_of_range) return refuse(at, raw, "which is out of range", bare);
    if (r.ec != std::errc() || r.ptr != end) return refuse(at, raw, "which is not a whole number", bare);
    if (!inside(static_cast<double>(read), at.entry->min, at.entry->max))
        return refuse(at, raw, "which is out of range", bare);
    value = read;
    return {};
}

/// Why a text will not do, or empty.
std::string fault_of(const std::string& text, const Entry& e) {
    if (!is_utf8(text)) return "which is not UTF-8";
    if (static_cast<double>(text.size()) < e.min) return "which is too short";
    if (static_cast<double>(text.size()) > e.max) return fmt::format("which is too long ({} bytes)", text.size());
    const bool lines = e.key == "story";
    for (const char c : text) {
        const bool control =
            (static_cast<unsigned char>(c) < 0x20U || c == '\x7f') && !(lines && (c == '\n' || c == '\t'));
        if (control) return "which has a control character in it";
    }
    return {};
}

Done put_text(std::string& value, Found at, const Raw& raw, base::Units bare) {
    if (raw.type != Raw::Type::text) return refuse(at, raw, "which is not a text in quotes", bare);
    if (const std::string why = fault_of(raw.text, *at.entry); !why.empty()) return refuse(at, raw, why, bare);
    value = raw.text;
    return {};
}

/// One of a few words.
template <class T>
Done put_choice(T& value, Found at, const Raw& raw, base::Units bare) {
    for (const auto& w : words_of<T>) {
        if (raw.type != Raw::Type::text || raw.text != w.word) continue;
        value = w.value;
        return {};
    }
    return refuse(at, raw, "which is none of the words", bare);
}

template <class T>
std::string word_of(T value) {
    for (const auto& w : words_of<T>) {
        if (w.value == value) return std::string(w.word);
    }
    return {};
}

tl::expected<base::Vec2, std::string> point(Found at, const Raw& raw, base::Units bare) {
    if (raw.type != Raw::Type::list || raw.list.size() != 2)
        return refuse(at, raw, "which is not a pair [place, departure]", bare);
    Entry place = *at.entry;
    place.kind = Kind::length;
    Entry departure = place;
    place.min = -furthest_point_mm;
    place.max = furthest_point_mm;
    const auto t = quantity({&place, at.row}, raw.list[0], bare);
    if (!t) return refuse(at, raw.list[0], "which is no place along the face", bare);
    const auto d = quantity({&departure, at.row}, raw.list[1], bare);
    if (!d) return refuse(at, raw.list[1], "which is no departure", bare);
    return base::Vec2{*t, *d};
}

constexpr std::string_view wave_word = "wave ";
/// A wave is laid over the longest face that a scenario may reasonably have, and has at least this length: some 500
/// points.
constexpr double wave_reach_mm = 1000.0;
constexpr double shortest_wave_mm = 50.0;

/// "wave 0.05 mm / 180 mm": height from trough to crest, and length.
Done put_wave(base::Profile& value, Found at, const Raw& raw, base::Units bare) {
    const std::string_view both = std::string_view(raw.text).substr(wave_word.size());
    const std::size_t slash = both.rfind(" / ");
    if (slash == std::string_view::npos) return refuse(at, raw, "which is not a wave; write " + a_wave(bare), bare);
    const auto unit = bare == base::Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch;
    const auto height = base::parse_length(both.substr(0, slash), unit);
    const auto length = base::parse_length(both.substr(slash + 3), unit);
    if (!height || !length) return refuse(at, raw, "which is not a wave; write " + a_wave(bare), bare);
    if (!(height->value >= 0.0 && 0.5 * height->value <= at.entry->max))
        return refuse(at, raw,
                      base::said_in(fmt::format("whose height is not from 0 to {:g} mm", 2.0 * at.entry->max), bare),
                      bare);
    if (!(length->value >= shortest_wave_mm && length->value <= 2.0 * wave_reach_mm)) {
        return refuse(
            at, raw,
            base::said_in(
                fmt::format("whose length is not from {:g} to {:g} mm", shortest_wave_mm, 2.0 * wave_reach_mm), bare),
            bare);
    }
    value = base::Profile::wave(-wave_reach_mm, wave_reach_mm, height->value, length->value);
    return {};
}

Done put_points(base::Profile& value, Found at, const Raw& typed, base::Units bare) {
    if (typed.type == Raw::Type::text && typed.text.starts_with(wave_word)) return put_wave(value, at, typed, bare);
    Raw raw = typed;
    if (raw.type == Raw::Type::text) {  // from outside a file, or in quotes
        const Read<Raw> inner = take_value(raw.text);
        if (!inner || inner->type != Raw::Type::list) return refuse(at, typed, "which is not a list of pairs", bare);
        raw = *inner;
    }
    if (raw.type != Raw::Type::list) return refuse(at, raw, "which is not a list of pairs", bare);
    base::Profile::Points points;
    for (const Raw& r : raw.list) {
        const auto p = point(at, r, bare);
        if (!p) return no(p.error());
        if (!points.empty() && !(p->x > points.back().x))
            return refuse(at, fmt::format("the place of point {} is not beyond the one before it", points.size() + 1),
                          bare);
        points.push_back(*p);
    }
    value = base::Profile(points);
    return {};
}

Done put_format(Found at, const Raw& raw, base::Units bare) {
    int format = 0;
    return put_whole(format, at, raw, bare);
}

/// Printing only looks; the finders are written once, for changing.
template <class T>
const T& peek(const Scenario& s, Finder<T> finder, std::size_t row) {
    return finder(const_cast<Scenario&>(s), row);  // NOLINT: nothing is written
}

std::string number_text(double v, const Entry& e, base::Units bare) {
    if (e.may_be_none && std::isinf(v)) return std::string(none);
    if (e.kind == Kind::number) return length_text(v, base::Units::metric);  // as it is
    return e.kind == Kind::angle ? angle_text(v) : length_text(v, bare);
}

}  // namespace

std::string allowed(const Entry& entry, base::Units bare) {
    return fmt::format("Allowed: {}. Example: {}", allowed_value(entry, bare), example_text(entry, bare));
}

Done put(Scenario& s, Found at, const Raw& raw, base::Units bare) {
    return std::visit(Overloaded{
                          [&](Fixed) { return put_format(at, raw, bare); },
                          [&](Finder<double> f) { return put_number(s, f, at, raw, bare); },
                          [&](Finder<int> f) { return put_whole(f(s, at.row), at, raw, bare); },
                          [&](Finder<std::uint64_t> f) { return put_whole(f(s, at.row), at, raw, bare); },
                          [&](Finder<std::string> f) { return put_text(f(s, at.row), at, raw, bare); },
                          [&](Finder<shop::Side> f) { return put_choice(f(s, at.row), at, raw, bare); },
                          [&](Finder<shop::Hand> f) { return put_choice(f(s, at.row), at, raw, bare); },
                          [&](Finder<base::Units> f) { return put_choice(f(s, at.row), at, raw, bare); },
                          [&](Finder<Concern> f) { return put_choice(f(s, at.row), at, raw, bare); },
                          [&](Finder<base::Profile> f) { return put_points(f(s, at.row), at, raw, bare); },
                      },
                      at.entry->home);
}

std::string text_at(const Scenario& s, Found at, base::Units bare) {
    return std::visit(Overloaded{
                          [&](Fixed) { return std::to_string(file_format); },
                          [&](Finder<double> f) { return number_text(peek(s, f, at.row), *at.entry, bare); },
                          [&](Finder<int> f) { return std::to_string(peek(s, f, at.row)); },
                          [&](Finder<std::uint64_t> f) { return std::to_string(peek(s, f, at.row)); },
                          [&](Finder<std::string> f) { return peek(s, f, at.row); },
                          [&](Finder<shop::Side> f) { return word_of(peek(s, f, at.row)); },
                          [&](Finder<shop::Hand> f) { return word_of(peek(s, f, at.row)); },
                          [&](Finder<base::Units> f) { return word_of(peek(s, f, at.row)); },
                          [&](Finder<Concern> f) { return word_of(peek(s, f, at.row)); },
                          [&](Finder<base::Profile> f) { return points_text(peek(s, f, at.row), bare); },
                      },
                      at.entry->home);
}

std::string any_value_of(const Scenario& s, std::string_view key) {
    const auto found = find(key);
    if (!found) return {};
    const bool in_rows = found->entry->key.find('#') != std::string_view::npos;
    if (in_rows && found->row >= s.drawing.drawer.size()) return {};
    return text_at(s, *found, s.units);
}

std::string file_text_at(const Scenario& s, Found at, base::Units bare) {
    const std::string text = text_at(s, at, bare);
    if (at.entry->kind == Kind::points) return text;
    if (at.entry->kind == Kind::word) return quoted(text);
    constexpr std::size_t digits_for_sure =
        18;  // the format's own whole numbers end at 2^63; a larger seed stands in quotes
    return text.size() > digits_for_sure && at.entry->kind == Kind::count ? quoted(text) : quoted_unless_number(text);
}

Done in_range(const Scenario& s, Found at, base::Units bare) {
    const Entry& e = *at.entry;
    if (const auto* f = std::get_if<Finder<double>>(&e.home)) {
        const double v = peek(s, *f, at.row);
        if (e.may_be_none && v == infinite) return {};
        if (!inside(v, e.min, e.max))
            return refuse(at, fmt::format("found {}, which is out of range", number_text(v, e, bare)), bare);
        return {};
    }
    const bool simple = e.kind == Kind::count || std::holds_alternative<Finder<std::string>>(e.home);
    if (!simple && e.kind != Kind::points) return {};
    Scenario scratch = s;  // the same checks as for typed values
    Raw raw{Raw::Type::text, text_at(s, at, bare), {}, {}};
    return put(scratch, at, raw, bare);
}

}  // namespace offsquare::scenario
