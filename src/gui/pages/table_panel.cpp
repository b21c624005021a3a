#include "gui/pages/table.h"

#include <algorithm>
#include <cmath>

#include "gui/pages/paint.h"

namespace offsquare::gui {
namespace {

using base::Vec2;
using picture::Handle;

/// Zoom and pan on top of the fit.
constexpr float tools_width = 66.0F;  ///< of the small buttons at the right edge, with some air
constexpr float names_width = 40.0F;  ///< beside the table at the left
constexpr float cramped = 560.0F;     ///< in a narrower place the picture keeps clear of both

picture::Fit fit_of(const Bench& bench, const picture::Picture& picture, const Area& area) {
    const float left = area.w < cramped ? names_width : 0.0F, right = area.w < cramped ? tools_width : 0.0F;
    picture::Fit fit = picture::fit(picture, area.w - left - right, area.h, 14.0);
    fit.left += static_cast<double>(left);
    const double z = bench.view.zoom;
    fit.left = area.w / 2.0 + (fit.left - area.w / 2.0) * z + bench.view.pan.x;
    fit.top = area.h / 2.0 + (fit.top - area.h / 2.0) * z + bench.view.pan.y;
    fit.scale *= z;
    return fit;
}

/// In a cramped place a label that would stand under the buttons is only its figure, and moves to the left.
void keep_clear_of_tools(const Kit& kit, const picture::Fit& fit, const Area& area, picture::Picture& picture) {
    if (area.w >= cramped) return;
    for (picture::Item& item : picture.items) {
        auto* tag = std::get_if<picture::Tag>(&item.shape);
        if (tag == nullptr || tag->nudge.x < 0.0) continue;
        const auto too_far = [&] {
            return fit.page(tag->at).x + tag->nudge.x - static_cast<double>(area.w - tools_width) +
                   static_cast<double>(tag_size(kit, tag->word, tag->figure).x / kit.theme.scale);
        };
        if (too_far() > 0.0 && !tag->figure.empty()) tag->word.clear();
        tag->nudge.x = std::max(0.0, tag->nudge.x - std::max(0.0, too_far()));
    }
}

/// A rectangle of the screen.
struct Reach {
    ImVec2 lo, hi;
};

constexpr float least_half = 14.0F;  ///< of a target, in design pixels: 28 across

/// Where a thing can be taken hold of: around a mark, or the whole of a piece. Empty when it is not in the picture.
std::optional<Reach> reach_of(const Kit& kit, const picture::Picture& picture, Handle handle, const picture::Fit& fit,
                              ImVec2 corner) {
    std::optional<Reach> reach;
    const auto include = [&](Vec2 mm, float half) {
        const Vec2 page = fit.page(mm);
        const ImVec2 at{corner.x + static_cast<float>(page.x) * kit.theme.scale,
                        corner.y + static_cast<float>(page.y) * kit.theme.scale};
        if (!reach) reach = Reach{{at.x - half, at.y - half}, {at.x + half, at.y + half}};
        reach->lo = {std::min(reach->lo.x, at.x - half), std::min(reach->lo.y, at.y - half)};
        reach->hi = {std::max(reach->hi.x, at.x + half), std::max(reach->hi.y, at.y + half)};
    };
    for (const picture::Item& item : picture.items) {
        if (item.handle != handle) continue;
        if (const auto* dot = std::get_if<picture::Dot>(&item.shape)) include(dot->at, kit.px(least_half));
        if (const auto* tag = std::get_if<picture::Tag>(&item.shape)) include(tag->at, kit.px(least_half));
        if (const auto* piece = std::get_if<picture::Polygon>(&item.shape);
            piece != nullptr && handle == Handle::board) {
            for (const Vec2& p : piece->points) include(p, 0.0F);
        }
    }
    return reach;
}

/// What can be dragged. The small ones first: where two lie on each other, the first takes the mouse.
struct Hold {
    Handle handle;
    const char* label;
    const char* help;
    ImGuiMouseCursor cursor;
};
constexpr Hold holds[] = {
    {Handle::board_corner, "Free corner of the board",
     "Drag to make the board wider or longer, or type both under board.", ImGuiMouseCursor_ResizeNESW},
    {Handle::fence_end, "Left end of the true fence",
     "Drag up or down to set how far the fence is off square (drawn larger, see the factor), or type it under faults.",
     ImGuiMouseCursor_ResizeNS},
    {Handle::blade_end, "End of the blade",
     "Drag up or down to raise or lower the blade, or type its height under blade.", ImGuiMouseCursor_ResizeNS},
    {Handle::left_shim_point, "Left shim point",
     "Drag sideways to move the left shim point, or type it under fence in Set up.", ImGuiMouseCursor_ResizeEW},
    {Handle::right_shim_point, "Right shim point",
     "Drag sideways to move the right shim point, or type it under fence in Set up.", ImGuiMouseCursor_ResizeEW},
    {Handle::caliper_fence_end, "Caliper, fence end", "Drag along the strip to place the caliper, or type how far in.",
     ImGuiMouseCursor_ResizeNS},
    {Handle::caliper_far_end, "Caliper, far end", "Drag along the strip to place the caliper, or type how far in.",
     ImGuiMouseCursor_ResizeNS},
    {Handle::board, "Board along the fence",
     "Drag the board along the fence: how much the cuts take off. Or type it as trim under board.",
     ImGuiMouseCursor_ResizeEW},
};

/// What is being drawn, for the handles on it.
struct TableDrawn {
    const picture::Picture& picture;
    const picture::Fit& fit;
    ImVec2 corner;
    ImVec2 hi;
};

/// How far the mouse has gone since it went down, in mm of the picture; nothing for a mere click.
Vec2 moved_mm(const Kit& kit, const picture::Fit& fit) {
    const ImVec2 d = ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 3.0F);
    const double px_per_mm = fit.scale * static_cast<double>(kit.theme.scale);
    return {static_cast<double>(d.x) / px_per_mm, -static_cast<double>(d.y) / px_per_mm};
}

/// The part where it would go, and its value beside the mouse.
void show_drag(Kit& kit, const picture::Drag& drag, const TableDrawn& table, bool active) {
    picture::Picture ghost;
    for (const picture::Shape& shape : drag.ghost) ghost.items.push_back({shape, Handle::none});
    ImDrawList& list = *ImGui::GetWindowDrawList();
    paint(kit, list, ghost, table.fit, table.corner);
    if (!active) return;
    const ImVec2 size = tag_size(kit, drag.what, drag.value);
    const ImVec2 mouse = ImGui::GetMousePos();
    const float x = std::clamp(mouse.x + kit.px(18.0F), table.corner.x + 4.0F, table.hi.x - size.x - 4.0F);
    const float y = std::clamp(mouse.y - kit.px(26.0F), table.corner.y + size.y, table.hi.y - size.y);
    tag(kit, list, {x, y}, drag.what, drag.value, Role::read, Role::read_fill);
}

/// One handle: an unseen control over the mark; while the mouse is on it or holds it, its part is outlined.
void hold(Kit& kit, Bench& bench, TableState& state, const Hold& h, const TableDrawn& table) {
    const std::optional<Reach> reach = reach_of(kit, table.picture, h.handle, table.fit, table.corner);
    if (!reach || !picture::drag_of(bench.seen(), bench.options(), h.handle, {})) return;
    ImGui::SetCursorScreenPos(reach->lo);
    ImGui::PushID(static_cast<int>(h.handle));
    hot_area(kit, h.label, {reach->hi.x - reach->lo.x, reach->hi.y - reach->lo.y}, true,
             h.handle == Handle::board ? 4.0F : 14.0F);
    const bool active = ImGui::IsItemActive() && ImGui::IsMouseDown(ImGuiMouseButton_Left);
    if (ImGui::IsItemHovered() || active) {
        ImGui::SetMouseCursor(h.cursor);
        if (active) state.dragging = h.handle;
        if (const auto drag =
                picture::drag_of(bench.seen(), bench.options(), h.handle, active ? moved_mm(kit, table.fit) : Vec2{}))
            show_drag(kit, *drag, table, active);
    }
    // Let go with the mouse having moved: the drag becomes a value.
    if (ImGui::IsItemDeactivated() && state.dragging == h.handle) {
        const Vec2 m = moved_mm(kit, table.fit);
        const auto drag = picture::drag_of(bench.seen(), bench.options(), h.handle, m);
        if (drag && m != Vec2{}) bench.drop(h.handle, *drag);
        state.dragging = Handle::none;
    }
    if (!active) tooltip(kit, h.help);
    ImGui::PopID();
}

void zoom_and_pan(Kit& kit, Bench& bench, bool page_scrolls, ImVec2 lo, ImVec2 hi) {
    const ImGuiIO& io = ImGui::GetIO();
    if (!ImGui::IsMouseHoveringRect(lo, hi) || !ImGui::IsWindowHovered(ImGuiHoveredFlags_ChildWindows)) return;
    // Where the page is higher than the window, the wheel moves the page; with Ctrl it zooms all the same.
    if (io.MouseWheel != 0.0F && (io.KeyCtrl || !page_scrolls)) {
        const double before = bench.view.zoom;
        bench.view.zoom = std::clamp(before * std::pow(1.15, static_cast<double>(io.MouseWheel)), 1.0, 12.0);
        // The point under the mouse stays where it is.
        const double k = bench.view.zoom / before;
        const Vec2 m{(io.MousePos.x - (lo.x + hi.x) / 2.0) / kit.theme.scale,
                     (io.MousePos.y - (lo.y + hi.y) / 2.0) / kit.theme.scale};
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
    if (tool(kit, area, 0, "+##in", "Zoom in (or turn the wheel)", v.zoom < 12.0))
        v.zoom = std::min(12.0, v.zoom * 1.3);
    if (tool(kit, area, 1, "−##out", "Zoom out (or turn the wheel)", v.zoom > 1.0))
        v.zoom = std::max(1.0, v.zoom / 1.3);
    if (tool(kit, area, 2, "1:1##whole", "The whole table", v.zoom != 1.0 || !(v.pan == Vec2{})))
        v.zoom = 1.0, v.pan = {};
    if (tool(kit, area, 3, "×2##more", "Draw angles twice as large", factor < 500.0))
        v.exaggeration = std::min(500.0, factor * 2.0);
    if (tool(kit, area, 4, "÷2##less", "Draw angles half as large", factor > 1.0))
        v.exaggeration = std::max(1.0, factor / 2.0);
    const double fit = picture::fitting_exaggeration(bench.seen());
    if (tool(kit, area, 5, "fit##angles", "Choose again how much larger angles are drawn (it stays the same for a job)",
             factor != fit))
        v.exaggeration = fit;
}

}  // namespace

void draw_table(Kit& kit, Bench& bench, TableState& state, bool page_scrolls, const Area& area) {
    CardOptions card = card_in(area, false);
    card.padding = {0.0F, 0.0F};
    if (card_begin(kit, "Table from above", card)) {
        constexpr float small = 340.0F;  // lower than this, names would stand on each other
        picture::ViewOptions options = bench.options();
        options.few_words = area.h < small;
        picture::Picture picture = picture::table_view(bench.seen(), options);
        const picture::Fit fit = fit_of(bench, picture, area);
        keep_clear_of_tools(kit, fit, area, picture);
        const ImVec2 lo = ImGui::GetWindowPos();
        const ImVec2 hi{lo.x + kit.px(area.w), lo.y + kit.px(area.h)};
        ImDrawList& list = *ImGui::GetWindowDrawList();
        list.PushClipRect({lo.x + 1.0F, lo.y + 1.0F}, {hi.x - 1.0F, hi.y - 1.0F}, true);
        paint(kit, list, picture, fit, lo);
        tools(kit, bench, area);
        for (const Hold& h : holds) hold(kit, bench, state, h, {picture, fit, lo, hi});
        list.PopClipRect();
        zoom_and_pan(kit, bench, page_scrolls, lo, hi);
        kit.record.add({Kind::other, picture.title, "", lo, hi});
    }
    card_end(kit);
}

}  // namespace offsquare::gui
