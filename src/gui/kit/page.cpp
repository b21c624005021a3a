// The page, cards, sheets and what floats above them (declared in widgets.h).
#include <imgui_internal.h>

#include <algorithm>
#include <cfloat>
#include <cmath>
#include <optional>
#include <utility>

#include "gui/kit/input.h"
#include "gui/kit/parts.h"

namespace offsquare::gui {
namespace {

using parts::moved;

constexpr float rest_before_tooltip_s = 0.45F;
constexpr float first_guess_of_height = 160.0F;

void cross(const Kit& kit, const parts::Hot& place) {
    const float r = kit.px(5.0F);
    const ImVec2 c{(place.lo.x + place.hi.x) / 2.0F, (place.lo.y + place.hi.y) / 2.0F};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (place.hovered) list.AddRectFilled(place.lo, place.hi, kit.colour(Role::ground), kit.px(6.0F));
    list.AddLine(moved(c, -r, -r), moved(c, r, r), kit.colour(Role::quiet), kit.px(1.6F));
    list.AddLine(moved(c, r, -r), moved(c, -r, r), kit.colour(Role::quiet), kit.px(1.6F));
    parts::ring(kit, place, kit.px(6.0F));
}

/// Title and closing cross; true when the cross was pressed.
bool sheet_head(Kit& kit, std::string_view title) {
    const float side = kit.px(28.0F);
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float width = parts::rest_of_line();
    parts::draw_in(kit, start, {start.x + width - side - kit.px(8.0F), start.y + side}, Face::heading, title,
                   kit.colour(Role::text), 0.0F);
    ImGui::SetCursorScreenPos({start.x + width - side, start.y});
    const parts::Hot place = parts::hot(kit, "Close##cross", {side, side}, true);
    cross(kit, place);
    parts::note(kit, Kind::button, "Close", place, true);
    gap(kit, 2.0F);
    return place.pressed;
}

/// Last of all, when it is known where every control stands.
void show_tip(Kit& kit) {
    if (!kit.tip) return;
    const Tip tip = *std::exchange(kit.tip, std::nullopt);
    const ImVec2 padding{kit.px(12.0F), kit.px(9.0F)};
    const float width = std::min(kit.px(320.0F), parts::width_of(kit, Face::note, tip.words) + 1.0F);
    const ImVec2 words = paragraph_size(kit, tip.words, Face::note, width / kit.theme.scale + 1.0F);
    const ImVec2 size{words.x + 2.0F * padding.x, words.y + 2.0F * padding.y};
    const auto controls = controls_of(kit.record);
    ImGui::SetNextWindowPos(free_place(size, tip.of, controls, ImGui::GetIO().DisplaySize, kit.px(6.0F)));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, padding);
    ImGui::PushStyleColor(ImGuiCol_PopupBg, kit.colour(Role::card));
    ImGui::PushStyleColor(ImGuiCol_Border, packed(control_line(kit.theme)));
    // Without this flag ImGui looks for the sheet that stands in the way of a new window, and ends the program where
    // that one was opened or left in this very frame.
    ImGui::BeginTooltipEx(ImGuiTooltipFlags_None, ImGuiWindowFlags_NoFocusOnAppearing);
    paragraph(kit, tip.words, Role::text, Face::note, width / kit.theme.scale + 1.0F);
    parts::note_text(kit, Kind::tooltip, tip.words, ImGui::GetWindowPos(),
                     moved(ImGui::GetWindowPos(), size.x, size.y));
    ImGui::EndTooltip();
    ImGui::PopStyleColor(2);
    ImGui::PopStyleVar();
}

}  // namespace

void begin_frame(Kit& kit) {
    kit.record.clear();
    kit.tab_order.begin_frame();
    kit.tip.reset();
    kit.escape_is_for_sheet = std::exchange(kit.escape_left_field, false);
}

void page_begin(Kit& kit, const char* name) {
    ImGui::SetNextWindowPos({0.0F, 0.0F});
    ImGui::SetNextWindowSize(ImGui::GetIO().DisplaySize);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, 0.0F);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 0.0F);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {kit.px(16.0F), kit.px(12.0F)});
    constexpr ImGuiWindowFlags flags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                       ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoCollapse |
                                       ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus;
    ImGui::Begin(name, nullptr, flags);
    ImGui::PopStyleVar(3);
    ImGui::PushFont(kit.font(Face::body));
}

void page_end(Kit& kit) {
    show_tip(kit);
    ImGui::PopFont();
    ImGui::End();
}

