// Paints ImGui's triangles with OpenGL as every driver has it. In place of the renderer that comes with the toolkit,
// for the sake of a processor that paints without a card: there a pixel that is looked up in a texture and blended
// costs many times one that is filled, and most of the window is large plain areas.
#pragma once

#include <imgui.h>

#include <vector>

#include "gui/kit/changes.h"
#include "picture/shapes.h"

namespace offsquare::gui {

/// Every call needs the window's OpenGL context to be current.
class GlPaint {
public:
    GlPaint() = default;
    ~GlPaint() { forget_letters(); }
    GlPaint(const GlPaint&) = delete;
    GlPaint& operator=(const GlPaint&) = delete;

    /// Hands the atlas to OpenGL and lets go of what it was made from: one byte a pixel is kept, in one place.
    void take_letters(ImFontAtlas& atlas);
    void forget_letters();
    /// Paints these parts of the window, from the ground up.
    void draw(const ImDrawData& data, picture::Rgba ground, const std::vector<Patch>& patches);

private:
    unsigned texture_ = 0;
    ImVec2 plain_;  ///< where the atlas is white
};

}  // namespace offsquare::gui
