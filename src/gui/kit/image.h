// A picture of the window in memory, from the graphics card or from the small rasteriser below.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <filesystem>
#include <vector>

#include "base/result.h"
#include "picture/shapes.h"

namespace offsquare::gui {

struct Image {
    int width = 0;
    int height = 0;
    std::vector<std::uint8_t> rgba;  ///< rows from the top, 4 bytes a pixel
    picture::Rgba at(int x, int y) const;
};

/// Paints ImGui's triangles as the OpenGL2 renderer would: textured with the atlas (bilinear), alpha blended, clipped.
/// No display. Callbacks and foreign textures are skipped.
Image rasterised(const ImDrawData& data, ImFontAtlas& atlas, picture::Rgba background);
/// Writes a PNG, every alpha forced to 255.
base::Result<void> save_png(const Image& image, const std::filesystem::path& path);

}  // namespace offsquare::gui
