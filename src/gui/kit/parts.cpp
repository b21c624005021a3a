#include "gui/kit/parts.h"

#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "gui/kit/input.h"

namespace offsquare::gui::parts {
namespace {

constexpr float smallest_target = 24.0F;

bool enter_pressed() {
    return ImGui::IsKeyPressed(static_cast<int>(Key::enter), false) ||
           ImGui::IsKeyPressed(static_cast<int>(Key::keypad_enter), false);
}

/// Gives the keyboard to the item just drawn, with its ring, and brings it into view.
void take_keyboard() {
    ImGuiContext& g = *GImGui;
    ImGui::SetFocusID(g.LastItemData.ID, g.CurrentWindow);
    g.NavDisableHighlight = false;
    g.NavDisableMouseHover = true;
    ImGui::ScrollToItem();
}

}  // namespace

Hot hot(Kit& kit, const char* id, ImVec2 size, bool enabled) {
    const float least = std::ceil(smallest_target * kit.theme.scale);
    size = {std::max(size.x, least), std::max(size.y, least)};
    ImGui::BeginDisabled(!enabled);
    Hot out;
    out.pressed = ImGui::InvisibleButton(id, size);
    out.hovered = enabled && ImGui::IsItemHovered();
    out.held = enabled && ImGui::IsItemActive();
    out.focused = enabled && ImGui::IsItemFocused() && ImGui::GetIO().NavVisible;
    out.lo = ImGui::GetItemRectMin();
    out.hi = ImGui::GetItemRectMax();
    if (enabled && kit.tab_order.visit(ImGui::GetItemID())) take_keyboard();
    ImGui::EndDisabled();
    if (out.focused && !ImGui::IsAnyItemActive() && enter_pressed()) out.pressed = true;
    if (out.hovered) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    return out;
}

void ring(const Kit& kit, const Hot& hot, float rounding_px) {
    if (!hot.focused) return;
    const float away = kit.px(3.0F);
    ImGui::GetWindowDrawList()->AddRect(moved(hot.lo, -away, -away), moved(hot.hi, away, away), kit.colour(Role::read),
                                        rounding_px + away, 0, kit.px(2.0F));
}

void note(Kit& kit, Kind kind, std::string_view label, const Hot& hot, bool enabled, bool selected,
          std::string_view value) {
    Drawn item;
    item.kind = kind;
    item.label = shown(label);
    item.value = value;
    item.lo = hot.lo;
    item.hi = hot.hi;
    item.enabled = enabled;
    item.selected = selected;
    item.focused = hot.focused;
    item.visible = ImGui::IsRectVisible(hot.lo, hot.hi);
    kit.record.add(std::move(item));
}

void note_text(Kit& kit, Kind kind, std::string_view label, ImVec2 lo, ImVec2 hi, std::string_view value) {
    Hot place;
    place.lo = lo;
    place.hi = hi;
    note(kit, kind, label, place, true, false, value);
}

std::string_view shown(std::string_view label) { return label.substr(0, std::min(label.find("##"), label.size())); }

float rest_of_line() { return std::max(1.0F, ImGui::GetContentRegionAvail().x); }

float width_of(const Kit& kit, Face face, std::string_view text) {
    const ImFont* font = kit.font(face);
    return text_width(*font, font->FontSize, text);
}

void draw(const Kit& kit, ImVec2 at, Face face, std::string_view text, ImU32 colour) {
    if (text.empty()) return;
    const ImFont* font = kit.font(face);
    ImGui::GetWindowDrawList()->AddText(font, font->FontSize, {std::floor(at.x), std::round(at.y)}, colour, text.data(),
                                        text.data() + text.size());
}

bool draw_in(const Kit& kit, ImVec2 lo, ImVec2 hi, Face face, std::string_view text, ImU32 colour, float align) {
    const ImFont* font = kit.font(face);
    const float room = hi.x - lo.x;
    const std::string fitted = ellipsized(*font, font->FontSize, text, room);
    const float x = lo.x + (room - text_width(*font, font->FontSize, fitted)) * align;
    draw(kit, {x, lo.y + (hi.y - lo.y - font->FontSize) / 2.0F}, face, fitted, colour);
    return fitted != text;
}

void tick(const Kit& kit, ImVec2 centre, float half_width_px, ImU32 colour, float thickness_px) {
    static_cast<void>(kit);
    const float u = half_width_px / 6.0F;
    const std::array<ImVec2, 3> points{moved(centre, -6.0F * u, 0.5F * u), moved(centre, -2.0F * u, 5.0F * u),
                                       moved(centre, 6.0F * u, -5.0F * u)};
    ImGui::GetWindowDrawList()->AddPolyline(points.data(), 3, colour, 0, thickness_px);
}

void sign(const Kit& kit, ImVec2 lo, float side, Role tone) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImU32 colour = kit.colour(tone);
    const ImVec2 centre = moved(lo, side / 2.0F, side / 2.0F);
    const float thick = std::max(1.0F, side / 10.0F);
    if (tone == Role::good) {
        tick(kit, centre, side * 0.42F, colour, thick * 1.4F);
    } else if (tone == Role::wrong) {
        const ImU32 hollow = kit.colour(Role::card);
        list.AddTriangleFilled({centre.x, lo.y + side * 0.02F}, {lo.x + side * 1.04F, lo.y + side * 0.96F},
                               {lo.x - side * 0.04F, lo.y + side * 0.96F}, colour);
        list.AddLine({centre.x, lo.y + side * 0.36F}, {centre.x, lo.y + side * 0.65F}, hollow, thick * 1.3F);
        list.AddCircleFilled({centre.x, lo.y + side * 0.80F}, thick * 0.8F, hollow);
    } else {
        list.AddCircle(centre, side * 0.47F, colour, 0, thick);
        list.AddLine({centre.x, lo.y + side * 0.44F}, {centre.x, lo.y + side * 0.76F}, colour, thick * 1.3F);
        list.AddCircleFilled({centre.x, lo.y + side * 0.28F}, thick * 0.8F, colour);
    }
}

}  // namespace offsquare::gui::parts
