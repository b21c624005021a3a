#include "gui/kit/theme.h"

#include <algorithm>
#include <cmath>

namespace offsquare::gui {
namespace {

constexpr float smallest_scale = 0.75F;
constexpr float largest_scale = 3.0F;

/// One channel of sRGB made linear (WCAG 2.2, definition of relative luminance).
double linear(std::uint8_t channel) {
    const double c = static_cast<double>(channel) / 255.0;
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

double luminance(Rgba c) { return 0.2126 * linear(c.r) + 0.7152 * linear(c.g) + 0.0722 * linear(c.b); }

std::uint8_t mixed(std::uint8_t a, std::uint8_t b, double share_of_b) {
    return static_cast<std::uint8_t>(
        std::lround(static_cast<double>(a) * (1.0 - share_of_b) + static_cast<double>(b) * share_of_b));
}

Rgba mix(Rgba a, Rgba b, double share_of_b) {
    return {mixed(a.r, b.r, share_of_b), mixed(a.g, b.g, share_of_b), mixed(a.b, b.b, share_of_b), 255};
}

void set_sizes(const Theme& theme, ImGuiStyle& style) {
    style = ImGuiStyle();
    style.WindowPadding = {theme.px(20.0F), theme.px(16.0F)};
    style.FramePadding = {theme.px(10.0F), theme.px(7.0F)};
    style.ItemSpacing = {theme.px(8.0F), theme.px(8.0F)};
    style.ItemInnerSpacing = {theme.px(6.0F), theme.px(4.0F)};
    style.WindowRounding = theme.px(10.0F);
    style.ChildRounding = theme.px(8.0F);
    style.PopupRounding = theme.px(8.0F);
    style.FrameRounding = theme.px(7.0F);
    style.GrabRounding = theme.px(7.0F);
    style.ScrollbarSize = theme.px(10.0F);
    style.ScrollbarRounding = theme.px(5.0F);
    const float hair = std::max(1.0F, theme.px(1.0F));
    style.WindowBorderSize = hair;
    style.ChildBorderSize = hair;
    style.PopupBorderSize = hair;
    style.FrameBorderSize = hair;
    style.DisplaySafeAreaPadding = {0.0F, 0.0F};
    style.WindowMinSize = {theme.px(24.0F), theme.px(24.0F)};
    style.DisabledAlpha = 0.55F;
    style.CircleTessellationMaxError = 0.2F;
}

void set_colours(const Theme& theme, ImGuiStyle& style) {
    ImVec4* c = &style.Colors[0];
    const ImVec4 line = ImGui::ColorConvertU32ToFloat4(packed(control_line(theme)));
    for (int i = 0; i < ImGuiCol_COUNT; ++i) c[i] = theme.vec(Role::card);
    c[ImGuiCol_Text] = theme.vec(Role::text);
    c[ImGuiCol_TextDisabled] = theme.vec(Role::quiet);
    c[ImGuiCol_WindowBg] = theme.vec(Role::ground);
    c[ImGuiCol_Border] = theme.vec(Role::hairline);
    c[ImGuiCol_BorderShadow] = theme.vec(Role::none, 0.0F);
    c[ImGuiCol_FrameBgHovered] = theme.vec(Role::ground);
    c[ImGuiCol_FrameBgActive] = theme.vec(Role::card);
    c[ImGuiCol_ScrollbarBg] = theme.vec(Role::none, 0.0F);
    c[ImGuiCol_ScrollbarGrab] = line;
    c[ImGuiCol_ScrollbarGrabHovered] = theme.vec(Role::quiet);
    c[ImGuiCol_ScrollbarGrabActive] = theme.vec(Role::text);
    c[ImGuiCol_Separator] = theme.vec(Role::hairline);
    c[ImGuiCol_TextSelectedBg] = theme.vec(Role::read, 0.30F);
    c[ImGuiCol_NavHighlight] = theme.vec(Role::read);
    c[ImGuiCol_NavWindowingHighlight] = theme.vec(Role::read);
    c[ImGuiCol_NavWindowingDimBg] = {0.0F, 0.0F, 0.0F, 0.2F};
    c[ImGuiCol_ModalWindowDimBg] =
        theme.scheme == Scheme::light ? theme.vec(Role::text, 0.42F) : ImVec4(0.0F, 0.0F, 0.0F, 0.6F);
}

}  // namespace

float Theme::px(float design) const {
    const float pixels = design * scale;
    return std::abs(pixels) < 1.0F ? pixels : std::round(pixels);
}

ImU32 Theme::colour(Role role, float alpha) const { return packed(rgba(role), alpha); }

ImVec4 Theme::vec(Role role, float alpha) const { return ImGui::ColorConvertU32ToFloat4(colour(role, alpha)); }

Theme scaled(Theme theme, float scale) {
    theme.scale = std::isfinite(scale) ? std::clamp(scale, smallest_scale, largest_scale) : 1.0F;
    return theme;
}

double contrast(Rgba a, Rgba b) {
    const double la = luminance(a);
    const double lb = luminance(b);
    return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

Rgba over(Rgba front, Rgba back, double alpha) {
    return mix(back, front, std::clamp(alpha, 0.0, 1.0) * static_cast<double>(front.a) / 255.0);
}

Rgba readable(Rgba wanted, Rgba ground, double ratio) {
    const Rgba black{0, 0, 0, 255};
    const Rgba white{255, 255, 255, 255};
    const Rgba end = contrast(black, ground) >= contrast(white, ground) ? black : white;
    constexpr int steps = 64;
    for (int i = 0; i < steps; ++i) {
        const Rgba tried = mix(wanted, end, static_cast<double>(i) / steps);
        if (contrast(tried, ground) >= ratio) return tried;
    }
    return end;
}

Rgba control_line(const Theme& theme) {
    constexpr int steps = 64;
    for (int i = 0; i < steps; ++i) {
        const Rgba tried = mix(theme.rgba(Role::hairline), theme.rgba(Role::quiet), static_cast<double>(i) / steps);
        if (contrast(tried, theme.rgba(Role::card)) >= 3.0 && contrast(tried, theme.rgba(Role::ground)) >= 3.0)
            return tried;
    }
    return theme.rgba(Role::quiet);
}

Rgba text_on(const Theme& theme, Role role, Role fill) { return readable(theme.rgba(role), theme.rgba(fill), 4.5); }

ImU32 packed(Rgba colour, float alpha) {
    const float a = std::clamp(alpha, 0.0F, 1.0F) * static_cast<float>(colour.a);
    return IM_COL32(colour.r, colour.g, colour.b, static_cast<ImU32>(std::lround(a)));
}

void apply(const Theme& theme) {
    ImGuiStyle& style = ImGui::GetStyle();
    set_sizes(theme, style);
    set_colours(theme, style);
}

}  // namespace offsquare::gui
