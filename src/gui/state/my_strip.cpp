#include "gui/state/my_strip.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace offsquare::gui {
namespace {

base::LengthUnit assumed(base::Units units) {
    return units == base::Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch;
}

bool blank(std::string_view text) { return text.find_first_not_of(" \t") == std::string_view::npos; }

/// Whether it would be another length in the other system.
bool is_bare(std::string_view text) {
    const auto mm = base::parse_length(text, base::LengthUnit::mm);
    const auto inch = base::parse_length(text, base::LengthUnit::inch);
    return mm && inch && mm->value != inch->value;
}

void say_unit(std::string& text, base::Units typed_in) {
    if (is_bare(text)) text += fmt::format(" {}", unit_name(typed_in));
}

std::vector<base::Typed> all_typed(const std::array<std::string, most_repeats>& texts, base::Units units) {
    std::vector<base::Typed> all;
    for (const std::string& text : texts) {
        if (const auto one = length_in_field(text, units); one && *one) all.push_back(**one);
    }
    return all;
}

std::optional<base::Typed> one_typed(std::string_view text, base::Units units) {
    const auto one = length_in_field(text, units);
    return one ? *one : std::nullopt;
}

}  // namespace

std::string_view unit_name(base::Units units) { return units == base::Units::metric ? "mm" : "in"; }

bool StripDraft::untouched() const {
    const auto empty = [](const std::string& text) { return blank(text); };
    return std::all_of(fence_end.begin(), fence_end.end(), empty) &&
           std::all_of(far_end.begin(), far_end.end(), empty) && blank(between);
}

base::Result<std::optional<base::Typed>> length_in_field(std::string_view text, base::Units units) {
    if (blank(text)) return std::optional<base::Typed>();
    const auto length = base::parse_length(text, assumed(units));
    if (!length) return tl::unexpected(length.error());
    if (!(length->value > 0.0))
        return base::fail(base::Grade::bad_data, fmt::format("found \"{}\"; expected a length above 0", text));
    return std::optional(*length);
}

std::string trouble_with(std::string_view text, base::Units units) {
    const auto length = length_in_field(text, units);
    return length ? std::string() : length.error().message;
}

std::vector<std::string> troubles_in(const StripDraft& draft, base::Units units) {
    std::vector<std::string> all;
    const auto look_at = [&](const char* name, const std::string& text) {
        if (const std::string trouble = trouble_with(text, units); !trouble.empty())
            all.push_back(fmt::format("The {}: {}{}", name, trouble, trouble.ends_with('.') ? "" : "."));
    };
    for (const std::string& text : draft.far_end) look_at("far end", text);
    look_at("length between the two places", draft.between);
    for (const std::string& text : draft.fence_end) look_at("fence end", text);
    look_at("distance between the shim points", draft.span);
    return all;
}

saws::Strip strip_of(const StripDraft& draft, base::Units units) {
    saws::Strip strip;
    strip.fence_end = all_typed(draft.fence_end, units);
    strip.far_end = all_typed(draft.far_end, units);
    strip.between = one_typed(draft.between, units);
    strip.span = one_typed(draft.span, units);
    strip.fell = draft.fell;
    strip.ends_marked = draft.marked;
    strip.brushed = draft.brushed;
    return strip;
}

void say_units(StripDraft& draft, base::Units typed_in) {
    for (std::string& text : draft.fence_end) say_unit(text, typed_in);
    for (std::string& text : draft.far_end) say_unit(text, typed_in);
    say_unit(draft.between, typed_in);
    say_unit(draft.span, typed_in);
}

std::string field_text(const base::Typed& length, base::Units units) {
    const bool inches = units == base::Units::imperial;
    const double unit_mm = inches ? base::mm_per_inch : 1.0;
    constexpr int most_decimals = 5;
    const int decimals =
        length.step > 0.0
            ? std::clamp(static_cast<int>(std::ceil(-std::log10(length.step / unit_mm) - 1e-9)), 0, most_decimals)
            : most_decimals;
    return base::print_length(length.value, inches ? base::LengthStyle::inch : base::LengthStyle::mm, decimals, false);
}

}  // namespace offsquare::gui
