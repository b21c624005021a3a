// What must not stand in a text that is meant for a person who has chosen units.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/quantity.h"

namespace units_shown {

using offsquare::base::Units;

/// Where `word` stands alone, with no letter beside it (a digit may stand before: "0.4mm"); npos: nowhere.
inline std::size_t alone(std::string_view text, std::string_view word) {
    const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; };
    for (std::size_t at = text.find(word); at != std::string_view::npos; at = text.find(word, at + 1)) {
        const std::size_t end = at + word.size();
        if ((at == 0 || !letter(text[at - 1])) && (end == text.size() || !letter(text[end]))) return at;
    }
    return std::string_view::npos;
}

/// The part of a text that is in a unit which this person has not chosen; nothing where there is none.
inline std::optional<std::string> not_chosen(std::string_view text, Units units) {
    const auto part = [&](std::size_t at) { return std::string(text.substr(at < 40 ? 0 : at - 40, 80)); };
    const bool mrad = units.angles == Units::Angles::mrad;
    if (const std::size_t at = alone(text, "mrad"); !mrad && at != std::string_view::npos) return part(at);
    // Degrees were shown once.
    if (const std::size_t at = text.find("\xc2\xb0"); at != std::string_view::npos) return part(at);
    if (units == Units::metric) return std::nullopt;
    for (const std::string_view word : {"mm", "cm", "µm"}) {
        if (const std::size_t at = alone(text, word); at != std::string_view::npos) return part(at);
    }
    return std::nullopt;
}

/// A slope that stands alone although mrad were asked for: where room is for one only it is mrad, and where there is
/// room for both they stand side by side.
inline std::optional<std::string> without_mrad(std::string_view text) {
    for (const std::string_view slope : {"mm in 1 m", "thou in 12 in"}) {
        for (std::size_t at = text.find(slope); at != std::string_view::npos; at = text.find(slope, at + 1)) {
            if (!text.substr(at + slope.size()).starts_with(" ("))
                return std::string(text.substr(at < 40 ? 0 : at - 40, 80));
        }
    }
    return std::nullopt;
}

}  // namespace units_shown
