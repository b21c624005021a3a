// Text laid out for a person: columns that line up, paragraphs, and a little ink where there is a terminal.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace offsquare::cli {

/// How many columns the text takes on a terminal. UTF-8; every character of this program is one column wide.
std::size_t width_of(std::string_view utf8);

/// Rows whose columns line up, two spaces between them and `indent` spaces before; no trailing spaces. `right` lists
/// the columns set to the right.
std::string columns(const std::vector<std::vector<std::string>>& rows, std::size_t indent = 2,
                    const std::vector<std::size_t>& right = {});

/// The text broken at spaces into lines of at most `width` columns, each with `indent` spaces before it. No newline at
/// the end.
std::string wrapped(std::string_view text, std::size_t width, std::size_t indent = 0);

/// The text with control characters shown as ?, so that a file's words cannot steer a terminal.
std::string printable(std::string_view text);

/// Bold and colour, or nothing at all.
struct Ink {
    bool on = false;
    std::string heading(std::string_view text) const;
    std::string good(std::string_view text) const;
    std::string bad(std::string_view text) const;
    std::string strong(std::string_view text) const;
};

}  // namespace offsquare::cli
