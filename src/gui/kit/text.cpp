// Fitting text into a width: ellipsis and wrapping (declared in fonts.h).
#include <algorithm>
#include <array>
#include <cfloat>

#include "gui/kit/fonts.h"

namespace offsquare::gui {
namespace {

constexpr std::string_view ellipsis = "…";

bool continues(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U; }

/// The longest beginning of `text`, in whole characters, that is at most `width` wide.
std::size_t fitting(const ImFont& font, float size, std::string_view text, float width) {
    if (text.empty()) return 0;
    const char* end = text.data() + text.size();
    const char* stop = nullptr;
    font.CalcTextSizeA(size, width, 0.0F, text.data(), end, &stop);
    auto count = static_cast<std::size_t>(stop - text.data());
    while (count > 0 && count < text.size() && continues(text[count])) --count;
    return count;
}

/// At least one whole character.
std::size_t one_character(std::string_view text) {
    std::size_t n = 1;
    while (n < text.size() && continues(text[n])) ++n;
    return std::min(n, text.size());
}

std::string_view without_end_spaces(std::string_view text) {
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    return text;
}

/// Whether the space stands between a number and its unit, which are read together.
bool before_unit(std::string_view text, std::size_t space) {
    static constexpr std::array<std::string_view, 9> units{"%", "mm", "m", "in", "thou", "mrad", "rad", "min", "N"};
    if (space == 0 || text[space - 1] < '0' || text[space - 1] > '9') return false;
    const std::string_view next = text.substr(space + 1);
    const std::size_t after = std::min(next.find_first_of(" ,.;:)"), next.size());
    return std::find(units.begin(), units.end(), next.substr(0, after)) != units.end();
}

/// The last space up to `end` where a line may end: not before a unit, unless there is no other. None: npos.
std::size_t last_break(std::string_view text, std::size_t end) {
    const std::size_t last = text.rfind(' ', end);
    std::size_t space = last;
    while (space != std::string_view::npos && space > 0 && before_unit(text, space)) space = text.rfind(' ', space - 1);
    return space == std::string_view::npos || space == 0 ? last : space;
}

void wrap_paragraph(const ImFont& font, float size, std::string_view text, float width,
                    std::vector<std::string>& lines) {
    do {
        std::size_t count = text_width(font, size, text) <= width ? text.size() : fitting(font, size, text, width);
        if (count < text.size() && count > 0) {
            const std::size_t space = last_break(text, count);
            if (space != std::string_view::npos && space > 0) count = space;
        }
        count = std::max(count, text.empty() ? 0 : one_character(text));
        lines.emplace_back(without_end_spaces(text.substr(0, count)));
        text.remove_prefix(count);
        while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    } while (!text.empty());
}

}  // namespace

float text_width(const ImFont& font, float font_size, std::string_view text) {
    if (text.empty()) return 0.0F;  // ImGui measures a null pointer with strlen
    return font.CalcTextSizeA(font_size, FLT_MAX, 0.0F, text.data(), text.data() + text.size()).x;
}

std::string ellipsized(const ImFont& font, float font_size, std::string_view text, float width) {
    if (text_width(font, font_size, text) <= width) return std::string(text);
    const float room = std::max(0.0F, width - text_width(font, font_size, ellipsis));
    std::string cut(without_end_spaces(text.substr(0, fitting(font, font_size, text, room))));
    cut += ellipsis;
    return cut;
}

std::vector<std::string> wrapped(const ImFont& font, float font_size, std::string_view text, float width) {
    std::vector<std::string> lines;
    std::size_t from = 0;
    while (from <= text.size()) {
        const std::size_t newline = std::min(text.find('\n', from), text.size());
        wrap_paragraph(font, font_size, text.substr(from, newline - from), width, lines);
        from = newline + 1;
    }
    return lines;
}

}  // namespace offsquare::gui