void page_rule(Kit& kit, float y) {
    const ImVec2 page = ImGui::GetWindowPos();
    const float row = std::floor(page.y - ImGui::GetScrollY() + kit.px(y)) + 0.5F;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    // The page's own clip rectangle leaves out its margins.
    list.PushClipRect(page, moved(page, ImGui::GetWindowSize().x, ImGui::GetWindowSize().y));
    list.AddLine({page.x, row}, {page.x + ImGui::GetWindowSize().x, row}, kit.colour(Role::hairline),
                 std::max(1.0F, kit.px(1.0F)));
    list.PopClipRect();
}

bool card_begin(Kit& kit, const char* title, const CardOptions& options) {
    ImGui::PushID(title);
    const float kept = ImGui::GetStateStorage()->GetFloat(ImGui::GetID("height"), kit.px(first_guess_of_height));
    if (options.at.x >= 0.0F) ImGui::SetCursorPos({kit.px(options.at.x), kit.px(options.at.y)});
    const float limit = options.max_height > 0.0F ? kit.px(options.max_height) : FLT_MAX;
    const float height = options.height > 0.0F ? kit.px(options.height) : std::min(kept, limit);
    const bool scrolls = options.scrolls || (options.height <= 0.0F && kept > limit);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {kit.px(options.padding.x), kit.px(options.padding.y)});
    ImGui::PushStyleColor(ImGuiCol_ChildBg, kit.colour(options.fill));
    ImGuiWindowFlags flags = ImGuiWindowFlags_NavFlattened | ImGuiWindowFlags_AlwaysUseWindowPadding;
    if (!scrolls) flags |= ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse;
    const float width = options.width > 0.0F ? kit.px(options.width) : parts::rest_of_line();
    const bool seen = ImGui::BeginChild("card", {width, height}, true, flags);
    ImGui::PopStyleColor();
    ImGui::PopStyleVar();
    const ImVec2 lo = ImGui::GetWindowPos();
    parts::note_text(kit, Kind::card, title, lo, moved(lo, width, height));
    if (seen && options.shown_title) line(kit, parts::shown(title), Role::quiet, Face::label);
    return seen;
}

void card_end(Kit& kit) {
    static_cast<void>(kit);
    const ImGuiWindow* window = ImGui::GetCurrentWindowRead();
    const bool measured = !window->SkipItems;
    const float height = window->DC.CursorMaxPos.y - window->DC.CursorStartPos.y + 2.0F * window->WindowPadding.y;
    ImGui::EndChild();
    if (measured) ImGui::GetStateStorage()->SetFloat(ImGui::GetID("height"), height);
    ImGui::PopID();
}

bool scroll_begin(Kit& kit, const char* name, float width, float height) {
    const ImVec2 size{width > 0.0F ? kit.px(width) : parts::rest_of_line(), kit.px(height)};
    ImGui::PushStyleColor(ImGuiCol_ChildBg, kit.colour(Role::card));
    ImGui::PushStyleColor(ImGuiCol_Border, packed(control_line(kit.theme)));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {kit.px(8.0F), kit.px(8.0F)});
    const bool seen = ImGui::BeginChild(name, size, true, ImGuiWindowFlags_NavFlattened);
    ImGui::PopStyleVar();
    ImGui::PopStyleColor(2);
    return seen;
}

void scroll_end(Kit& kit) {
    static_cast<void>(kit);
    ImGui::EndChild();
}

bool plain_begin(Kit& kit, const char* name, float width, float height) {
    ImGui::PushStyleColor(ImGuiCol_ChildBg, kit.colour(Role::card));
    // Room for the ring of a control that has the keyboard.
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {kit.px(6.0F), kit.px(4.0F)});
    const bool seen = ImGui::BeginChild(name, {kit.px(width), kit.px(height)}, false,
                                        ImGuiWindowFlags_NavFlattened | ImGuiWindowFlags_AlwaysUseWindowPadding);
    ImGui::PopStyleVar();
    ImGui::PopStyleColor();
    return seen;
}

void plain_end(Kit& kit) {
    static_cast<void>(kit);
    ImGui::EndChild();
}

void gap(Kit& kit, float height) {
    // A dummy is followed by the item spacing; the gap asked for is the whole distance beyond it.
    ImGui::Dummy({0.0F, std::max(0.0F, kit.px(height) - ImGui::GetStyle().ItemSpacing.y)});
}

void rule(Kit& kit) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float y = std::floor(at.y + kit.px(2.0F)) + 0.5F;
    ImGui::GetWindowDrawList()->AddLine({at.x, y}, {at.x + parts::rest_of_line(), y}, kit.colour(Role::hairline),
                                        kit.px(1.2F));
    ImGui::Dummy({0.0F, kit.px(5.0F)});
}

