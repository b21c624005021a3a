// The strip of a person's own sled as it is being typed: text in fields, in any order, as far as it is. No ImGui here
// and no arithmetic of the trade.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "saws/entry.h"

namespace offsquare::gui {

/// At each end: one reading and two more, if the person likes.
inline constexpr std::size_t most_repeats = 3;

struct StripDraft {
    std::array<std::string, most_repeats> fence_end, far_end;
    std::string between, span;
    std::optional<shop::Side> fell;  ///< empty: not asked yet
    std::optional<bool> marked;      ///< the end at the fence was marked; empty: not asked yet
    bool brushed = false;
    std::optional<saws::Date> date;  ///< empty: today
    std::optional<int> corrects;     ///< the entry of the log in whose place it is written
    /// Neither a width nor a length stands there; what stays from strip to strip does not count.
    bool untouched() const;
    friend bool operator==(const StripDraft&, const StripDraft&) = default;
};

/// A length above nothing, in these units where none is typed. Empty text: nothing typed yet.
base::Result<std::optional<base::Typed>> length_in_field(std::string_view text, base::Units units);
/// Why this text is no length, for under its field; empty: it is one, or nothing is typed.
std::string trouble_with(std::string_view text, base::Units units);

/// What of it cannot be read, each with its field's name.
std::vector<std::string> troubles_in(const StripDraft& draft, base::Units units);

/// All that can be read. What is typed and cannot be read counts as not typed yet.
saws::Strip strip_of(const StripDraft& draft, base::Units units);

/// Each bare number gets the unit in which it was typed, so that other units do not change what it means.
void say_units(StripDraft& draft, base::Units typed_in);

/// A length as a person would have typed it, for a field: as many digits as it was known to.
std::string field_text(const base::Typed& length, base::Units units);

/// "mm" or "in".
std::string_view unit_name(base::Units units);

}  // namespace offsquare::gui
