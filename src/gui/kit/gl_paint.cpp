#include "gui/kit/gl_paint.h"

#include <GL/gl.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>

namespace offsquare::gui {
namespace {

/// How much work a pixel of a triangle is.
enum class Work { fill, blend, letters };

float area(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c) {
    return 0.5F * std::abs((b.pos.x - a.pos.x) * (c.pos.y - a.pos.y) - (c.pos.x - a.pos.x) * (b.pos.y - a.pos.y));
}

/// Changing from one kind of work to another costs as much as some thousand pixels: small triangles are done as
/// letters, which looks the same.
Work work_of(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c, ImVec2 plain) {
    constexpr float small = 4000.0F;
    const auto is_plain = [plain](const ImDrawVert& v) { return v.uv.x == plain.x && v.uv.y == plain.y; };
    if (!is_plain(a) || !is_plain(b) || !is_plain(c) || area(a, b, c) < small) return Work::letters;
    return (a.col & b.col & c.col & IM_COL32_A_MASK) == IM_COL32_A_MASK ? Work::fill : Work::blend;
}

void set(GLenum what, bool on) {
    if (on) glEnable(what);
    else glDisable(what);
}

void begin(Work work) {
    set(GL_TEXTURE_2D, work == Work::letters);
    set(GL_BLEND, work != Work::fill);
}

void prepare(const ImDrawData& data, unsigned texture) {
    const ImVec2 lo = data.DisplayPos, size = data.DisplaySize;
    glViewport(0, 0, static_cast<GLsizei>(size.x), static_cast<GLsizei>(size.y));
    glMatrixMode(GL_PROJECTION);
    glLoadIdentity();
    glOrtho(static_cast<double>(lo.x), static_cast<double>(lo.x + size.x), static_cast<double>(lo.y + size.y),
            static_cast<double>(lo.y), -1.0, 1.0);
    glMatrixMode(GL_MODELVIEW);
    glLoadIdentity();
    glDisable(GL_CULL_FACE);
    glDisable(GL_DEPTH_TEST);
    glDisable(GL_LIGHTING);
    glEnable(GL_SCISSOR_TEST);
    glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
    glTexEnvi(GL_TEXTURE_ENV, GL_TEXTURE_ENV_MODE, GL_MODULATE);
    glBindTexture(GL_TEXTURE_2D, texture);
    glEnableClientState(GL_VERTEX_ARRAY);
    glEnableClientState(GL_TEXTURE_COORD_ARRAY);
    glEnableClientState(GL_COLOR_ARRAY);
}

void point_at(const ImDrawVert* vertices) {
    const auto* bytes = reinterpret_cast<const std::byte*>(vertices);
    constexpr GLsizei stride = sizeof(ImDrawVert);
    glVertexPointer(2, GL_FLOAT, stride, bytes + offsetof(ImDrawVert, pos));
    glTexCoordPointer(2, GL_FLOAT, stride, bytes + offsetof(ImDrawVert, uv));
    glColorPointer(4, GL_UNSIGNED_BYTE, stride, bytes + offsetof(ImDrawVert, col));
}

/// Nothing is painted outside of this, in the window's pixels from above. False: nothing is left inside.
bool only_in(const Patch& place, float height) {
    if (place.empty()) return false;
    glScissor(place.x0, static_cast<int>(height) - place.y1, place.x1 - place.x0, place.y1 - place.y0);
    return true;
}

Patch inside(const ImDrawCmd& cmd, const ImDrawData& data, const Patch& patch) {
    return {std::max(patch.x0, static_cast<int>(cmd.ClipRect.x - data.DisplayPos.x)),
            std::max(patch.y0, static_cast<int>(cmd.ClipRect.y - data.DisplayPos.y)),
            std::min(patch.x1, static_cast<int>(cmd.ClipRect.z - data.DisplayPos.x)),
            std::min(patch.y1, static_cast<int>(cmd.ClipRect.w - data.DisplayPos.y))};
}

void draw_command(const ImDrawList& list, const ImDrawCmd& cmd, ImVec2 plain) {
    const ImDrawIdx* const first = list.IdxBuffer.Data + cmd.IdxOffset;
    const ImDrawIdx* const end = first + cmd.ElemCount;
    const ImDrawVert* const v = list.VtxBuffer.Data;
    for (const ImDrawIdx* run = first; run != end;) {
        const Work work = work_of(v[run[0]], v[run[1]], v[run[2]], plain);
        const ImDrawIdx* stop = run + 3;
        while (stop != end && work_of(v[stop[0]], v[stop[1]], v[stop[2]], plain) == work) stop += 3;
        begin(work);
        glDrawElements(GL_TRIANGLES, static_cast<GLsizei>(stop - run),
                       sizeof(ImDrawIdx) == 2 ? GL_UNSIGNED_SHORT : GL_UNSIGNED_INT, run);
        run = stop;
    }
}

}  // namespace

void GlPaint::take_letters(ImFontAtlas& atlas) {
    forget_letters();
    unsigned char* alpha = nullptr;
    int width = 0;
    int height = 0;
    atlas.GetTexDataAsAlpha8(&alpha, &width, &height);
    glGenTextures(1, &texture_);
    glBindTexture(GL_TEXTURE_2D, texture_);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glPixelStorei(GL_UNPACK_ROW_LENGTH, 0);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_ALPHA8, width, height, 0, GL_ALPHA, GL_UNSIGNED_BYTE, alpha);
    plain_ = atlas.TexUvWhitePixel;
    atlas.SetTexID(reinterpret_cast<ImTextureID>(static_cast<std::intptr_t>(texture_)));
    atlas.ClearTexData();
}

void GlPaint::forget_letters() {
    if (texture_ != 0) glDeleteTextures(1, &texture_);
    texture_ = 0;
}

void GlPaint::draw(const ImDrawData& data, picture::Rgba ground, const std::vector<Patch>& patches) {
    if (data.DisplaySize.x <= 0.0F || data.DisplaySize.y <= 0.0F) return;
    prepare(data, texture_);
    glClearColor(static_cast<float>(ground.r) / 255.0F, static_cast<float>(ground.g) / 255.0F,
                 static_cast<float>(ground.b) / 255.0F, 1.0F);
    for (const Patch& patch : patches) {
        if (only_in(patch, data.DisplaySize.y)) glClear(GL_COLOR_BUFFER_BIT);
        for (int i = 0; i < data.CmdListsCount; ++i) {
            const ImDrawList& list = *data.CmdLists[i];
            point_at(list.VtxBuffer.Data);
            for (const ImDrawCmd& cmd : list.CmdBuffer) {
                const bool draws = cmd.UserCallback == nullptr && cmd.ElemCount > 0;
                if (draws && only_in(inside(cmd, data, patch), data.DisplaySize.y)) draw_command(list, cmd, plain_);
            }
        }
    }
}

}  // namespace offsquare::gui
