// Buttons, chips, steps, choices (declared in widgets.h).
#include <algorithm>
#include <cmath>

#include "gui/kit/input.h"
#include "gui/kit/parts.h"

namespace offsquare::gui {
namespace {

using parts::Hot;
using parts::moved;

constexpr float chip_inset = 12.0F;  // of a chip's words, on either side
constexpr float chip_gap = 4.0F;     // between its name and its value

ImDrawList& list() { return *ImGui::GetWindowDrawList(); }

float hair(const Kit& kit) { return std::max(1.0F, kit.px(1.0F)); }

/// A filled outline, whole pixels inside `place`.
void box(const Kit& kit, const Hot& place, float rounding, ImU32 fill, ImU32 outline, float thickness) {
    list().AddRectFilled(place.lo, place.hi, fill, rounding);
    list().AddRect(place.lo, place.hi, outline, rounding, 0, thickness);
    parts::ring(kit, place, rounding);
}

ImU32 quiet_fill(const Kit& kit, const Hot& place) {
    if (place.held) return kit.colour(Role::table);
    return kit.colour(place.hovered ? Role::ground : Role::card);
}

void badge(const Kit& kit, ImVec2 corner, int count) {
    const std::string text = "×" + std::to_string(count);
    const float h = kit.px(18.0F);
    const float w = std::max(h, parts::width_of(kit, Face::tiny, text) + kit.px(10.0F));
    const ImVec2 lo = moved(corner, -w + kit.px(6.0F), -kit.px(8.0F));
    list().AddRectFilled(lo, moved(lo, w, h), kit.colour(Role::text), h / 2.0F);
    parts::draw_in(kit, lo, moved(lo, w, h), Face::tiny, text, kit.colour(Role::card), 0.5F);
}

void tick_badge(const Kit& kit, ImVec2 corner) {
    const float r = kit.px(8.0F);
    const ImVec2 centre = moved(corner, r * 0.4F, r * 0.3F);
    list().AddCircleFilled(centre, r, kit.colour(Role::read));
    parts::tick(kit, centre, r * 0.52F, kit.colour(Role::card), std::max(1.3F, 1.8F * kit.theme.scale));
}

// ---- steps ----------------------------------------------------------------------------------------------------

constexpr float step_height = 32.0F;
constexpr float step_text_at = 32.0F;  ///< from the pill's left edge, behind the tick or the number
constexpr float step_end = 18.0F;
constexpr float step_link = 16.0F;  ///< from pill to pill, with a short line in the middle

Face step_face(StepState state) { return state == StepState::present ? Face::step_strong : Face::step; }

constexpr float step_without_words = 40.0F;

bool has_words(const Step& step, bool few_words) { return !few_words || step.state == StepState::present; }

float step_width_px(const Kit& kit, const Step& step, bool few_words) {
    if (!has_words(step, few_words)) return kit.px(step_without_words);
    return kit.px(step_text_at) + std::ceil(parts::width_of(kit, step_face(step.state), step.name)) + kit.px(step_end);
}

void draw_step(const Kit& kit, const Hot& place, const Step& step, std::size_t number, bool viewed, bool words) {
    const bool present = step.state == StepState::present;
    const float rounding = (place.hi.y - place.lo.y) / 2.0F;
    const ImU32 fill = present ? kit.colour(Role::text)
                               : kit.colour(step.state == StepState::done || place.hovered ? Role::card : Role::ground);
    const ImU32 outline = present ? kit.colour(Role::text) : packed(control_line(kit.theme));
    box(kit, place, rounding, fill, outline, hair(kit));
    const ImU32 later = kit.colour(place.hovered ? Role::text : Role::quiet);
    const ImU32 ink = present ? kit.colour(Role::card) : step.state == StepState::done ? kit.colour(Role::text) : later;
    if (step.state == StepState::done) {
        parts::tick(kit, {place.lo.x + kit.px(20.0F), (place.lo.y + place.hi.y) / 2.0F}, kit.px(6.0F),
                    kit.colour(Role::good), 2.4F * kit.theme.scale);
    } else {
        parts::draw_in(kit, moved(place.lo, kit.px(10.0F), 0.0F), {place.lo.x + kit.px(30.0F), place.hi.y}, Face::label,
                       std::to_string(number), ink, 0.5F);
    }
    if (words)
        parts::draw_in(kit, moved(place.lo, kit.px(step_text_at), 0.0F), place.hi, step_face(step.state), step.name,
                       ink, 0.0F);
    if (viewed) {
        const float y = place.hi.y + kit.px(5.0F);
        list().AddLine({place.lo.x + rounding, y}, {place.hi.x - rounding, y}, kit.colour(Role::text), kit.px(2.0F));
    }
}

}  // namespace

bool strong_button(Kit& kit, const char* label, float width, std::string_view hint, bool enabled) {
    const float words = parts::width_of(kit, Face::button, parts::shown(label)) + kit.px(40.0F);
    const float wanted = width > 0.0F ? kit.px(width) : parts::rest_of_line();
    const Hot place =
        parts::hot(kit, label,
                   {std::min(std::max(wanted, words), std::max(words, parts::rest_of_line())), kit.px(46.0F)}, enabled);
    const Rgba ink = kit.theme.rgba(Role::text);
    const Rgba lit = over(kit.theme.rgba(Role::quiet), ink, place.held ? 0.55 : 0.3);
    const Rgba off = over(kit.theme.rgba(Role::hairline), kit.theme.rgba(Role::card), 0.6);
    const Rgba fill = !enabled ? off : place.hovered ? lit : ink;
    box(kit, place, kit.px(8.0F), packed(fill), packed(fill), hair(kit));
    const ImU32 letters = enabled ? kit.colour(Role::card) : packed(readable(kit.theme.rgba(Role::quiet), off));
    parts::draw_in(kit, place.lo, place.hi, Face::button, parts::shown(label), letters, 0.5F);
    parts::note(kit, Kind::button, label, place, enabled);
    if (!hint.empty()) {
        const float left = place.hi.x + kit.px(16.0F);
        const float room = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x - left;
        parts::draw_in(kit, {left, place.lo.y}, {left + room, place.hi.y}, Face::body, hint, kit.colour(Role::quiet),
                       0.0F);
        parts::note_text(kit, Kind::text, hint, {left, place.lo.y}, {left + room, place.hi.y});
    }
    return place.pressed;
}

bool button(Kit& kit, const char* label, float width, bool enabled) {
    const float words = std::ceil(parts::width_of(kit, Face::body, parts::shown(label))) + kit.px(28.0F);
    const Hot place = parts::hot(kit, label, {width > 0.0F ? kit.px(width) : words, kit.px(32.0F)}, enabled);
    const ImU32 outline = enabled ? packed(control_line(kit.theme)) : kit.colour(Role::hairline);
    box(kit, place, kit.px(8.0F), quiet_fill(kit, place), outline, hair(kit));
    const float inset = kit.px(10.0F);
    const ImVec2 lo = moved(place.lo, inset, 0.0F);
    const bool cut = parts::draw_in(kit, lo, moved(place.hi, -inset, 0.0F), Face::body, parts::shown(label),
                                    kit.colour(enabled ? Role::text : Role::quiet), 0.5F);
    parts::note(kit, Kind::button, label, place, enabled);
    kit.record.last_is_cut(cut);
    if (words - kit.px(8.0F) > place.hi.x - place.lo.x) tooltip(kit, parts::shown(label));
    return place.pressed;
}

bool link(Kit& kit, const char* label, Role role, bool enabled) {
    const std::string_view words = parts::shown(label);
    const float width = std::ceil(parts::width_of(kit, Face::small, words));
    const Hot place = parts::hot(kit, label, {width, kit.px(24.0F)}, enabled);
    const bool lit = place.hovered || place.focused;
    const ImU32 ink = kit.colour(lit ? Role::text : role, enabled ? 1.0F : 0.6F);
    parts::draw_in(kit, place.lo, moved(place.hi, 1.0F, 0.0F), Face::small, words, ink, 0.0F);
    if (lit)
        list().AddLine({place.lo.x, place.hi.y - kit.px(4.0F)}, {place.lo.x + width, place.hi.y - kit.px(4.0F)}, ink,
                       hair(kit));
    parts::ring(kit, place, kit.px(4.0F));
    parts::note(kit, Kind::button, label, place, enabled);
    return place.pressed;
}

bool chip(Kit& kit, const char* id, std::string_view name, std::string_view value, bool selected,
          const ChipOptions& options) {
    const Hot place = parts::hot(kit, id, {kit.px(options.width), kit.px(options.height)}, options.enabled);
    const ImU32 outline = selected ? kit.colour(Role::read) : packed(control_line(kit.theme));
    box(kit, place, kit.px(8.0F), selected ? kit.colour(Role::read_fill) : quiet_fill(kit, place), outline,
        selected ? kit.px(2.0F) : hair(kit));
    const ImU32 blue = packed(text_on(kit.theme, Role::read, Role::read_fill));
    const float inset = kit.px(chip_inset);
    const float value_width =
        std::min(parts::width_of(kit, Face::number, value) + 1.0F, kit.px(options.width) - 2.0F * inset);
    const ImVec2 lo = moved(place.lo, inset, 0.0F);
    const ImVec2 hi = moved(place.hi, -inset, 0.0F);
    const float name_end = hi.x - value_width - kit.px(chip_gap);
    const ImU32 faint = kit.colour(Role::quiet);
    parts::draw_in(kit, {hi.x - value_width, lo.y}, hi, Face::number, value,
                   selected          ? blue
                   : options.enabled ? kit.colour(Role::text)
                                     : faint,
                   1.0F);
    const bool cut = parts::draw_in(kit, lo, {name_end, hi.y}, Face::note, name, selected ? blue : faint, 0.0F);
    if (selected) tick_badge(kit, place.lo);
    if (options.count > 1) badge(kit, {place.hi.x, place.lo.y}, options.count);
    std::string label(name);
    label.append(" ").append(value);
    parts::note(kit, Kind::chip, label, place, options.enabled, selected,
                options.count > 1 ? "×" + std::to_string(options.count) : std::string());
    kit.record.last_is_cut(cut);
    if (parts::width_of(kit, Face::note, name) > name_end - lo.x) tooltip(kit, label);
    return place.pressed;
}

float chip_width(const Kit& kit, std::string_view name, std::string_view value) {
    const float words = parts::width_of(kit, Face::note, name) + parts::width_of(kit, Face::number, value) + 2.0F;
    return words / kit.px(1.0F) + 2.0F * chip_inset + chip_gap;
}

bool check(Kit& kit, const char* label, bool& value, bool enabled) {
    const std::string_view words = parts::shown(label);
    const float side = kit.px(20.0F);
    const float width =
        std::min(parts::rest_of_line(), side + kit.px(12.0F) + std::ceil(parts::width_of(kit, Face::body, words)));
    const Hot place = parts::hot(kit, label, {width, kit.px(28.0F)}, enabled);
    if (place.pressed && enabled) value = !value;
    Hot square = place;
    square.lo.y = std::floor((place.lo.y + place.hi.y - side) / 2.0F);
    square.hi = moved(square.lo, side, side);
    square.focused = false;
    const ImU32 outline = value ? kit.colour(Role::text) : packed(control_line(kit.theme));
    box(kit, square, kit.px(5.0F), value ? kit.colour(Role::text) : quiet_fill(kit, place), outline, hair(kit));
    if (value)
        parts::tick(kit, {square.lo.x + side / 2.0F, square.lo.y + side / 2.0F}, side * 0.28F, kit.colour(Role::card),
                    2.0F * kit.theme.scale);
    parts::draw_in(kit, {square.hi.x + kit.px(10.0F), place.lo.y}, moved(place.hi, 2.0F, 0.0F), Face::body, words,
                   kit.colour(enabled ? Role::text : Role::quiet), 0.0F);
    parts::ring(kit, place, kit.px(5.0F));
    parts::note(kit, Kind::choice, label, place, enabled, value, value ? "on" : "off");
    return place.pressed && enabled;
}

bool choice(Kit& kit, const char* id, std::span<const std::string> words, int& chosen, float width) {
    if (words.empty()) return false;
    ImGui::PushID(id);
    ImGui::BeginGroup();
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float h = kit.px(32.0F);
    const float total = width > 0.0F ? kit.px(width) : parts::rest_of_line();
    const float each = std::floor(total / static_cast<float>(words.size()));
    const float r = kit.px(8.0F);
    list().AddRectFilled(start, moved(start, each * static_cast<float>(words.size()), h), kit.colour(Role::ground), r);
    list().AddRect(start, moved(start, each * static_cast<float>(words.size()), h), packed(control_line(kit.theme)), r,
                   0, hair(kit));
    bool changed = false;
    for (std::size_t i = 0; i < words.size(); ++i) {
        ImGui::SetCursorScreenPos(moved(start, each * static_cast<float>(i), 0.0F));
        const Hot place = parts::hot(kit, words[i].c_str(), {each, h}, true);
        const bool now = static_cast<int>(i) == chosen;
        if (now) box(kit, place, r, kit.colour(Role::card), kit.colour(Role::text), kit.px(2.0F));
        else parts::ring(kit, place, r);
        const ImU32 ink = kit.colour(now || place.hovered ? Role::text : Role::quiet);
        parts::draw_in(kit, moved(place.lo, kit.px(6.0F), 0.0F), moved(place.hi, -kit.px(6.0F), 0.0F),
                       now ? Face::label : Face::small, words[i], ink, 0.5F);
        parts::note(kit, Kind::choice, words[i], place, true, now);
        if (place.pressed && !now) {
            chosen = static_cast<int>(i);
            changed = true;
        }
    }
    ImGui::EndGroup();
    ImGui::PopID();
    return changed;
}

float step_bar_width(const Kit& kit, std::span<const Step> steps, bool few_words) {
    float pixels = 0.0F;
    for (const Step& step : steps) pixels += step_width_px(kit, step, few_words) + kit.px(step_link);
    return steps.empty() ? 0.0F : (pixels - kit.px(step_link)) / kit.theme.scale;
}

int step_bar(Kit& kit, std::span<const Step> steps, int viewed, bool few_words) {
    int clicked = -1;
    ImGui::BeginGroup();
    ImVec2 at = ImGui::GetCursorScreenPos();
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const Step& step = steps[i];
        ImGui::SetCursorScreenPos(at);
        ImGui::PushID(static_cast<int>(i));
        const Hot place =
            parts::hot(kit, step.name.c_str(), {step_width_px(kit, step, few_words), kit.px(step_height)}, true);
        ImGui::PopID();
        const bool marked_as_viewed = viewed == static_cast<int>(i) && step.state != StepState::present;
        draw_step(kit, place, step, i + 1, marked_as_viewed, has_words(step, few_words));
        if (!has_words(step, few_words)) tooltip(kit, step.name);
        const char* state = step.state == StepState::done      ? "done"
                            : step.state == StepState::present ? "present"
                                                               : "later";
        parts::note(kit, Kind::step, step.name, place, true, step.state == StepState::present, state);
        if (place.pressed) clicked = static_cast<int>(i);
        at.x = place.hi.x + kit.px(step_link);
        if (i + 1 == steps.size()) break;
        const float y = (place.lo.y + place.hi.y) / 2.0F;
        list().AddLine({place.hi.x + kit.px(3.0F), y}, {at.x - kit.px(3.0F), y}, kit.colour(Role::hairline),
                       kit.px(2.0F));
    }
    ImGui::EndGroup();
    return clicked;
}

}  // namespace offsquare::gui
