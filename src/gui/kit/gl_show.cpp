#include "gui/kit/gl_show.h"

#include <GL/gl.h>
#include <GL/glx.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstring>

namespace offsquare::gui {
namespace {

using Pixel = std::array<std::uint8_t, 4>;

bool painted_by_processor() {
    const auto* name = reinterpret_cast<const char*>(glGetString(GL_RENDERER));
    if (name == nullptr) return false;
    constexpr std::array<const char*, 3> known{"llvmpipe", "softpipe", "Software Rasterizer"};
    return std::any_of(known.begin(), known.end(), [name](const char* k) { return std::strstr(name, k) != nullptr; });
}

Pixel at_corner() {
    Pixel pixel{};
    glReadPixels(0, 0, 1, 1, GL_RGBA, GL_UNSIGNED_BYTE, pixel.data());
    return pixel;
}

/// One colour painted over all, shown, and looked for.
bool stays(picture::Rgba colour) {
    glDisable(GL_SCISSOR_TEST);
    glClearColor(static_cast<float>(colour.r) / 255.0F, static_cast<float>(colour.g) / 255.0F,
                 static_cast<float>(colour.b) / 255.0F, 1.0F);
    glClear(GL_COLOR_BUFFER_BIT);
    const Pixel painted = at_corner();
    glXSwapBuffers(glXGetCurrentDisplay(), glXGetCurrentDrawable());
    return at_corner() == painted;
}

}  // namespace

bool keeps_what_is_shown(picture::Rgba ground) {
    if (!painted_by_processor() || glXGetCurrentDisplay() == nullptr) return false;
    // Of two pictures that take turns, the second would show the first one's colour.
    picture::Rgba other = ground;
    other.b = static_cast<std::uint8_t>(ground.b < 128 ? ground.b + 2 : ground.b - 2);
    return stays(other) && stays(ground);
}

}  // namespace offsquare::gui
