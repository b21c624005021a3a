// The doors of the first screen.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "gui/pages/paint.h"
#include "gui/pages/start_parts.h"

namespace offsquare::gui {
namespace {

constexpr float gap_x = 12.0F;
constexpr float door_inset = 14.0F;
constexpr float title_height = 24.0F;
constexpr float art_ratio = 0.6F;  ///< height of a drawing by its width

/// One door's place, and how it is laid out.
struct DoorBox {
    float x, y, w, h;
    bool beside;  ///< the words stand beside the drawing, not under it
    float art() const { return beside ? std::min(140.0F, (w < 300.0F ? 0.22F : 0.28F) * w) : w - 2.0F * door_inset; }
    float words() const { return beside ? w - art() - 3.0F * door_inset : w - 2.0F * door_inset - 24.0F; }
};

/// How many doors stand in each row.
std::vector<std::size_t> rows_for(float width) {
    if (width >= 960.0F) return {5};
    if (width >= 720.0F) return {3, 2};
    if (width >= 520.0F) return {2, 2, 1};
    return {1, 1, 1, 1, 1};
}

float height_for(const Kit& kit, const DoorBox& box) {
    float words = 0.0F;
    for (const Doorway door : doorways)
        words = std::max(words, paragraph_size(kit, words_of(door).sentence, Face::note, box.words()).y);
    words = words / kit.theme.scale + title_height;
    const float art = art_ratio * box.art();
    return box.beside ? std::max(art, words) + 2.0F * door_inset : art + words + 2.0F * door_inset + 26.0F;
}

void art(Kit& kit, base::Units units, Doorway door, const DoorBox& box, ImVec2 corner) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float w = box.art();
    const float h = art_ratio * w;
    const float top = box.beside ? (box.h - h) / 2.0F : door_inset;
    const ImVec2 lo{corner.x + kit.px(door_inset), corner.y + kit.px(top)};
    const ImVec2 hi{lo.x + kit.px(w), lo.y + kit.px(h)};
    list.AddRectFilled(lo, hi, kit.colour(Role::ground, 0.55F), kit.px(6.0F));
    const picture::Picture drawing = picture::door_view(door, units, box.beside);
    list.PushClipRect(lo, hi, true);
    paint(kit, list, drawing, picture::fit(drawing, static_cast<double>(w), static_cast<double>(h), 2.0), lo);
    list.PopClipRect();
}

/// The key that opens it, and its words.
void words(Kit& kit, Doorway door, std::size_t number, const DoorBox& box) {
    const float x = box.x + (box.beside ? box.art() + 2.0F * door_inset : door_inset + 2.0F);
    const float y = box.y + (box.beside ? door_inset : door_inset + art_ratio * box.art() + 13.0F);
    const DoorWords said = words_of(door);
    ImGui::SetCursorPos({kit.px(x), kit.px(y)});
    line(kit, said.title, Role::text, Face::title, box.words() - 16.0F);
    const std::string key = fmt::format("{}", number);
    ImGui::SetCursorPos({kit.px(x), kit.px(y + 3.0F)});
    number_right(kit, key, Role::quiet, box.words() + (box.beside ? 0.0F : 20.0F));
    ImGui::SetCursorPos({kit.px(x), kit.px(y + title_height)});
    paragraph(kit, said.sentence, Role::quiet, Face::note, box.words());
}

}  // namespace

float draw_doors(Kit& kit, base::Units units, const StartSheet& sheet, float y, StartWish& wish) {
    const std::vector<std::size_t> rows = rows_for(sheet.width);
    const bool beside = rows.front() < 5;
    std::size_t i = 0;
    for (const std::size_t in_row : rows) {
        const float each = (sheet.width - gap_x * static_cast<float>(in_row - 1)) / static_cast<float>(in_row);
        DoorBox box{sheet.left, y, each, 0.0F, beside};
        box.h = height_for(kit, box);
        for (std::size_t n = 0; n < in_row; ++n, ++i, box.x += each + gap_x) {
            const Doorway door = doorways.at(i);
            ImGui::SetCursorPos({kit.px(box.x), kit.px(box.y)});
            const Plate place =
                plate(kit, std::string(words_of(door).title).c_str(), {box.w, box.h}, fmt::format("{}", i + 1));
            if (place.pressed) wish = door;
            art(kit, units, door, box, place.lo);
            words(kit, door, i + 1, box);
        }
        y += box.h + gap_x;
    }
    return y - gap_x;
}

}  // namespace offsquare::gui
