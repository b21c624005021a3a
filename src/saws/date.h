// A civil date as a person writes it in a log. No clock here: "today" is handed in by the doors.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"

namespace offsquare::saws {

/// A day of the proleptic Gregorian calendar. Compares by time.
using Date = std::chrono::year_month_day;

/// "2026-11-29" (ISO 8601, extended calendar date); also "29.11.2026", "29 November 2026" and "29 Nov 2026", in any
/// case. Years 1900 to 2999. Grade::usage, with what was found and an example.
base::Result<Date> parse_date(std::string_view text);

/// As files have it: "2026-11-29".
std::string iso(Date date);

/// As a person says it: "3 March", with the year ("3 March 2025") where that is not the year of `today`.
std::string in_words(Date date, std::optional<Date> today = std::nullopt);

/// From `a` to `b`; negative when `b` is earlier.
int days_between(Date a, Date b);

}  // namespace offsquare::saws
