#include "cli/text.h"

#include <algorithm>

namespace offsquare::cli {

namespace {

std::string inked(bool on, std::string_view code, std::string_view text) {
    if (!on) return std::string(text);
    return "\x1b[" + std::string(code) + "m" + std::string(text) + "\x1b[0m";
}

std::vector<std::size_t> column_widths(const std::vector<std::vector<std::string>>& rows) {
    std::vector<std::size_t> widths;
    for (const auto& row : rows) {
        if (row.size() > widths.size()) widths.resize(row.size(), 0);
        for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], width_of(row[i]));
    }
    return widths;
}

void drop_trailing_spaces(std::string& line) { line.erase(line.find_last_not_of(' ') + 1); }

}  // namespace

std::size_t width_of(std::string_view utf8) {
    // Every byte but the continuation bytes (10xxxxxx) starts a character.
    return static_cast<std::size_t>(std::count_if(
        utf8.begin(), utf8.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string columns(const std::vector<std::vector<std::string>>& rows, std::size_t indent,
                    const std::vector<std::size_t>& right) {
    const std::vector<std::size_t> widths = column_widths(rows);
    std::string all;
    for (const auto& row : rows) {
        std::string line(indent, ' ');
        for (std::size_t i = 0; i < row.size(); ++i) {
            const std::string fill(widths[i] - width_of(row[i]), ' ');
            const bool to_right = std::find(right.begin(), right.end(), i) != right.end();
            line += (to_right ? fill + row[i] : row[i] + fill) + "  ";
        }
        drop_trailing_spaces(line);
        all += line + "\n";
    }
    return all;
}

std::string wrapped(std::string_view text, std::size_t width, std::size_t indent) {
    const std::string margin(indent, ' ');
    std::string all;
    std::string line;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find_first_of(" \n", at), text.size());
        const std::string_view word = text.substr(at, end - at);
        at = end + 1;
        if (word.empty()) continue;
        if (!line.empty() && indent + width_of(line) + 1 + width_of(word) > width) {
            all += margin + line + "\n";
            line.clear();
        }
        if (!line.empty()) line += ' ';
        line += word;
    }
    return all + margin + line;
}

std::string printable(std::string_view text) {
    std::string all(text);
    for (std::size_t i = 0; i < all.size(); ++i) {
        const unsigned char c = static_cast<unsigned char>(all[i]);
        // U+0080..U+009F are control characters too; in UTF-8 they are C2 80..C2 9F.
        const bool c1 = c == 0xC2U && i + 1 < all.size() && static_cast<unsigned char>(all[i + 1]) < 0xA0U;
        if (c1) all.replace(i, 2, "?");
        else if ((c < 0x20U && c != '\n') || c == 0x7FU) all[i] = '?';
    }
    return all;
}

std::string Ink::heading(std::string_view text) const { return inked(on, "1;4", text); }
std::string Ink::good(std::string_view text) const { return inked(on, "1;32", text); }
std::string Ink::bad(std::string_view text) const { return inked(on, "1;31", text); }
std::string Ink::strong(std::string_view text) const { return inked(on, "1", text); }

}  // namespace offsquare::cli
