// Code points by hand, since this is all that the reader needs to know of UTF-8.
#include "base/quantity_text.h"

#include <array>
#include <cstddef>

namespace offsquare::base {
namespace {

/// Bytes of the code point that starts at i: 1 to 4, or 0 where the text is not UTF-8.
std::size_t code_point_size(std::string_view text, std::size_t i) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const std::size_t n = lead < 0x80U   ? 1
                          : lead < 0xc2U ? 0
                          : lead < 0xe0U ? 2
                          : lead < 0xf0U ? 3
                          : lead < 0xf5U ? 4
                                         : 0;
    if (n == 0 || i + n > text.size()) return 0;
    for (std::size_t k = 1; k < n; ++k) {
        if ((static_cast<unsigned char>(text[i + k]) & 0xc0U) != 0x80U) return 0;
    }
    return n;
}

struct Replacement {
    std::string_view from;
    std::string_view to;
};
constexpr std::array<Replacement, 11> replacements = {{{"\xe2\x88\x92", "-"},    // U+2212 minus
                                                       {"\xe2\x80\xb2", "'"},    // U+2032 prime
                                                       {"\xe2\x80\xb3", "\""},   // U+2033 double prime
                                                       {"\xe2\x80\x99", "'"},    // U+2019, what a telephone types for '
                                                       {"\xe2\x80\x9d", "\""},   // U+201D, and for "
                                                       {"\xc2\xb5", "u"},        // U+00B5 micro
                                                       {"\xce\xbc", "u"},        // U+03BC mu
                                                       {"\xc2\xb0", "deg"},      // U+00B0 degree
                                                       {"\xc2\xa0", " "},        // U+00A0 no-break space
                                                       {"\xe2\x80\x89", " "},    // U+2009 thin space
                                                       {"\xe2\x80\xaf", " "}}};  // U+202F narrow no-break space

}  // namespace

std::string shown(std::string_view text) {
    std::string out;
    std::size_t i = 0;
    for (int count = 0; i < text.size() && count < 40; ++count) {
        const std::size_t n = code_point_size(text, i);
        const auto byte = static_cast<unsigned char>(text[i]);
        if (n == 0 || byte < 0x20U || byte == 0x7fU) {
            out += '?';
            ++i;
        } else {
            out += text.substr(i, n);
            i += n;
        }
    }
    return i < text.size() ? out + "..." : out;
}

std::string cleaned(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const Replacement* found = nullptr;
        for (const Replacement& r : replacements) {
            if (text.substr(i, r.from.size()) == r.from) found = &r;
        }
        if (found != nullptr) {
            out += found->to;
            i += found->from.size();
            continue;
        }
        const char c = text[i++];
        out += c == '\t' ? ' ' : (c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return out;
}

}  // namespace offsquare::base