bool sheet_begin(Kit& kit, const char* title, bool& open, float width, float max_height) {
    if (open && !ImGui::IsPopupOpen(title)) ImGui::OpenPopup(title);
    if (!ImGui::IsPopupOpen(title)) return false;
    const ImVec2 screen = ImGui::GetIO().DisplaySize;
    const float edge = kit.px(32.0F);
    const float w = std::min(kit.px(width), screen.x - edge);
    const float most = std::min(max_height > 0.0F ? kit.px(max_height) : FLT_MAX, screen.y - edge);
    ImGui::SetNextWindowPos({screen.x / 2.0F, screen.y / 2.0F}, ImGuiCond_Always, {0.5F, 0.5F});
    ImGui::SetNextWindowSizeConstraints({w, 0.0F}, {w, most});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {kit.px(24.0F), kit.px(20.0F)});
    ImGui::PushStyleColor(ImGuiCol_PopupBg, kit.colour(Role::card));
    constexpr ImGuiWindowFlags flags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoMove |
                                       ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoSavedSettings;
    const bool seen = ImGui::BeginPopupModal(title, nullptr, flags);
    ImGui::PopStyleColor();
    ImGui::PopStyleVar();
    if (!seen) return false;
    const bool pressed = ImGui::IsKeyPressed(static_cast<int>(Key::escape), false) || kit.escape_is_for_sheet;
    const bool escape = !ImGui::IsAnyItemActive() && !under_a_sheet() && pressed;
    if (escape || !open) {
        open = false;
        ImGui::CloseCurrentPopup();
        ImGui::EndPopup();
        return false;
    }
    ImGui::PushFont(kit.font(Face::body));
    const ImVec2 lo = ImGui::GetWindowPos();
    parts::note_text(kit, Kind::sheet, title, lo, moved(lo, ImGui::GetWindowSize().x, ImGui::GetWindowSize().y));
    if (sheet_head(kit, parts::shown(title))) open = false;
    return true;
}

void sheet_end(Kit& kit) {
    static_cast<void>(kit);
    ImGui::PopFont();
    ImGui::EndPopup();
}

void toast_line(Kit& kit, std::string_view text, Role tone) {
    const ImVec2 screen = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos({screen.x / 2.0F, screen.y - kit.px(28.0F)}, ImGuiCond_Always, {0.5F, 1.0F});
    ImGui::PushStyleColor(ImGuiCol_WindowBg, kit.colour(Role::card));
    ImGui::PushStyleColor(ImGuiCol_Border, kit.colour(tone == Role::text ? Role::quiet : tone));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {kit.px(18.0F), kit.px(12.0F)});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, kit.px(1.5F));
    constexpr ImGuiWindowFlags flags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoInputs |
                                       ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoSavedSettings |
                                       ImGuiWindowFlags_NoFocusOnAppearing;
    ImGui::Begin("##toast", nullptr, flags);
    ImGui::PopStyleVar(2);
    ImGui::PopStyleColor(2);
    const float side = kit.px(16.0F);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    parts::sign(kit, at, side, tone == Role::text ? Role::read : tone);
    ImGui::SetCursorScreenPos(moved(at, side + kit.px(10.0F), 0.0F));
    const float most = std::max(kit.px(120.0F), std::min(kit.px(640.0F), screen.x - kit.px(120.0F)));
    const float width = std::min(most, parts::width_of(kit, Face::body, text) + 1.0F);
    paragraph(kit, text, Role::text, Face::body, width / kit.theme.scale + 1.0F);
    parts::note_text(kit, Kind::toast, text, ImGui::GetWindowPos(),
                     moved(ImGui::GetWindowPos(), ImGui::GetWindowSize().x, ImGui::GetWindowSize().y));
    ImGui::End();
}

void tooltip(Kit& kit, std::string_view text) {
    const ImGuiContext& g = *GImGui;
    const bool rested = ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled) &&
                        g.HoveredIdTimer >= rest_before_tooltip_s && !ImGui::IsItemActive();
    const bool by_key = ImGui::IsItemFocused() && g.IO.NavVisible;
    if (!rested && !by_key) return;
    // Of a row that is half scrolled away, the half that is seen.
    const ImRect& seen = g.CurrentWindow->ClipRect;
    const ImVec2 lo = ImGui::GetItemRectMin(), hi = ImGui::GetItemRectMax();
    kit.tip = Tip{std::string(text),
                  {{std::max(lo.x, seen.Min.x), std::max(lo.y, seen.Min.y)},
                   {std::min(hi.x, seen.Max.x), std::min(hi.y, seen.Max.y)}}};
}

bool hot_area(Kit& kit, const char* label, ImVec2 size_px, bool enabled, float rounding) {
    const parts::Hot place = parts::hot(kit, label, size_px, enabled);
    parts::ring(kit, place, kit.px(rounding));
    parts::note(kit, Kind::other, label, place, enabled);
    return place.pressed;
}

}  // namespace offsquare::gui
