#include "saws/date.h"

#include <array>
#include <cctype>
#include <charconv>
#include <vector>

#include <fmt/format.h>

#include "base/quantity_text.h"

namespace offsquare::saws {
namespace {

constexpr std::array<std::string_view, 12> months{"January",   "February", "March",    "April",
                                                  "May",       "June",     "July",     "August",
                                                  "September", "October",  "November", "December"};

tl::unexpected<base::Problem> bad(std::string_view text) {
    return base::fail(
        base::Grade::usage,
        fmt::format("\"{}\" is not a date. Allowed: year-month-day from 1900 to 2999. Example: 2026-11-29",
                    base::shown(text)));
}

/// Runs of digits and of letters, in lower case.
std::vector<std::string> parts_of(std::string_view text) {
    std::vector<std::string> parts;
    char kind = ' ';
    for (const char c : text) {
        const auto u = static_cast<unsigned char>(c);
        const char now = std::isdigit(u) != 0 ? 'd' : std::isalpha(u) != 0 ? 'l' : ' ';
        if (now != ' ' && now != kind) parts.emplace_back();
        if (now != ' ') parts.back() += static_cast<char>(std::tolower(u));
        kind = now;
    }
    return parts;
}

std::optional<unsigned> number_of(std::string_view text) {
    unsigned n = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), n);
    return error == std::errc() && end == text.data() + text.size() ? std::optional(n) : std::nullopt;
}

/// A number, or the name of a month or its first three letters.
std::optional<unsigned> month_of(std::string_view text) {
    if (const auto n = number_of(text)) return n;
    for (std::size_t i = 0; i < months.size(); ++i) {
        std::string name(months.at(i));
        for (char& c : name) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        if (text == name || (text.size() == 3 && name.starts_with(text))) return static_cast<unsigned>(i) + 1;
    }
    return std::nullopt;
}

bool only(std::string_view text, std::string_view allowed) {
    for (const char c : text) {
        if (std::isalnum(static_cast<unsigned char>(c)) == 0 && allowed.find(c) == std::string_view::npos) return false;
    }
    return true;
}

}  // namespace

base::Result<Date> parse_date(std::string_view text) {
    const std::vector<std::string> parts = parts_of(text);
    if (parts.size() != 3 || !only(text, "-. /")) return bad(text);
    const bool year_first = parts[0].size() == 4;
    // 03/04/2026 is one day on one side of the ocean and another on the other.
    if (!year_first && text.find('/') != std::string_view::npos) return bad(text);
    const auto year = number_of(parts[year_first ? 0 : 2]);
    const auto month = month_of(parts[1]);
    const auto day = number_of(parts[year_first ? 2 : 0]);
    if (!year || !month || !day || *year < 1900 || *year > 2999) return bad(text);
    const Date date{std::chrono::year(static_cast<int>(*year)), std::chrono::month(*month), std::chrono::day(*day)};
    return date.ok() ? base::Result<Date>(date) : bad(text);
}

std::string iso(Date date) {
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                       static_cast<unsigned>(date.day()));
}

std::string in_words(Date date, std::optional<Date> today) {
    if (!date.ok()) return iso(date);
    const auto day = static_cast<unsigned>(date.day());
    const std::string_view month = months.at(static_cast<unsigned>(date.month()) - 1);
    if (today && today->year() == date.year()) return fmt::format("{} {}", day, month);
    return fmt::format("{} {} {}", day, month, static_cast<int>(date.year()));
}

int days_between(Date a, Date b) {
    return static_cast<int>((std::chrono::sys_days(b) - std::chrono::sys_days(a)).count());
}

}  // namespace offsquare::saws
