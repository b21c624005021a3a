// Cards that are one button, and the mark (declared in widgets.h).
#include <algorithm>
#include <array>
#include <cmath>

#include "gui/kit/parts.h"

namespace offsquare::gui {

namespace {

constexpr float plate_rounding = 8.0F;

void plate_box(const Kit& kit, const parts::Hot& place, float rounding) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const bool lit = place.hovered || place.held;
    list.AddRectFilled(place.lo, place.hi, kit.colour(Role::card), rounding);
    const ImU32 outline = lit ? kit.colour(Role::text) : kit.colour(Role::hairline);
    list.AddRect(place.lo, place.hi, outline, rounding, 0, lit ? kit.px(1.5F) : std::max(1.0F, kit.px(1.0F)));
    parts::ring(kit, place, rounding);
}

}  // namespace

Plate plate(Kit& kit, const char* label, ImVec2 size, std::string_view value) {
    const parts::Hot place = parts::hot(kit, label, {kit.px(size.x), kit.px(size.y)}, true);
    plate_box(kit, place, kit.px(plate_rounding));
    parts::note(kit, Kind::button, label, place, true, false, value);
    return {place.pressed, place.hovered || place.focused, place.lo, place.hi};
}

void tick_at(Kit& kit, ImVec2 centre, Role tone) {
    parts::tick(kit, centre, kit.px(6.0F), kit.colour(tone), 2.4F * kit.theme.scale);
}

bool mark(Kit& kit, const char* label, float side, bool enabled) {
    const parts::Hot place = parts::hot(kit, label, {kit.px(side), kit.px(side)}, enabled);
    const float unit = kit.px(side) / 30.0F;
    const float rounding = 7.0F * unit;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(place.lo, place.hi, kit.colour(place.hovered ? Role::ground : Role::card), rounding);
    list.AddRect(place.lo, place.hi, packed(control_line(kit.theme)), rounding, 0, std::max(1.0F, 1.2F * unit));
    const auto at = [&](float x, float y) { return ImVec2{place.lo.x + x * unit, place.lo.y + y * unit}; };
    // The square's corner, and the edge that should lie along it and does not.
    const std::array<ImVec2, 3> corner{at(7.5F, 6.0F), at(7.5F, 23.0F), at(24.0F, 23.0F)};
    const std::array<ImVec2, 3> edge{at(13.5F, 6.5F), at(12.0F, 18.5F), at(24.0F, 18.5F)};
    list.AddPolyline(edge.data(), 3, kit.colour(Role::quiet), 0, std::max(1.0F, 1.5F * unit));
    list.AddPolyline(corner.data(), 3, kit.colour(Role::text), 0, 2.5F * unit);
    parts::ring(kit, place, rounding);
    parts::note(kit, Kind::button, label, place, enabled);
    return place.pressed;
}

}  // namespace offsquare::gui
