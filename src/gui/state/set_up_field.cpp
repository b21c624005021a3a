#include "gui/state/set_up_field.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/elementary.h"

namespace offsquare::gui {
namespace {

using base::Units;
using KeyKind = scenario::KeyInfo::Kind;

base::LengthUnit length_unit(Units units) {
    return units == Units::metric ? base::LengthUnit::mm : base::LengthUnit::inch;
}

/// A bare angle in a file is in mrad, whatever its units are.
bool as_in_the_file(KeyKind kind, Units file, Units shown) {
    if (kind == KeyKind::angle) return shown.angles == Units::Angles::mrad;
    return kind != KeyKind::length || file.system == shown.system;
}

/// Decimals enough for four places, or for four digits of a number below that; no zeros at the end.
std::string rounded(double value) {
    const double size = std::fabs(value);
    const int below = size > 0.0 && size < 1.0 ? static_cast<int>(std::ceil(-std::log10(size))) - 1 : 0;
    std::string text = base::print_length(value, base::LengthStyle::mm, std::min(4 + below, 9), false);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

/// Whether a number was typed without its unit: as a length it would be another one with another unit assumed.
bool is_bare(const std::string& typed) {
    const auto in_mm = base::parse_length(typed, base::LengthUnit::mm);
    const auto in_inches = base::parse_length(typed, base::LengthUnit::inch);
    return in_mm && in_inches && in_mm->value != in_inches->value;
}

const char* typed_unit(KeyKind kind, Units shown) {
    if (kind == KeyKind::length) return shown == Units::metric ? " mm" : " in";
    return shown == Units::metric ? " mm/m" : " thou/12in";
}

}  // namespace

std::string field_unit(KeyKind kind, Units shown) {
    if (kind == KeyKind::length) return shown == Units::metric ? " [mm]" : " [in]";
    if (kind != KeyKind::angle) return "";
    if (shown.angles == Units::Angles::mrad) return " [mrad]";
    return shown == Units::metric ? " [mm in 1 m]" : " [thou in 12 in]";
}

std::string field_text(const std::string& text, KeyKind kind, Units file, Units shown) {
    if (as_in_the_file(kind, file, shown)) return text;
    if (kind == KeyKind::length) {
        const auto length = base::parse_length(text, length_unit(file));
        if (!length) return text;  // "none"
        return rounded(shown == Units::metric ? length->value : length->value / base::mm_per_inch);
    }
    const auto angle = base::parse_angle(text, base::AngleUnit::mrad);
    if (!angle) return text;
    return rounded((shown == Units::metric ? 1000.0 : 12000.0) * base::tan_of(angle->value));
}

std::string with_unit(const std::string& typed, KeyKind kind, Units file, Units shown) {
    if (as_in_the_file(kind, file, shown) || !is_bare(typed)) return typed;
    return typed + typed_unit(kind, shown);
}

base::Result<void> field_trouble(const scenario::Scenario& scenario, const scenario::KeyInfo& key,
                                 std::string_view typed, Units shown) {
    scenario::Scenario as_shown = scenario;
    as_shown.units = shown;
    const auto changed = scenario::with(as_shown, {{key.key, with_unit(std::string(typed), key.kind, shown, shown)}});
    if (changed) return {};
    base::Problem problem = changed.error();
    if (const std::size_t at = problem.message.find(scenario::bare_angles);
        at != std::string::npos && shown.angles == Units::Angles::slope)
        problem.message.erase(at, scenario::bare_angles.size());  // in this field it is another unit
    return tl::unexpected(problem);
}

}  // namespace offsquare::gui
