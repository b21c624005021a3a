#include "gui/kit/image.h"

#include <stb/stb_image_write.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "base/save.h"

namespace offsquare::gui {
namespace {

struct Texture {
    const unsigned char* alpha = nullptr;
    int width = 0;
    int height = 0;

    float texel(int x, int y) const {
        x = std::clamp(x, 0, width - 1);
        y = std::clamp(y, 0, height - 1);
        return static_cast<float>(
                   alpha[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)]) /
               255.0F;
    }
    /// Bilinear, as GL_LINEAR does: texel centres at halves.
    float at(ImVec2 uv) const {
        const float x = uv.x * static_cast<float>(width) - 0.5F;
        const float y = uv.y * static_cast<float>(height) - 0.5F;
        const float fx = std::floor(x);
        const float fy = std::floor(y);
        const int ix = static_cast<int>(fx);
        const int iy = static_cast<int>(fy);
        const float top = std::lerp(texel(ix, iy), texel(ix + 1, iy), x - fx);
        const float bottom = std::lerp(texel(ix, iy + 1), texel(ix + 1, iy + 1), x - fx);
        return std::lerp(top, bottom, y - fy);
    }
};

struct Clip {
    int x0, y0, x1, y1;  ///< pixels, end not included
};

using Triangle = std::array<ImDrawVert, 3>;

double edge(ImVec2 a, ImVec2 b, double x, double y) {
    return (static_cast<double>(b.x) - static_cast<double>(a.x)) * (y - static_cast<double>(a.y)) -
           (static_cast<double>(b.y) - static_cast<double>(a.y)) * (x - static_cast<double>(a.x));
}

/// Top or left edge of a triangle that runs clockwise on the screen: such edges own the pixels that lie exactly on
/// them, so that no pixel is painted twice.
bool owns(ImVec2 a, ImVec2 b) { return (a.y == b.y && b.x > a.x) || b.y < a.y; }

bool inside(double w, ImVec2 a, ImVec2 b) { return w > 0.0 || (w == 0.0 && owns(a, b)); }

float channel(ImU32 colour, unsigned shift) { return static_cast<float>((colour >> shift) & 0xFFU); }

void blend(Image& image, int x, int y, const std::array<float, 4>& colour, float alpha) {
    std::uint8_t* p =
        &image
             .rgba[(static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width) + static_cast<std::size_t>(x)) *
                   4];
    for (std::size_t i = 0; i < 3; ++i)
        p[i] = static_cast<std::uint8_t>(std::lround(std::lerp(static_cast<float>(p[i]), colour[i], alpha)));
}

void paint_pixel(Image& image, const Texture& texture, const Triangle& t, const std::array<double, 3>& w, int x,
                 int y) {
    ImVec2 uv{0.0F, 0.0F};
    std::array<float, 4> colour{};
    for (std::size_t i = 0; i < 3; ++i) {
        const auto k = static_cast<float>(w[i]);
        uv.x += k * t[i].uv.x;
        uv.y += k * t[i].uv.y;
        colour[0] += k * channel(t[i].col, IM_COL32_R_SHIFT);
        colour[1] += k * channel(t[i].col, IM_COL32_G_SHIFT);
        colour[2] += k * channel(t[i].col, IM_COL32_B_SHIFT);
        colour[3] += k * channel(t[i].col, IM_COL32_A_SHIFT);
    }
    const float alpha = std::clamp(colour[3] / 255.0F * texture.at(uv), 0.0F, 1.0F);
    if (alpha > 0.0F) blend(image, x, y, colour, alpha);
}

