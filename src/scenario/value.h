// Between what was written and what it means: one value of the list in schema.h, read and printed.
#pragma once

#include <string>
#include <string_view>

#include "scenario/raw.h"
#include "scenario/schema.h"

namespace offsquare::scenario {

/// Puts a raw value where its key says. The message (without file and place) names the key, what was found, what is
/// allowed, and an example. The drawer must have that row already. Words may come without quotes, numbers as text: so a
/// file and a command line say the same.
tl::expected<void, std::string> put(Scenario& scenario, Found at, const Raw& raw, base::Units bare);

/// The value as text that could be typed again after `key =`, without quotes; bare lengths in `bare`.
std::string text_at(const Scenario& scenario, Found at, base::Units bare);
/// The same as it stands in a file: with quotes where the format wants them.
std::string file_text_at(const Scenario& scenario, Found at, base::Units bare);
/// By the key's name, in the scenario's own units, hidden errors too; empty for an unknown key. Outside this room only
/// session/reveal.cpp may ask.
std::string any_value_of(const Scenario& scenario, std::string_view key);

/// Whether the value is inside its range; the message if not. For values that did not come through `put`.
tl::expected<void, std::string> in_range(const Scenario& scenario, Found at, base::Units bare);

/// "Allowed: a length from 50 mm to 5000 mm (a bare number is in mm). Example: length = "560 mm""
std::string allowed(const Entry& entry, base::Units bare);

}  // namespace offsquare::scenario
