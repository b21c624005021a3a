// The trade's one worked case is a check value and no example: its four lengths stand in the two tests that check them
// (common practice, no source) and nowhere else in the tree, in inches, millimetres or thousandths, as decimals or as
// fractions. Everything else has numbers of our own.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace {

namespace fs = std::filesystem;

/// The four lengths, in thousandths of an inch: as a bare whole number none of them is looked for, so they may stand
/// here.
constexpr std::array<int, 4> worked_case_thou = {617, 587, 15625, 32750};

const std::set<std::string>& may_hold_it() {
    static const std::set<std::string> files{"tests/diagnose/skew_test.cpp", "tests/shim/propose_test.cpp"};
    return files;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// The end of the digits that begin at `at`, which is `at` itself where none stands.
std::size_t past_digits(std::string_view line, std::size_t at) {
    while (at < line.size() && is_digit(line[at])) ++at;
    return at;
}

/// A number as a person may write it, without its sign.
struct Number {
    double value = 0.0;
    std::size_t end = 0;  ///< where the text goes on
};

/// The number whose first character stands at `at`: "12", "0.5", ".5", "0,5", "3/8", "1 3/8" or "1-3/8".
Number number_at(std::string_view line, std::size_t at) {
    const auto whole_number = [&line](std::size_t from, std::size_t to) {
        double value = 0.0;
        for (std::size_t i = from; i < to; ++i) value = 10.0 * value + (line[i] - '0');
        return value;
    };
    const std::size_t end = past_digits(line, at);
    const double whole = whole_number(at, end);
    const auto fraction = [&](std::size_t from, double before) -> std::optional<Number> {
        const std::size_t slash = past_digits(line, from);
        if (slash == from || slash >= line.size() || line[slash] != '/') return std::nullopt;
        const std::size_t last = past_digits(line, slash + 1);
        const double parts = whole_number(slash + 1, last);
        if (last == slash + 1 || parts == 0.0) return std::nullopt;
        return Number{before + whole_number(from, slash) / parts, last};
    };
    if (end < line.size() && (line[end] == '.' || line[end] == ',') && end + 1 < line.size() &&
        is_digit(line[end + 1])) {
        const std::size_t last = past_digits(line, end + 1);
        return {whole + whole_number(end + 1, last) / std::pow(10.0, static_cast<double>(last - end - 1)), last};
    }
    if (end > at) {
        if (const auto bare = fraction(at, 0.0)) return *bare;
        std::size_t next = end;
        while (next < line.size() && (line[next] == ' ' || line[next] == '-')) ++next;
        if (next > end)
            if (const auto mixed = fraction(next, whole)) return *mixed;
    }
    return {whole, end};
}

bool same(double a, double b) { return std::fabs(a - b) <= 1e-12 * b; }

/// Whether a number is one of the four: in inches, in millimetres (1 in = 25.4 mm exactly), or before "thou".
bool of_the_worked_case(double number, std::string_view rest) {
    while (!rest.empty() && rest.front() == ' ') rest.remove_prefix(1);
    return std::any_of(worked_case_thou.begin(), worked_case_thou.end(), [&](int thou) {
        return same(number, thou / 1000.0) || same(number, thou * 25.4 / 1000.0) ||
               (same(number, thou) && rest.starts_with("thou"));
    });
}

bool tells_the_worked_case(std::string_view line) {
    for (std::size_t at = 0; at < line.size();) {
        const bool begins = is_digit(line[at]) || (line[at] == '.' && at + 1 < line.size() && is_digit(line[at + 1]));
        if (!begins) {
            ++at;
            continue;
        }
        const Number number = number_at(line, at);
        if (of_the_worked_case(number.value, line.substr(number.end))) return true;
        at = number.end;
    }
    return false;
}

/// Every file that belongs to the tree, from its root, with '/': no build trees, nothing that .gitignore names.
std::vector<std::string> files_of(const fs::path& root) {
    std::vector<std::string> files;
    for (fs::recursive_directory_iterator at(root), end; at != end; ++at) {
        const fs::path& path = at->path();
        if (at->is_directory()) {
            const std::string name = path.filename().string();
            if (name == ".git" || name == ".cache" || name == "build" || fs::exists(path / "CMakeCache.txt"))
                at.disable_recursion_pending();
        } else if (at->is_regular_file()) {
            files.push_back(path.lexically_relative(root).generic_string());
        }
    }
    return files;
}

/// "file:line" of every line that tells the worked case. Files with a byte 0 (pictures) are not text.
std::vector<std::string> tellers(const fs::path& root) {
    std::vector<std::string> found;
    for (const std::string& file : files_of(root)) {
        std::ifstream in(root / file, std::ios::binary);
        const std::string text{std::istreambuf_iterator<char>(in), {}};
        if (text.find('\0') != std::string::npos) continue;
        int number = 1;
        for (std::size_t from = 0; from < text.size(); ++number) {
            const std::size_t end = std::min(text.find('\n', from), text.size());
            if (tells_the_worked_case(std::string_view(text).substr(from, end - from)))
                found.push_back(file + ":" + std::to_string(number));
            from = end + 1;
        }
    }
    return found;
}

/// An integer as a decimal with `places` digits behind the sign.
std::string decimal(long long number, std::size_t places, char sign = '.') {
    std::string digits = std::to_string(number);
    if (digits.size() <= places) digits.insert(0, places + 1 - digits.size(), '0');
    return digits.insert(digits.size() - places, 1, sign);
}

}  // namespace

