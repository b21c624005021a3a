// Fields, slider and list rows (declared in widgets.h).
#include <imgui_internal.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>

#include "gui/kit/input.h"
#include "gui/kit/parts.h"

namespace offsquare::gui {
namespace {

using parts::Hot;
using parts::moved;

struct FieldEvent {
    bool committed = false;   ///< Enter or left, with changed text
    bool taken_back = false;  ///< Escape
};

void field_label(Kit& kit, std::string_view label, const FieldOptions& options) {
    if (parts::shown(label).empty()) return;
    if (options.label_width <= 0.0F) {
        line(kit, parts::shown(label), Role::quiet, Face::note);
        return;
    }
    const ImVec2 at = ImGui::GetCursorScreenPos();
    parts::draw_in(kit, at, moved(at, kit.px(options.label_width) - kit.px(8.0F), kit.px(32.0F)), Face::body,
                   parts::shown(label), kit.colour(Role::quiet), 0.0F);
    ImGui::SetCursorScreenPos(moved(at, kit.px(options.label_width), 0.0F));
}

/// The box itself. `bad` draws it in the colour of an error, thick.
FieldEvent field_box(Kit& kit, const char* label, std::string& text, bool bad, const FieldOptions& options) {
    ImGui::PushFont(kit.font(options.reading ? Face::button : Face::body));
    const bool stands = options.reading && !text.empty();
    const float pad = std::max(0.0F, (kit.px(options.reading ? 36.0F : 32.0F) - ImGui::GetFontSize()) / 2.0F);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {kit.px(options.reading ? 12.0F : 10.0F), pad});
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize,
                        bad ? kit.px(2.0F) : std::max(1.0F, kit.px(stands ? 1.6F : 1.0F)));
    ImGui::PushStyleColor(ImGuiCol_Border, bad      ? kit.colour(Role::wrong)
                                           : stands ? kit.colour(Role::read)
                                                    : packed(control_line(kit.theme)));
    ImGui::PushStyleColor(ImGuiCol_Text, stands && !bad
                                             ? packed(readable(kit.theme.rgba(Role::read), kit.theme.rgba(Role::card)))
                                             : kit.colour(Role::text));
    ImGui::BeginDisabled(!options.enabled);
    ImGui::SetNextItemWidth(options.width > 0.0F ? std::min(kit.px(options.width), parts::rest_of_line())
                                                 : parts::rest_of_line());
    ImGui::PushID(label);
    // The kit's own Tab order stops here; ImGui's must not move on a second time.
    const bool reached = options.enabled && kit.tab_order.visit(ImGui::GetID("##box"));
    if (reached || options.takes_keyboard) ImGui::SetKeyboardFocusHere();
    ImGui::PushItemFlag(ImGuiItemFlags_NoTabStop, true);
    ImGui::InputTextWithHint("##box", options.hint.c_str(), &text, ImGuiInputTextFlags_AutoSelectAll);
    ImGui::PopItemFlag();
    ImGui::PopID();
    FieldEvent event;
    event.committed = ImGui::IsItemDeactivatedAfterEdit();
    event.taken_back = ImGui::IsItemDeactivated() && ImGui::IsKeyPressed(static_cast<int>(Key::escape), false);
    kit.escape_left_field = kit.escape_left_field || (event.taken_back && !event.committed);
    Hot place;
    place.lo = ImGui::GetItemRectMin();
    place.hi = ImGui::GetItemRectMax();
    place.held = ImGui::IsItemActive();
    place.focused = place.held || (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible);
    ImGui::EndDisabled();
    ImGui::PopStyleColor(2);
    ImGui::PopStyleVar(2);
    ImGui::PopFont();
    if (place.held)
        ImGui::GetWindowDrawList()->AddRect(place.lo, place.hi, kit.colour(bad ? Role::wrong : Role::read),
                                            kit.px(7.0F), 0, kit.px(2.0F));
    parts::note(kit, Kind::field, label, place, options.enabled, false, text);
    return event;
}

