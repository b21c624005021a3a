// A first look at the bytes. A small scanner follows quotes and comments just far enough to know what stands outside
// them; it must never believe itself inside quotes where the library does not, so it takes the longest closing run of
// quotes, as the format does, and ends one-line text at the line's end.
#include <fmt/format.h>

#include "scenario/raw.h"

namespace offsquare::scenario {
namespace {

/// Bytes of the code point at i (1 to 4), or 0 where the text is not UTF-8: shortest forms only, no surrogates, nothing
/// above U+10FFFF.
std::size_t code_point_size(std::string_view text, std::size_t i) {
    const auto byte = [&](std::size_t k) { return i + k < text.size() ? static_cast<unsigned char>(text[i + k]) : 0U; };
    const auto follows = [&](std::size_t k) { return (byte(k) & 0xc0U) == 0x80U; };
    const unsigned lead = byte(0);
    if (lead < 0x80U) return 1;
    if (lead >= 0xc2U && lead < 0xe0U) return follows(1) ? 2 : 0;
    if (lead >= 0xe0U && lead < 0xf0U) {
        const bool overlong = lead == 0xe0U && byte(1) < 0xa0U;
        const bool surrogate = lead == 0xedU && byte(1) >= 0xa0U;
        return follows(1) && follows(2) && !overlong && !surrogate ? 3 : 0;
    }
    if (lead >= 0xf0U && lead < 0xf5U) {
        const bool overlong = lead == 0xf0U && byte(1) < 0x90U;
        const bool too_high = lead == 0xf4U && byte(1) >= 0x90U;
        return follows(1) && follows(2) && follows(3) && !overlong && !too_high ? 4 : 0;
    }
    return 0;
}

bool is_blank(char c) { return c == ' ' || c == '\t'; }

class Scanner {
public:
    explicit Scanner(std::string_view text) : text_(text) {}

    Read<void> run() {
        if (text_.substr(0, 3) == "\xef\xbb\xbf") at_ = 3;  // a byte order mark, which some editors write
        while (at_ < text_.size()) {
            if (const auto step = one(); !step) return step;
        }
        return {};
    }

private:
    enum class Inside { nothing, comment, line_text, line_literal, long_text, long_literal };

    char ahead(std::size_t n) const { return at_ + n < text_.size() ? text_[at_ + n] : '\n'; }
    std::size_t run_of(char c) const {
        std::size_t n = 0;
        while (at_ + n < text_.size() && text_[at_ + n] == c) ++n;
        return n;
    }
    bool long_text() const { return inside_ == Inside::long_text || inside_ == Inside::long_literal; }

    tl::unexpected<Trouble> trouble(std::string message) const {
        return tl::unexpected<Trouble>(Trouble{{line_, column_}, std::move(message)});
    }

    void step(std::size_t bytes) {
        at_ += bytes;
        ++column_;
    }

    Read<void> one() {
        const std::size_t n = code_point_size(text_, at_);
        const char c = text_[at_];
        if (n == 0) {
            return trouble(
                fmt::format("found a byte (0x{:02x}) that is not UTF-8. Allowed: UTF-8 text. Example: save the file as "
                            "\"UTF-8\" in the editor.",
                            static_cast<unsigned>(static_cast<unsigned char>(c))));
        }
        if (c == '\n') return new_line();
        const bool lone_return = c == '\r' && ahead(1) != '\n';
        if ((static_cast<unsigned char>(c) < 0x20U && c != '\t' && c != '\r') || lone_return || c == '\x7f') {
            return trouble(
                fmt::format("found a control character (0x{:02x}). Allowed: plain text. Example: shim_left = -250",
                            static_cast<unsigned>(c)));
        }
        return inside_ == Inside::nothing ? outside(c, n) : within(c, n);
    }

    Read<void> new_line() {
        if (!long_text()) inside_ = Inside::nothing;
        ++at_;
        ++line_;
        column_ = 1;
        dots_ = 0;
        fresh_line_ = true;
        return {};
    }

    Read<void> outside(char c, std::size_t n) {
        if (n > 1) {
            const std::string found = shown(text_.substr(at_, n));
            return trouble(
                "found " + found +
                " outside quotes. Allowed: letters beyond a to z stand in quotes or after #. Example: title = \"" +
                found + "\"");
        }
        if (c == '[' && fresh_line_ && open_ == 0 && header_is_empty()) {
            return trouble("found a [ with no name after it. Allowed: the name of a section. Example: [fence]");
        }
        if (!is_blank(c)) fresh_line_ = false;
        if (c == '#') inside_ = Inside::comment;
        if (c == '"' || c == '\'') return open_quote(c);
        return count(c);
    }

    bool header_is_empty() const {
        std::size_t n = 1;
        if (ahead(n) == '[') ++n;
        while (at_ + n < text_.size() && is_blank(ahead(n))) ++n;
        return ahead(n) == '\n' || ahead(n) == '\r';
    }

