#include "picture/shapes.h"

#include <algorithm>
#include <array>

namespace offsquare::picture {
namespace {

constexpr Rgba hex(std::uint32_t rgb) {
    return {static_cast<std::uint8_t>(rgb >> 16U), static_cast<std::uint8_t>((rgb >> 8U) & 0xFFU),
            static_cast<std::uint8_t>(rgb & 0xFFU), 255};
}

struct LightAndDark {
    Rgba light;
    Rgba dark;
};

// In the order of Role. The sketch's palette, but for three tones that its own letters could not be read on
// (under 4.5:1): dark wood and board, light read_fill.
constexpr std::array<LightAndDark, 18> palette{{
    {hex(0xF7F5F0), hex(0x15191C)},  // ground
    {hex(0xFFFFFF), hex(0x1E2428)},  // card
    {hex(0xCFCAC0), hex(0x3A444A)},  // hairline
    {hex(0x1F2A30), hex(0xEDF1F3)},  // text
    {hex(0x5B6770), hex(0xA9B4BA)},  // quiet
    {hex(0xE3E7E8), hex(0x2A3237)},  // table
    {hex(0xAEB8BC), hex(0x4A565D)},  // table_edge
    {hex(0xC3CBCE), hex(0x1A2024)},  // slot
    {hex(0x40505A), hex(0xB9C4CA)},  // steel
    {hex(0xEAD9B8), hex(0x5F4E32)},  // wood
    {hex(0xF2E6CC), hex(0x7C6843)},  // board
    {hex(0xB89B6A), hex(0xC9AE7C)},  // grain
    {hex(0x0072B2), hex(0x63B3E4)},  // read
    {hex(0xE6F1F8), hex(0x16384C)},  // read_fill
    {hex(0xC44F00), hex(0xF0894A)},  // wrong
    {hex(0x007A5A), hex(0x4CC39B)},  // good
    {hex(0xE2F2EC), hex(0x143A30)},  // good_fill
    {{0, 0, 0, 0}, {0, 0, 0, 0}},    // none
}};

}  // namespace

Rgba colour_of(Role role, Scheme scheme) {
    const LightAndDark& pair = palette.at(static_cast<std::size_t>(role));
    return scheme == Scheme::light ? pair.light : pair.dark;
}

Fit fit(const Picture& picture, double width, double height, double margin) {
    const Vec2 size = picture.hi - picture.lo;
    Fit f;
    f.scale = std::min((width - 2.0 * margin) / size.x, (height - 2.0 * margin) / size.y);
    f.left = 0.5 * width - f.scale * 0.5 * (picture.lo.x + picture.hi.x);
    f.top = 0.5 * height + f.scale * 0.5 * (picture.lo.y + picture.hi.y);
    return f;
}

}  // namespace offsquare::picture
