// Text of the window (declared in widgets.h).
#include <algorithm>
#include <cmath>

#include "gui/kit/parts.h"

namespace offsquare::gui {
namespace {

using parts::moved;

/// Distance between baselines over the em size, as in the sketch (18 px for 13.5).
double leading_of(Face face) { return em_of(face) >= 17.0 ? 1.25 : 1.34; }

constexpr float row_height = 21.0F;

/// From one line of a paragraph to the next, in pixels.
float paragraph_step(const Kit& kit, Face face) {
    return std::round(static_cast<float>(em_of(face) * leading_of(face)) * kit.theme.scale);
}

}  // namespace

void heading(Kit& kit, std::string_view text) { paragraph(kit, text, Role::text, Face::heading); }

void paragraph(Kit& kit, std::string_view text, Role role, Face face, float width) {
    const ImFont& font = *kit.font(face);
    const float room = width > 0.0F ? width * kit.theme.scale : parts::rest_of_line();
    const float step = paragraph_step(kit, face);
    const ImVec2 start = ImGui::GetCursorScreenPos();
    float widest = 0.0F;
    float y = start.y;
    for (const std::string& part : wrapped(font, font.FontSize, text, room)) {
        parts::draw(kit, {start.x, y}, face, part, kit.colour(role));
        widest = std::max(widest, text_width(font, font.FontSize, part));
        y += step;
    }
    const ImVec2 size{std::ceil(widest), std::ceil(y - step + font.FontSize - start.y)};
    ImGui::Dummy(size);
    parts::note_text(kit, Kind::text, text, start, moved(start, size.x, size.y));
}

ImVec2 paragraph_size(const Kit& kit, std::string_view text, Face face, float width) {
    const ImFont& font = *kit.font(face);
    const auto lines = wrapped(font, font.FontSize, text, width * kit.theme.scale);
    float widest = 0.0F;
    for (const std::string& part : lines) widest = std::max(widest, text_width(font, font.FontSize, part));
    return {std::ceil(widest),
            std::ceil(static_cast<float>(lines.size() - 1) * paragraph_step(kit, face) + font.FontSize)};
}

void quiet(Kit& kit, std::string_view text) { paragraph(kit, text, Role::quiet, Face::body); }

void line(Kit& kit, std::string_view text, Role role, Face face, float width) {
    const ImFont& font = *kit.font(face);
    const float room = width > 0.0F ? std::min(kit.px(width), parts::rest_of_line()) : parts::rest_of_line();
    const std::string fitted = ellipsized(font, font.FontSize, text, room);
    const ImVec2 start = ImGui::GetCursorScreenPos();
    parts::draw(kit, start, face, fitted, kit.colour(role));
    ImGui::Dummy({std::ceil(text_width(font, font.FontSize, fitted)), std::ceil(font.FontSize)});
    parts::note_text(kit, Kind::text, text, ImGui::GetItemRectMin(), ImGui::GetItemRectMax());
    kit.record.last_is_cut(fitted.size() != text.size());
    if (fitted.size() != text.size()) tooltip(kit, text);
}

void number_right(Kit& kit, std::string_view text, Role role, float width) {
    const float room = width > 0.0F ? kit.px(width) : parts::rest_of_line();
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float height = std::ceil(kit.font(Face::number)->FontSize);
    parts::draw_in(kit, start, moved(start, room, height), Face::number, text, kit.colour(role), 1.0F);
    ImGui::Dummy({room, height});
    parts::note_text(kit, Kind::text, text, start, moved(start, room, height));
}

void working_row(Kit& kit, std::string_view name, std::string_view middle, std::string_view value, float value_width) {
    const ImVec2 lo = ImGui::GetCursorScreenPos();
    const ImVec2 hi = moved(lo, parts::rest_of_line(), kit.px(row_height));
    const float value_room = std::max(kit.px(value_width), parts::width_of(kit, Face::number, value) + kit.px(12.0F));
    const float middle_end = hi.x - value_room;
    const float middle_width = parts::width_of(kit, Face::body, middle);
    const float name_end = middle.empty() ? middle_end : std::max(lo.x, middle_end - middle_width - kit.px(8.0F));
    parts::draw_in(kit, {middle_end, lo.y}, hi, Face::number, value, kit.colour(Role::text), 1.0F);
    parts::draw_in(kit, {std::max(lo.x, middle_end - middle_width - 1.0F), lo.y}, {middle_end, hi.y}, Face::body,
                   middle, kit.colour(Role::text), 1.0F);
    const bool cut = parts::draw_in(kit, lo, {name_end, hi.y}, Face::body, name, kit.colour(Role::quiet), 0.0F);
    ImGui::Dummy({hi.x - lo.x, hi.y - lo.y});
    if (parts::width_of(kit, Face::body, name) > name_end - lo.x) tooltip(kit, name);
    std::string both(middle);
    if (!both.empty()) both += " | ";
    both += value;
    parts::note_text(kit, Kind::row, name, lo, hi, both);
    kit.record.last_is_cut(cut);
}

void key_value(Kit& kit, std::string_view name, std::string_view value, Role role) {
    const ImVec2 lo = ImGui::GetCursorScreenPos();
    const ImVec2 hi = moved(lo, parts::rest_of_line(), kit.px(row_height));
    const float value_room = std::min(parts::width_of(kit, Face::number, value) + 1.0F, hi.x - lo.x);
    const float name_end = std::max(lo.x, hi.x - value_room - kit.px(12.0F));
    parts::draw_in(kit, {hi.x - value_room, lo.y}, hi, Face::number, value, kit.colour(role), 1.0F);
    const bool cut = parts::draw_in(kit, lo, {name_end, hi.y}, Face::body, name, kit.colour(Role::quiet), 0.0F);
    ImGui::Dummy({hi.x - lo.x, hi.y - lo.y});
    if (parts::width_of(kit, Face::body, name) > name_end - lo.x) tooltip(kit, name);
    parts::note_text(kit, Kind::row, name, lo, hi, value);
    kit.record.last_is_cut(cut);
}

void marked(Kit& kit, std::string_view text, Role tone) {
    const float side = kit.px(15.0F);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    parts::sign(kit, at, side, tone);
    ImGui::SetCursorScreenPos(moved(at, side + kit.px(8.0F), 0.0F));
    const Rgba colour = kit.theme.rgba(tone);
    // Group: so that what follows starts at the left again.
    ImGui::BeginGroup();
    paragraph(kit, text, contrast(colour, kit.theme.rgba(Role::card)) >= 4.5 ? tone : Role::text);
    ImGui::EndGroup();
}

void key_cap(Kit& kit, std::string_view key) {
    const float height = kit.px(22.0F);
    const float width = std::max(height, parts::width_of(kit, Face::note_strong, key) + kit.px(14.0F));
    const ImVec2 lo = ImGui::GetCursorScreenPos();
    const ImVec2 hi = moved(lo, width, height);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(lo, hi, kit.colour(Role::ground), kit.px(5.0F));
    list.AddRect(lo, hi, packed(control_line(kit.theme)), kit.px(5.0F), 0, std::max(1.0F, kit.px(1.0F)));
    parts::draw_in(kit, lo, hi, Face::note_strong, key, kit.colour(Role::text), 0.5F);
    ImGui::Dummy({width, height});
    parts::note_text(kit, Kind::text, key, lo, hi);
}

ImVec2 tag_size(const Kit& kit, std::string_view word, std::string_view figure) {
    const ImFont* medium = kit.fonts->nearest(12.5, Weight::medium);
    const float words = text_width(*medium, kit.fonts->text_size(12.5, Weight::medium), word);
    const float figures = figure.empty() ? 0.0F : parts::width_of(kit, Face::number, figure);
    const float between = words > 0.0F && figures > 0.0F ? kit.px(12.0F) : 0.0F;
    return {words + figures + between + kit.px(24.0F), kit.px(26.0F)};
}

void tag(Kit& kit, ImDrawList& list, ImVec2 left_middle, std::string_view word, std::string_view figure, Role role,
         Role fill) {
    const ImVec2 size = tag_size(kit, word, figure);
    const ImVec2 lo{std::floor(left_middle.x), std::floor(left_middle.y - size.y / 2.0F)};
    const ImVec2 hi = moved(lo, std::ceil(size.x), size.y);
    const ImU32 ink = packed(text_on(kit.theme, role, fill));
    list.AddRectFilled(lo, hi, kit.colour(fill), size.y / 2.0F);
    list.AddRect(lo, hi, kit.colour(role), size.y / 2.0F, 0, std::max(1.0F, kit.px(1.0F)));
    const float baseline = (lo.y + hi.y) / 2.0F + 4.6F * kit.theme.scale;
    text_at(kit, list, {lo.x + kit.px(12.0F), baseline}, word, 12.5, figure.empty() ? Weight::semibold : Weight::medium,
            ink);
    text_at(kit, list, {hi.x - kit.px(12.0F), baseline}, figure, 13.5, Weight::semibold, ink, 1.0F);
    parts::note_text(kit, Kind::text, word, lo, hi, figure);
}

float text_at(const Kit& kit, ImDrawList& list, ImVec2 baseline, std::string_view text, double em, Weight weight,
              ImU32 colour, float align) {
    if (text.empty()) return 0.0F;
    const ImFont* font = kit.fonts->nearest(em, weight);
    const float size = kit.fonts->text_size(em, weight);
    const float width = text_width(*font, size, text);
    const float top = baseline.y - font->Ascent * size / font->FontSize;
    list.AddText(font, size, {std::round(baseline.x - width * align), std::round(top)}, colour, text.data(),
                 text.data() + text.size());
    return width;
}

}  // namespace offsquare::gui
