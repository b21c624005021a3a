#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "gui/kit/theme.h"
#include "kit_support.h"

using namespace offsquare::gui;

namespace {

constexpr Rgba white{255, 255, 255, 255};
constexpr Rgba black{0, 0, 0, 255};

Theme theme_of(Scheme scheme) {
    Theme theme;
    theme.scheme = scheme;
    return theme;
}

double between(const Theme& theme, Role a, Role b) { return contrast(theme.rgba(a), theme.rgba(b)); }

}  // namespace

TEST_CASE("contrast: black on white is 21 and a colour on itself is 1 (WCAG 2.2, contrast ratio)") {
    CHECK(contrast(black, white) == doctest::Approx(21.0).epsilon(1e-12));
    CHECK(contrast(white, black) == doctest::Approx(21.0).epsilon(1e-12));
    CHECK(contrast({10, 120, 200, 255}, {10, 120, 200, 255}) == doctest::Approx(1.0));
}

TEST_CASE(
    "contrast: the well-known border greys on white (from memory: #767676 passes 4.5:1 with 4.54, #777777 fails with "
    "4.48)") {
    // Half of the last digit of the remembered values.
    CHECK(std::abs(contrast({0x76, 0x76, 0x76, 255}, white) - 4.54) < 0.005);
    CHECK(std::abs(contrast({0x77, 0x77, 0x77, 255}, white) - 4.48) < 0.005);
}

TEST_CASE("palette: every pair used for words reads 4.5:1 in both schemes (WCAG 2.2, 1.4.3)") {
    for (const Scheme scheme : {Scheme::light, Scheme::dark}) {
        const Theme theme = theme_of(scheme);
        CAPTURE(static_cast<int>(scheme));
        for (const Role ground : {Role::ground, Role::card}) {
            CHECK(between(theme, Role::text, ground) >= 4.5);
            CHECK(between(theme, Role::quiet, ground) >= 4.5);
        }
        for (const Role role : {Role::read, Role::wrong, Role::good}) {
            CHECK(between(theme, role, Role::card) >= 4.5);
        }
        // The strong button is drawn as text turned inside out.
        CHECK(between(theme, Role::card, Role::text) >= 4.5);
        for (const Role role : {Role::text, Role::quiet, Role::read}) {
            CHECK(contrast(text_on(theme, role, Role::read_fill), theme.rgba(Role::read_fill)) >= 4.5);
        }
        CHECK(contrast(text_on(theme, Role::good, Role::good_fill), theme.rgba(Role::good_fill)) >= 4.5);
        CHECK(contrast(text_on(theme, Role::quiet, Role::table), theme.rgba(Role::table)) >= 4.5);
    }
}

TEST_CASE("palette: lines that mean something and outlines of controls have 3:1 in both schemes (WCAG 2.2, 1.4.11)") {
    for (const Scheme scheme : {Scheme::light, Scheme::dark}) {
        const Theme theme = theme_of(scheme);
        CAPTURE(static_cast<int>(scheme));
        for (const Role ground : {Role::ground, Role::card}) {
            CHECK(contrast(control_line(theme), theme.rgba(ground)) >= 3.0);
            for (const Role role : {Role::read, Role::wrong, Role::good}) CHECK(between(theme, role, ground) >= 3.0);
        }
        CHECK(between(theme, Role::read, Role::read_fill) >= 3.0);
    }
}

TEST_CASE("control line: it is needed, and no stronger than needed") {
    const Theme theme = theme_of(Scheme::light);
    CHECK(contrast(theme.rgba(Role::hairline), theme.rgba(Role::card)) < 3.0);
    // One step of the mix is well under 0.25 of contrast, so the palest sufficient mix stays below 3.25 against the
    // nearer of the two grounds.
    const double nearer = std::min(contrast(control_line(theme), theme.rgba(Role::card)),
                                   contrast(control_line(theme), theme.rgba(Role::ground)));
    CHECK(nearer < 3.25);
}

TEST_CASE("readable: leaves a good colour alone and pushes a bad one away from its ground") {
    const Rgba ink{0x1F, 0x2A, 0x30, 255};
    CHECK(contrast(readable(ink, white), ink) == doctest::Approx(1.0));
    CHECK(contrast(readable({0xEE, 0xEE, 0x00, 255}, white), white) >= 4.5);
    CHECK(contrast(readable({0x22, 0x22, 0x44, 255}, black), black) >= 4.5);
}

TEST_CASE("scale: held to 0.75 .. 3, never not-a-number; measures are whole pixels") {
    CHECK(scaled({}, 0.1F).scale == 0.75F);
    CHECK(scaled({}, 40.0F).scale == 3.0F);
    CHECK(scaled({}, std::numeric_limits<float>::quiet_NaN()).scale == 1.0F);
    const Theme theme = scaled({}, 1.5F);
    CHECK(theme.px(13.0F) == 20.0F);  // 19.5 rounds away from zero
    CHECK(theme.px(32.0F) == 48.0F);
}

TEST_CASE("style: the default look of ImGui is gone in both schemes") {
    for (const Scheme scheme : {Scheme::light, Scheme::dark}) {
        Headless window(kit_test::small_window(scheme));
        const Theme& theme = window.kit().theme;
        const ImGuiStyle& style = ImGui::GetStyle();
        CHECK(ImGui::ColorConvertFloat4ToU32(style.Colors[ImGuiCol_WindowBg]) == theme.colour(Role::ground));
        CHECK(ImGui::ColorConvertFloat4ToU32(style.Colors[ImGuiCol_Text]) == theme.colour(Role::text));
        CHECK(style.ChildRounding == 8.0F);
        CHECK(style.FrameBorderSize >= 1.0F);
    }
}