void paint(Image& image, const Texture& texture, Triangle t, const Clip& clip) {
    double area = edge(t[0].pos, t[1].pos, static_cast<double>(t[2].pos.x), static_cast<double>(t[2].pos.y));
    if (area == 0.0 || !std::isfinite(area)) return;
    if (area < 0.0) {
        std::swap(t[1], t[2]);
        area = -area;
    }
    const auto [left, right] = std::minmax({t[0].pos.x, t[1].pos.x, t[2].pos.x});
    const auto [top, bottom] = std::minmax({t[0].pos.y, t[1].pos.y, t[2].pos.y});
    const int x0 = std::max(clip.x0, static_cast<int>(std::floor(std::max(left, -1e6F))));
    const int x1 = std::min(clip.x1, static_cast<int>(std::ceil(std::min(right, 1e6F))) + 1);
    const int y0 = std::max(clip.y0, static_cast<int>(std::floor(std::max(top, -1e6F))));
    const int y1 = std::min(clip.y1, static_cast<int>(std::ceil(std::min(bottom, 1e6F))) + 1);
    for (int y = y0; y < y1; ++y) {
        for (int x = x0; x < x1; ++x) {
            const double px = x + 0.5;
            const double py = y + 0.5;
            const double w0 = edge(t[1].pos, t[2].pos, px, py);
            const double w1 = edge(t[2].pos, t[0].pos, px, py);
            const double w2 = edge(t[0].pos, t[1].pos, px, py);
            if (!inside(w0, t[1].pos, t[2].pos) || !inside(w1, t[2].pos, t[0].pos) || !inside(w2, t[0].pos, t[1].pos))
                continue;
            paint_pixel(image, texture, t, {w0 / area, w1 / area, w2 / area}, x, y);
        }
    }
}

Clip clip_of(const ImDrawCmd& command, ImVec2 origin, const Image& image) {
    const auto low = [](float v) { return static_cast<int>(std::floor(std::clamp(v, 0.0F, 1e6F))); };
    return {low(command.ClipRect.x - origin.x), low(command.ClipRect.y - origin.y),
            std::min(image.width, low(command.ClipRect.z - origin.x)),
            std::min(image.height, low(command.ClipRect.w - origin.y))};
}

void paint_list(Image& image, const Texture& texture, const ImDrawList& list, ImVec2 origin, const void* atlas_id) {
    for (const ImDrawCmd& command : list.CmdBuffer) {
        if (command.UserCallback != nullptr || command.GetTexID() != atlas_id) continue;
        const Clip clip = clip_of(command, origin, image);
        for (unsigned i = 0; i + 2 < command.ElemCount; i += 3) {
            Triangle t;
            for (unsigned k = 0; k < 3; ++k) {
                const ImDrawIdx index = list.IdxBuffer[static_cast<int>(command.IdxOffset + i + k)];
                t[k] = list.VtxBuffer[static_cast<int>(command.VtxOffset + index)];
                t[k].pos.x -= origin.x;
                t[k].pos.y -= origin.y;
            }
            paint(image, texture, t, clip);
        }
    }
}

void append(void* context, void* data, int size) {
    static_cast<std::string*>(context)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
}

}  // namespace

picture::Rgba Image::at(int x, int y) const {
    const std::size_t i =
        (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)) * 4;
    return {rgba.at(i), rgba.at(i + 1), rgba.at(i + 2), rgba.at(i + 3)};
}

Image rasterised(const ImDrawData& data, ImFontAtlas& atlas, picture::Rgba background) {
    Image image;
    image.width = static_cast<int>(data.DisplaySize.x);
    image.height = static_cast<int>(data.DisplaySize.y);
    const std::size_t pixels = static_cast<std::size_t>(image.width) * static_cast<std::size_t>(image.height);
    image.rgba.reserve(pixels * 4);
    for (std::size_t i = 0; i < pixels; ++i)
        image.rgba.insert(image.rgba.end(), {background.r, background.g, background.b, 255});
    Texture texture;
    unsigned char* alpha = nullptr;
    atlas.GetTexDataAsAlpha8(&alpha, &texture.width, &texture.height);
    texture.alpha = alpha;
    for (int i = 0; i < data.CmdListsCount; ++i)
        paint_list(image, texture, *data.CmdLists[i], data.DisplayPos, atlas.TexID);
    return image;
}

base::Result<void> save_png(const Image& image, const std::filesystem::path& path) {
    if (image.width <= 0 || image.height <= 0)
        return base::fail(base::Grade::our_fault, "There is no picture to save: it has no size.");
    std::vector<std::uint8_t> opaque = image.rgba;
    for (std::size_t i = 3; i < opaque.size(); i += 4) opaque[i] = 255;
    std::string bytes;
    if (stbi_write_png_to_func(&append, &bytes, image.width, image.height, 4, opaque.data(), image.width * 4) == 0)
        return base::fail(base::Grade::our_fault, "The picture could not be made.");
    return base::save(path.string(), bytes, base::Old::drop);
}

}  // namespace offsquare::gui