    Read<void> open_quote(char c) {
        const bool is_long = run_of(c) >= 3;
        const bool basic = c == '"';
        inside_ = is_long ? (basic ? Inside::long_text : Inside::long_literal)
                          : (basic ? Inside::line_text : Inside::line_literal);
        for (int i = 0; i < (is_long ? 3 : 1); ++i) step(1);
        return {};
    }

    /// Brackets and the dots of one key, so that nothing nests deeper than the library's stack bears.
    Read<void> count(char c) {
        if (c == '[' || c == '{') ++open_;
        if ((c == ']' || c == '}') && open_ > 0) --open_;
        dots_ = c == '.'                                                                             ? dots_ + 1
                : (c == '=' || c == ',' || c == '[' || c == ']' || c == '{' || c == '}' || c == '#') ? 0
                                                                                                     : dots_;
        if (open_ > deepest || dots_ >= deepest) {
            return trouble(fmt::format(
                "found more than {} levels in one another. Allowed: at most {}. Example: fence.shim_left = -250",
                deepest, deepest));
        }
        step(1);
        return {};
    }

    Read<void> within(char c, std::size_t n) {
        if (inside_ == Inside::comment) {
            step(n);
            return {};
        }
        const bool literal = inside_ == Inside::line_literal || inside_ == Inside::long_literal;
        if (c == '\\' && !literal) return escape();
        const char quote = literal ? '\'' : '"';
        if (c == quote && (!long_text() || run_of(quote) >= 3)) return close_quote(quote);
        step(n);
        return {};
    }

    Read<void> close_quote(char quote) {
        const std::size_t n = long_text() ? std::min<std::size_t>(run_of(quote), 5)
                                          : 1;  // up to two quotes may stand before the closing three
        inside_ = Inside::nothing;
        for (std::size_t i = 0; i < n; ++i) step(1);
        return {};
    }

    /// A backslash takes the next character with it. At a line's end it swallows the blanks that follow. A character
    /// beyond ASCII right after it, or after those blanks, leads the library to where its own code says it never goes.
    Read<void> escape() {
        if (const std::size_t n = at_ + 1 < text_.size() ? code_point_size(text_, at_ + 1) : 1; n > 1) {
            return trouble("found a backslash before " + shown(text_.substr(at_ + 1, n)) +
                           ". Allowed: a backslash before \", \\, b, f, n, r, t, u, U or the end of a line; two where "
                           "one is meant. Example: title = \"C:\\\\saws\"");
        }
        step(1);
        if (at_ >= text_.size()) return {};
        if (!is_blank(ahead(0)) && ahead(0) != '\n' && ahead(0) != '\r') {
            if (static_cast<unsigned char>(ahead(0)) < 0x80U) step(1);
            return {};
        }
        std::size_t n = 0;
        while (at_ + n < text_.size() && (is_blank(ahead(n)) || ahead(n) == '\n' || ahead(n) == '\r')) ++n;
        if (at_ + n < text_.size() && static_cast<unsigned char>(ahead(n)) >= 0x80U) {
            return trouble(
                "found a letter beyond a to z first on a line that a backslash has joined. Allowed: begin that line "
                "with another word. "
                "Example: story = \"one long line\"");
        }
        return {};
    }

    std::string_view text_;
    std::size_t at_ = 0;
    int line_ = 1;
    int column_ = 1;
    Inside inside_ = Inside::nothing;
    int open_ = 0;
    int dots_ = 0;
    bool fresh_line_ = true;
};

}  // namespace

bool is_utf8(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t n = code_point_size(text, i);
        if (n == 0) return false;
        i += n;
    }
    return true;
}

std::string shown(std::string_view text, std::size_t most) {
    std::string out;
    std::size_t i = 0;
    for (std::size_t count = 0; i < text.size() && count < most; ++count) {
        const std::size_t n = code_point_size(text, i);
        const auto byte = static_cast<unsigned char>(text[i]);
        const bool bad = n == 0 || byte < 0x20U || byte == 0x7fU ||
                         (byte == 0xc2U && static_cast<unsigned char>(text[i + 1]) < 0xa0U);
        out += bad ? std::string_view("?") : text.substr(i, n);
        i += n == 0 ? 1 : n;
    }
    return i < text.size() ? out + "..." : out;
}

Read<void> look_over(std::string_view text) {
    if (text.size() > largest_file) {
        const std::string found =
            fmt::format("found {} bytes. Allowed: at most {} (1 MiB). Example: a scenario has about 4000.", text.size(),
                        largest_file);
        return tl::unexpected<Trouble>(Trouble{{1, 1}, found});
    }
    return Scanner(text).run();
}

}  // namespace offsquare::scenario