void beneath(Kit& kit, const std::string& error, const FieldOptions& options) {
    if (error.empty() && options.help.empty()) return;
    if (options.label_width > 0.0F) ImGui::SetCursorPosX(ImGui::GetCursorPosX() + kit.px(options.label_width));
    ImGui::BeginGroup();
    if (error.empty()) {
        paragraph(kit, options.help, Role::quiet, Face::tiny);
    } else {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        marked(kit, error, Role::wrong);
        parts::note_text(kit, Kind::error, error, at, ImGui::GetItemRectMax());
    }
    ImGui::EndGroup();
}

// ---- slider ---------------------------------------------------------------------------------------------------

bool key_now(Key key, bool repeat = true) { return ImGui::IsKeyPressed(static_cast<int>(key), repeat); }

/// Steps asked for by the keyboard; the arrows then belong to the slider, not to moving on to the next control.
double moved_by_keys(double value, double lo, double hi, double step) {
    if (key_now(Key::right)) value += step;
    if (key_now(Key::left)) value -= step;
    if (key_now(Key::page_up)) value += 10.0 * step;
    if (key_now(Key::page_down)) value -= 10.0 * step;
    if (key_now(Key::home, false)) value = lo;
    if (key_now(Key::end, false)) value = hi;
    return std::clamp(value, lo, hi);
}

bool any_slider_key() {
    return key_now(Key::left) || key_now(Key::right) || key_now(Key::page_up) || key_now(Key::page_down) ||
           key_now(Key::home) || key_now(Key::end);
}

struct Track {
    float left, right, y;
    float at(double share) const { return left + (right - left) * static_cast<float>(share); }
};

void draw_slider(const Kit& kit, const Hot& place, const Track& track, double share, int ticks) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float half = kit.px(4.0F) / 2.0F;
    list.AddRectFilled({track.left, track.y - half}, {track.right, track.y + half}, packed(control_line(kit.theme)),
                       half);
    list.AddRectFilled({track.left, track.y - half}, {track.at(share), track.y + half}, kit.colour(Role::text), half);
    for (int i = 0; i < ticks && ticks > 1; ++i) {
        const float x = track.at(static_cast<double>(i) / (ticks - 1));
        list.AddLine({x, track.y + kit.px(7.0F)}, {x, track.y + kit.px(12.0F)}, packed(control_line(kit.theme)),
                     std::max(1.0F, kit.px(1.0F)));
    }
    const float r = kit.px(place.held ? 9.0F : 8.0F);
    const ImVec2 knob{track.at(share), track.y};
    list.AddCircleFilled(knob, r, kit.colour(Role::card));
    list.AddCircle(knob, r, kit.colour(Role::text), 0, kit.px(2.0F));
    if (place.focused) list.AddCircle(knob, r + kit.px(4.0F), kit.colour(Role::read), 0, kit.px(2.0F));
}

double share_of(double value, double lo, double hi) {
    return hi > lo ? std::clamp((value - lo) / (hi - lo), 0.0, 1.0) : 0.0;
}

/// Where the mouse has dragged the knob to, on a whole step.
double value_at_mouse(const Track& track, double lo, double hi, double step) {
    const double share = std::clamp(
        static_cast<double>((ImGui::GetIO().MousePos.x - track.left) / std::max(1.0F, track.right - track.left)), 0.0,
        1.0);
    const double raw = lo + share * (hi - lo);
    const double stepped = step > 0.0 ? lo + std::round((raw - lo) / step) * step : raw;
    return std::clamp(stepped, lo, hi);
}

}  // namespace

std::optional<double> number_field(Kit& kit, const char* label, FieldState& state, std::string_view shown,
                                   const std::function<base::Result<double>(std::string_view)>& parse,
                                   const FieldOptions& options) {
    if (!state.editing && state.error.empty()) state.text = shown;
    ImGui::BeginGroup();
    field_label(kit, label, options);
    const FieldEvent event = field_box(kit, label, state.text, !state.error.empty(), options);
    state.editing = ImGui::IsItemActive();
    std::optional<double> result;
    if (event.taken_back || (event.committed && state.text == shown)) {
        state.text = shown;
        state.error.clear();
    } else if (event.committed) {
        const base::Result<double> value = parse(state.text);
        state.error = value ? std::string() : value.error().message;
        if (value) result = *value;
    }
    beneath(kit, state.error, options);
    ImGui::EndGroup();
    return result;
}

