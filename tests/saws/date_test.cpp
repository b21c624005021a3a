// Dates as they are typed and shown, against the civil calendar of the C library (timegm).
#include <doctest/doctest.h>

#include <ctime>

#include "saws/date.h"

namespace date_test {

using namespace offsquare;
using namespace offsquare::saws;

TEST_CASE("a date is read in the ways that cannot be mistaken, and shown back") {
    for (const char* text : {"2026-11-29", "29.11.2026", "29 November 2026", "29 nov 2026", "2026-Nov-29"}) {
        CAPTURE(text);
        const auto date = parse_date(text);
        REQUIRE(date);
        CHECK(iso(*date) == "2026-11-29");
    }
    CHECK(iso(*parse_date("2024-02-29")) == "2024-02-29");
    CHECK(in_words(*parse_date("2026-03-03"), *parse_date("2026-11-29")) == "3 March");
    CHECK(in_words(*parse_date("2025-03-03"), *parse_date("2026-11-29")) == "3 March 2025");
}

TEST_CASE("what is no date is refused with an example") {
    for (const char* text : {"", "2026-02-29", "2026-13-01", "2026-00-10", "03/04/2026", "today", "2026-11",
                             "1899-01-01", "2026-11-29-1", "29,11,2026", "99999999999-1-1", "2026-11-31"}) {
        CAPTURE(text);
        const auto date = parse_date(text);
        REQUIRE(!date);
        CHECK(date.error().message.find("2026-11-29") != std::string::npos);
    }
}

TEST_CASE("days between, as the C library counts them") {
    const auto seconds = [](int y, int m, int d) {
        std::tm t{};
        t.tm_year = y - 1900;
        t.tm_mon = m - 1;
        t.tm_mday = d;
        return timegm(&t);
    };
    const auto a = *parse_date("2024-02-28");
    const auto b = *parse_date("2026-11-29");
    CHECK(days_between(a, b) == (seconds(2026, 11, 29) - seconds(2024, 2, 28)) / 86400);
    CHECK(days_between(b, a) == -days_between(a, b));
}

}  // namespace date_test
