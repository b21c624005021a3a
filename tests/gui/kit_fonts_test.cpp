#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <string>

#include "gui/kit/fonts.h"
#include "gui/kit/input.h"
#include "kit_support.h"

using namespace offsquare::gui;
using kit_test::shared_fonts;

namespace {

Face face_number(int i) { return static_cast<Face>(i); }

bool has_glyph(const ImFont& font, char32_t c) { return font.FindGlyphNoFallback(static_cast<ImWchar>(c)) != nullptr; }

}  // namespace

TEST_CASE("letters: every sign that the program prints is in every face") {
    for (int i = 0; i < face_count; ++i) {
        const ImFont& font = *shared_fonts()->face(face_number(i));
        for (const char32_t c : needed_characters) {
            CAPTURE(i);
            CAPTURE(static_cast<unsigned>(c));
            CHECK(has_glyph(font, c));
        }
        for (char32_t c = U' '; c <= U'~'; ++c) CHECK(has_glyph(font, c));
    }
}

TEST_CASE("letters: the signs asked for by the look are among the needed ones") {
    for (const char32_t c : std::u32string_view(U"″′≈→←↑↓Δθ−×÷±≤≥°µ✓–—·“”…"))
        CHECK(needed_characters.find(c) != std::u32string_view::npos);
}

TEST_CASE("figures: the ten digits have one advance in every face, and no digit's ink leaves it") {
    for (int i = 0; i < face_count; ++i) {
        const ImFont& font = *shared_fonts()->face(face_number(i));
        const float advance = font.GetCharAdvance('0');
        for (ImWchar c = '0'; c <= '9'; ++c) {
            const ImFontGlyph& glyph = *font.FindGlyph(c);
            CHECK(font.GetCharAdvance(c) == advance);
            CHECK(glyph.AdvanceX == advance);
            // A third of a pixel: the padding of a glyph that is sampled three times as fine sideways.
            CHECK(glyph.X0 >= -0.34F);
            CHECK(glyph.X1 <= advance + 0.34F);
        }
        CHECK(text_width(font, font.FontSize, "0.1117") == doctest::Approx(text_width(font, font.FontSize, "8.0402")));
    }
}

TEST_CASE("letters: sizes are em sizes as in the sketch (Inter's capitals are 0.727 em high, from memory)") {
    if (!shared_fonts()->warning().empty()) return;
    const ImFont& font = *shared_fonts()->face(Face::huge);
    const ImFontGlyph& glyph = *font.FindGlyph('H');
    // One pixel: outlines are rounded out to whole pixels.
    CHECK(std::abs(static_cast<double>(glyph.Y1 - glyph.Y0) - 0.727 * 48.0) <= 1.0);
}

TEST_CASE("letters: a size between the built ones is made from a larger one, never blown up") {
    for (const double em : {11.0, 12.5, 13.0, 14.5, 16.5, 20.0, 40.0}) {
        CAPTURE(em);
        CHECK(shared_fonts()->nearest(em, Weight::semibold)->FontSize >=
              shared_fonts()->text_size(em, Weight::semibold) - 0.01F);
    }
}

TEST_CASE("ellipsis: text that fits stays, text that does not ends in an ellipsis and fits, in whole characters") {
    const ImFont& font = *shared_fonts()->face(Face::body);
    const std::string text = "Größe × 27 ½ between the shim points";
    CHECK(ellipsized(font, font.FontSize, text, 1000.0F) == text);
    for (float width = 20.0F; width < 230.0F; width += 7.0F) {
        const std::string cut = ellipsized(font, font.FontSize, text, width);
        CHECK(text_width(font, font.FontSize, cut) <= width);
        if (cut == text) continue;
        CHECK(cut.substr(cut.size() - 3) == "…");
        CHECK(decoded(cut).find(U'\uFFFD') == std::u32string::npos);
    }
}

TEST_CASE("wrapping: every line fits, no word is lost, newlines are kept") {
    const ImFont& font = *shared_fonts()->face(Face::body);
    const std::string text = "Two readings each. Your caliper reads to 0.0005 in\nand may be off.";
    for (const float width : {60.0F, 120.0F, 200.0F, 1000.0F}) {
        std::string joined;
        for (const std::string& part : wrapped(font, font.FontSize, text, width)) {
            CHECK(text_width(font, font.FontSize, part) <= width);
            joined += (joined.empty() ? "" : " ") + part;
        }
        std::string expected = text;
        expected[expected.find('\n')] = ' ';
        CHECK(joined == expected);
    }
    CHECK(wrapped(font, font.FontSize, text, 1000.0F).size() == 2);
    CHECK(wrapped(font, font.FontSize, "", 100.0F).size() == 1);
}

TEST_CASE("wrapping: a number keeps its unit, at every width that holds the two") {
    const ImFont& font = *shared_fonts()->face(Face::body);
    const std::string text = "off by 0.01 mrad, give or take 0.05 mrad (95 %); 0.25 mm in 1 m is allowed after 12 min.";
    for (float width = text_width(font, font.FontSize, "0.01 mrad,") + 1.0F; width < 400.0F; width += 3.0F) {
        for (const std::string& part : wrapped(font, font.FontSize, text, width)) {
            CHECK(text_width(font, font.FontSize, part) <= width);
            for (const char* unit : {"mrad", "%", "mm", "m ", "min"}) CHECK(part.rfind(unit, 0) != 0);
        }
    }
    // A number alone before its unit has nowhere else to break.
    CHECK(wrapped(font, font.FontSize, "0.01 mrad", text_width(font, font.FontSize, "0.01 ") + 1.0F).size() == 2);
}

TEST_CASE("wrapping: a word wider than the line is broken inside and ends all the same") {
    const ImFont& font = *shared_fonts()->face(Face::body);
    std::string joined;
    for (const std::string& part : wrapped(font, font.FontSize, "Donaudampfschifffahrtsgesellschaft", 50.0F))
        joined += part;
    CHECK(joined == "Donaudampfschifffahrtsgesellschaft");
    // Narrower than one letter: one letter a line, never an endless loop.
    CHECK(wrapped(font, font.FontSize, "abc", 0.5F).size() == 3);
}
