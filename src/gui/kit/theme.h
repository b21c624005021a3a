// Colours, measures and style of the window. The colours are the project's one palette (picture/shapes.h); nothing here
// invents another: where a colour must be stronger than in the palette to be seen or read, it is derived by a stated
// contrast.
#pragma once

#include <imgui.h>

#include "picture/shapes.h"

namespace offsquare::gui {

using picture::Rgba;
using picture::Role;
using picture::Scheme;

/// What a person may choose about the look.
struct Theme {
    Scheme scheme = Scheme::light;
    float scale = 1.0F;           ///< pixels per design pixel, 0.75 .. 3 (clamped by `scaled`)
    bool reduced_motion = false;  ///< panels should jump instead of glide

    /// A measure of the sketch (1280x800) in pixels of the screen, whole where it is at least 1.
    float px(float design) const;
    Rgba rgba(Role role) const { return picture::colour_of(role, scheme); }
    ImU32 colour(Role role, float alpha = 1.0F) const;
    ImVec4 vec(Role role, float alpha = 1.0F) const;
};

/// The theme with its scale held to 0.75 .. 3 (not a number becomes 1).
Theme scaled(Theme theme, float scale);

/// Contrast ratio of WCAG 2.2, 1 .. 21, from relative luminances of sRGB colours (alpha is ignored).
double contrast(Rgba a, Rgba b);
/// `front` over `back` with a further opacity 0..1.
Rgba over(Rgba front, Rgba back, double alpha = 1.0);
/// The colour nearest to `wanted`, on the way to black or white (whichever leads away from `ground`), whose contrast to
/// `ground` is at least `ratio`.
Rgba readable(Rgba wanted, Rgba ground, double ratio = 4.5);
/// The line around a control: the palest mix of hairline and quiet text that has 3:1 against card and ground
/// (WCAG 1.4.11). The hairline itself has not.
Rgba control_line(const Theme& theme);
/// `role` as text upon a filled patch of `fill`: the palette's colour if it reads 4.5:1 there, else pushed until it
/// does.
Rgba text_on(const Theme& theme, Role role, Role fill);

ImU32 packed(Rgba colour, float alpha = 1.0F);

/// Writes style and colours into the current ImGui context. Call after the scale or scheme changed, between frames.
void apply(const Theme& theme);

}  // namespace offsquare::gui
