#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "gui/paint.h"
#include "gui/panels.h"

namespace offsquare::gui {
namespace {

using base::Vec2;
using picture::Handle;

/// Zoom and pan on top of the fit.
picture::Fit fit_of(const Bench& bench, const picture::Picture& picture, const Area& area) {
    picture::Fit fit = picture::fit(picture, area.w, area.h, 14.0);
    const double z = bench.view.zoom;
    fit.left = area.w / 2.0 + (fit.left - area.w / 2.0) * z + bench.view.pan.x;
    fit.top = area.h / 2.0 + (fit.top - area.h / 2.0) * z + bench.view.pan.y;
    fit.scale *= z;
    return fit;
}

/// Where a thing that can be held stands [mm, T]; empty when it is not in the picture.
std::optional<Vec2> place_of(const picture::Picture& picture, Handle handle) {
    for (const picture::Item& item : picture.items) {
        if (item.handle != handle) continue;
        if (const auto* dot = std::get_if<picture::Dot>(&item.shape)) return dot->at;
        if (const auto* tag = std::get_if<picture::Tag>(&item.shape)) return tag->at;
    }
    return std::nullopt;
}

/// A thing that can be dragged: how the drag, in mm across the picture, becomes a value.
struct Hold {
    Handle handle;
    const char* label;
    const char* help;
};
constexpr Hold holds[] = {
    {Handle::left_shim_point, "Left shim point", "Drag sideways to move the left shim point (or type it in Set up)."},
    {Handle::right_shim_point, "Right shim point", "Drag sideways to move the right shim point (or type it in Set up)."},
    {Handle::caliper_fence_end, "Caliper, fence end", "Drag along the strip to place the caliper (or type how far in)."},
    {Handle::caliper_far_end, "Caliper, far end", "Drag along the strip to place the caliper (or type how far in)."},
};

void drop(Bench& bench, Handle handle, Vec2 moved_mm) {
    const auto& fence = bench.scenario().drawing.fence;
    const auto whole = [](double mm) { return fmt::format("{:.0f}mm", mm); };
    const auto clamp_station = [&](double mm) {
        return bench.strip() == nullptr ? 0.0 : std::clamp(std::round(mm), 0.0, std::floor(session::furthest_in_mm(*bench.strip())));
    };
    switch (handle) {
        case Handle::left_shim_point: bench.act(session::SetValue{"fence.shim_left", whole(fence.shim_left_x_mm + moved_mm.x)}); break;
        case Handle::right_shim_point: bench.act(session::SetValue{"fence.shim_right", whole(fence.shim_right_x_mm + moved_mm.x)}); break;
        case Handle::caliper_fence_end: bench.in_from_end[0] = clamp_station(bench.in_from_end[0] + moved_mm.y); break;
        case Handle::caliper_far_end: bench.in_from_end[1] = clamp_station(bench.in_from_end[1] - moved_mm.y); break;
        default: break;
    }
}

/// One handle: an unseen control over the mark; while it is held a line shows where it would go.
void hold(Kit& kit, Bench& bench, PanelState& state, const Hold& h, const picture::Picture& picture, const picture::Fit& fit, ImVec2 corner) {
    const std::optional<Vec2> at = place_of(picture, h.handle);
    if (!at) return;
    const Vec2 page = fit.page(*at);
    const float half = kit.px(14.0F);
    ImGui::SetCursorScreenPos({corner.x + static_cast<float>(page.x) * kit.theme.scale - half, corner.y + static_cast<float>(page.y) * kit.theme.scale - half});
    ImGui::PushID(static_cast<int>(h.handle));
    hot_area(kit, h.label, {2.0F * half, 2.0F * half}, true, 14.0F);
    const bool sideways = h.handle == Handle::left_shim_point || h.handle == Handle::right_shim_point;
    const double px_per_mm = fit.scale * kit.theme.scale;
    const auto moved = [&] {
        const ImVec2 d = ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 3.0F);
        return Vec2{d.x / px_per_mm, -d.y / px_per_mm};
    };
    if (ImGui::IsItemHovered() || ImGui::IsItemActive()) ImGui::SetMouseCursor(sideways ? ImGuiMouseCursor_ResizeEW : ImGuiMouseCursor_ResizeNS);
    if (ImGui::IsItemActive()) {
        state.dragging = h.handle;
        const ImVec2 m = ImGui::GetMousePos();
        ImGui::GetWindowDrawList()->AddCircle(m, kit.px(9.0F), kit.colour(Role::read), 24, kit.px(2.0F));
    }
    // Released with the mouse having moved: the drag becomes a value. The arrow keys move the caliper by a millimetre.
    if (ImGui::IsItemDeactivated() && state.dragging == h.handle) {
        const Vec2 m = moved();
        if (m.x != 0.0 || m.y != 0.0) drop(bench, h.handle, m);
        state.dragging = Handle::none;
    }
    tooltip(kit, h.help);
    ImGui::PopID();
}

void zoom_and_pan(Kit& kit, Bench& bench, ImVec2 lo, ImVec2 hi) {
    const ImGuiIO& io = ImGui::GetIO();
    if (!ImGui::IsMouseHoveringRect(lo, hi) || !ImGui::IsWindowHovered(ImGuiHoveredFlags_ChildWindows)) return;
    if (io.MouseWheel != 0.0F) {
        const double before = bench.view.zoom;
        bench.view.zoom = std::clamp(before * std::pow(1.15, static_cast<double>(io.MouseWheel)), 1.0, 12.0);
        // The point under the mouse stays where it is.
        const double k = bench.view.zoom / before;
        const Vec2 m{(io.MousePos.x - (lo.x + hi.x) / 2.0) / kit.theme.scale, (io.MousePos.y - (lo.y + hi.y) / 2.0) / kit.theme.scale};
        bench.view.pan = m + k * (bench.view.pan - m);
        if (bench.view.zoom == 1.0) bench.view.pan = {};
    }
    if (ImGui::IsMouseDragging(ImGuiMouseButton_Left, 4.0F) && !ImGui::IsAnyItemActive()) {
        bench.view.pan = bench.view.pan + Vec2{io.MouseDelta.x / kit.theme.scale, io.MouseDelta.y / kit.theme.scale};
    }
}

/// One small button of the column at the right edge.
bool tool(Kit& kit, const Area& area, int row, const char* label, const char* help, bool enabled) {
    ImGui::SetCursorPos({kit.px(area.w - 58.0F), kit.px(10.0F + 36.0F * static_cast<float>(row))});
    const bool is_pressed = button(kit, label, 48.0F, enabled);
    tooltip(kit, help);
    return is_pressed;
}

void tools(Kit& kit, Bench& bench, const Area& area) {
    View& v = bench.view;
    const double factor = bench.exaggeration();
    if (tool(kit, area, 0, "+##in", "Zoom in (or turn the wheel)", v.zoom < 12.0)) v.zoom = std::min(12.0, v.zoom * 1.3);
    if (tool(kit, area, 1, "−##out", "Zoom out (or turn the wheel)", v.zoom > 1.0)) v.zoom = std::max(1.0, v.zoom / 1.3);
    if (tool(kit, area, 2, "1:1##whole", "The whole table", v.zoom != 1.0 || !(v.pan == Vec2{}))) v.zoom = 1.0, v.pan = {};
    if (tool(kit, area, 3, "×2##more", "Draw angles twice as large", factor < 500.0)) v.exaggeration = std::min(500.0, factor * 2.0);
    if (tool(kit, area, 4, "÷2##less", "Draw angles half as large", factor > 1.0)) v.exaggeration = std::max(1.0, factor / 2.0);
}

}  // namespace

void draw_table(Kit& kit, Bench& bench, PanelState& state, const Area& area) {
    CardOptions card = card_in(area, false);
    card.padding = {0.0F, 0.0F};
    if (card_begin(kit, "Table from above", card)) {
        const picture::Picture picture = picture::table_view(bench.trial(), bench.options());
        const picture::Fit fit = fit_of(bench, picture, area);
        const ImVec2 lo = ImGui::GetWindowPos();
        const ImVec2 hi{lo.x + kit.px(area.w), lo.y + kit.px(area.h)};
        ImDrawList& list = *ImGui::GetWindowDrawList();
        list.PushClipRect({lo.x + 1.0F, lo.y + 1.0F}, {hi.x - 1.0F, hi.y - 1.0F}, true);
        paint(kit, list, picture, fit, lo);
        for (const Hold& h : holds) hold(kit, bench, state, h, picture, fit, lo);
        list.PopClipRect();
        tools(kit, bench, area);
        zoom_and_pan(kit, bench, lo, hi);
        kit.record.add({Kind::other, picture.title, "", lo, hi});
    }
    card_end(kit);
}

}  // namespace offsquare::gui