TEST_CASE("the worked case of the trade stands in its two tests and nowhere else") {
    std::set<std::string> seen;
    for (const std::string& place : tellers(OFFSQUARE_SOURCE_DIR)) {
        const std::string file = place.substr(0, place.rfind(':'));
        seen.insert(file);
        if (may_hold_it().count(file) == 0)
            FAIL_CHECK(place, ": a number of the trade's worked case; examples have numbers of our own");
    }
    // Each of them holds it, so the search does find it.
    CHECK(seen == may_hold_it());
}

TEST_CASE("each of the four lengths is found in every way of writing it, and no other number is") {
    for (const int thou : worked_case_thou) {
        for (const char sign : {'.', ','}) {
            const std::string inches = decimal(thou, 3, sign);
            CAPTURE(inches);
            CHECK(tells_the_worked_case(inches));
            CHECK(tells_the_worked_case("{\"" + inches + "0in\", 1.0}"));
            CHECK(tells_the_worked_case("--span -" + inches + "in"));
            CHECK(tells_the_worked_case("1/2, " + inches));
            CHECK(tells_the_worked_case("x=12.5 " + inches));
            // 25.4 mm to the inch: 254 ten-thousandths of a millimetre to the thousandth.
            CHECK(tells_the_worked_case("f(" + decimal(thou * 254LL, 4, sign) + ")"));
            // A digit before or behind makes another number.
            CHECK_FALSE(tells_the_worked_case("4" + inches));
            CHECK_FALSE(tells_the_worked_case(inches + "1"));
            CHECK_FALSE(tells_the_worked_case(decimal(thou + 1, 3, sign)));
            CHECK_FALSE(tells_the_worked_case(decimal(thou * 254LL + 1, 4, sign)));
        }
        CHECK(tells_the_worked_case(std::to_string(thou) + " thou"));
        CHECK_FALSE(tells_the_worked_case(std::to_string(thou) + " mm"));
    }
    CHECK(tells_the_worked_case("." + std::to_string(worked_case_thou[0])));
    // Fractions of the two that are some: the whole inches, then eighths or quarters, also not reduced.
    for (const int thou : {worked_case_thou[2], worked_case_thou[3]}) {
        const std::string whole = std::to_string(thou / 1000);
        for (const int parts : {8, 16, 64}) {
            const std::string fraction = std::to_string(thou % 1000 * parts / 1000) + "/" + std::to_string(parts);
            CAPTURE(fraction);
            CHECK(tells_the_worked_case("length = \"" + whole + " " + fraction + " in\""));
            CHECK(tells_the_worked_case(whole + "-" + fraction + "\""));
            CHECK_FALSE(tells_the_worked_case(whole));
            CHECK_FALSE(tells_the_worked_case(fraction));
        }
    }
    for (const char* other : {"", ".", "15 3/8 in", "0.485in", "17 3/4", "1/0", "3/", "5 /8", "2026-03-14"})
        CHECK_FALSE(tells_the_worked_case(other));
}
