// The letters of the window: an atlas built in memory for one scale, without a display.
//
// Sizes are those of the sketch, that is em sizes as a style sheet means them (13.5 px body), not line heights. Inter
// is looked up through fontconfig when the program runs; DejaVu Sans, then the font inside ImGui, stand in with a
// warning. After the build all ten digits have one advance, so figures line up.
#pragma once

#include <imgui.h>

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "picture/shapes.h"

namespace offsquare::gui {

using picture::Weight;

/// The kinds of letters in the window, by use. In brackets: em size in design pixels.
enum class Face {
    tiny,         ///< [12] smallest: notes beside a chart, badges
    note,         ///< [12.5] words on the plan, names on chips
    note_strong,  ///< [12.5 semibold]
    small,        ///< [13] units choice, chart axis
    label,        ///< [13 semibold] name of a card, number of a step
    body,         ///< [13.5] text
    number,       ///< [13.5 semibold] a figure that counts
    step,         ///< [14] a step of the job
    step_strong,  ///< [14 semibold]
    panel,        ///< [15 semibold] name of the chart, of a sheet's section
    button,       ///< [16 semibold] the strong button
    title,        ///< [17 semibold] the scenario's name
    heading,      ///< [19 semibold] the one heading
    large,        ///< [26 semibold] class view text
    huge          ///< [48 semibold] class view result
};
inline constexpr int face_count = 15;

double em_of(Face face);  ///< design pixels

/// Characters beyond Latin that the program prints; a test holds the atlas to them.
extern const std::u32string_view needed_characters;

class Fonts {
public:
    /// Builds the atlas. `scale` as Theme::scale. Never fails: look at warning().
    explicit Fonts(float scale);
    ~Fonts();
    Fonts(const Fonts&) = delete;
    Fonts& operator=(const Fonts&) = delete;

    ImFont* face(Face face) const;
    /// A font for any em size in design pixels: draw with AddText(font, text_size(em), ...). The next larger built size
    /// is taken, so that it is never blown up.
    ImFont* nearest(double em, Weight weight) const;
    /// The `font_size` argument of ImDrawList::AddText / ImFont::CalcTextSizeA for an em size in design pixels, in
    /// screen pixels.
    float text_size(double em, Weight weight) const;
    ImFontAtlas* atlas() const { return atlas_.get(); }
    float scale() const { return scale_; }
    /// Empty when Inter was found; else one sentence for the person.
    const std::string& warning() const { return warning_; }

private:
    float scale_;
    std::unique_ptr<ImFontAtlas> atlas_;
    std::vector<ImFont*> faces_;
    std::vector<float> line_per_em_;  ///< by Weight
    std::string warning_;
};

/// `size` cut by an ellipsis to fit `width` pixels; the whole text if it fits.
std::string ellipsized(const ImFont& font, float font_size, std::string_view text, float width);
/// Breaks at spaces (and inside a word only if it alone is too wide). Newlines are kept. `width` in pixels.
std::vector<std::string> wrapped(const ImFont& font, float font_size, std::string_view text, float width);
float text_width(const ImFont& font, float font_size, std::string_view text);

}  // namespace offsquare::gui