bool text_field(Kit& kit, const char* label, std::string& text, const FieldOptions& options) {
    ImGui::BeginGroup();
    field_label(kit, label, options);
    const FieldEvent event = field_box(kit, label, text, !options.error.empty(), options);
    beneath(kit, options.error, options);
    ImGui::EndGroup();
    return event.committed && !event.taken_back;
}

bool slider(Kit& kit, const char* label, double& value, double lo, double hi, double step, std::string_view shown,
            int ticks, float width) {
    const std::string_view words = parts::shown(label);
    const float total = width > 0.0F ? kit.px(width) : parts::rest_of_line();
    const Hot place = parts::hot(kit, label, {total, kit.px(28.0F)}, true);
    const float left = words.empty() ? 0.0F : std::ceil(parts::width_of(kit, Face::body, words)) + kit.px(14.0F);
    const float right = shown.empty() ? 0.0F : std::ceil(parts::width_of(kit, Face::number, shown)) + kit.px(14.0F);
    const float knob = kit.px(10.0F);
    const Track track{place.lo.x + left + knob, std::max(place.lo.x + left + knob + 1.0F, place.hi.x - right - knob),
                      std::floor((place.lo.y + place.hi.y) / 2.0F)};
    const double before = value;
    if (place.held && ImGui::IsMouseDown(0)) value = value_at_mouse(track, lo, hi, step);
    if (place.focused && any_slider_key()) {
        value = moved_by_keys(value, lo, hi, step);
        ImGui::NavMoveRequestCancel();
    }
    draw_slider(kit, place, track, share_of(value, lo, hi), ticks);
    if (!words.empty())
        parts::draw_in(kit, place.lo, {track.left, place.hi.y}, Face::body, words, kit.colour(Role::quiet), 0.0F);
    if (!shown.empty())
        parts::draw_in(kit, {track.right, place.lo.y}, place.hi, Face::number, shown, kit.colour(Role::text), 1.0F);
    parts::note(kit, Kind::slider, words.empty() ? std::string_view(label).substr(2) : words, place, true, false,
                shown);
    return value < before || value > before;
}

bool list_row(Kit& kit, const char* label, std::string_view right, bool selected, bool* activated) {
    const Hot place = parts::hot(kit, label, {parts::rest_of_line(), kit.px(28.0F)}, true);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (selected || place.hovered)
        list.AddRectFilled(place.lo, place.hi, kit.colour(selected ? Role::read_fill : Role::ground), kit.px(5.0F));
    if (selected)
        list.AddRectFilled(place.lo, {place.lo.x + kit.px(3.0F), place.hi.y}, kit.colour(Role::read), kit.px(1.5F));
    if (place.focused) list.AddRect(place.lo, place.hi, kit.colour(Role::read), kit.px(5.0F), 0, kit.px(2.0F));
    const float inset = kit.px(10.0F);
    const float right_width = right.empty() ? 0.0F : parts::width_of(kit, Face::note, right) + 1.0F;
    const float words_end = place.hi.x - inset - right_width - (right.empty() ? 0.0F : kit.px(10.0F));
    const Face face = selected ? Face::number : Face::body;
    parts::draw_in(kit, moved(place.lo, inset, 0.0F), {words_end, place.hi.y}, face, parts::shown(label),
                   kit.colour(Role::text), 0.0F);
    const ImU32 faint = selected ? packed(text_on(kit.theme, Role::quiet, Role::read_fill)) : kit.colour(Role::quiet);
    parts::draw_in(kit, {place.hi.x - inset - right_width, place.lo.y}, {place.hi.x - inset, place.hi.y}, Face::note,
                   right, faint, 1.0F);
    parts::note(kit, Kind::list_row, label, place, true, selected, right);
    const bool entered = place.focused && (key_now(Key::enter, false) || key_now(Key::keypad_enter, false));
    if (activated != nullptr) *activated = entered || (place.hovered && ImGui::IsMouseDoubleClicked(0));
    if (parts::width_of(kit, face, parts::shown(label)) > words_end - place.lo.x - inset)
        tooltip(kit, parts::shown(label));
    return place.pressed;
}

}  // namespace offsquare::gui
