// The measures that all pages of the window share, in design pixels.
#pragma once

namespace offsquare::gui::layout {

inline constexpr float edge = 16.0F;     ///< of the page
inline constexpr float between = 12.0F;  ///< two cards
inline constexpr float header = 56.0F;
inline constexpr float two_rows = 100.0F;       ///< of the header in a narrow window
inline constexpr float top = header + between;  ///< of the first card
inline constexpr float top_of_two_rows = two_rows + between;
inline constexpr float side = 376.0F;        ///< width of the right column
inline constexpr float list_width = 340.0F;  ///< of a list that a page of the notebook begins with
inline constexpr float caution_height = 54.0F;
inline constexpr float narrow = 1100.0F;       ///< below this the right column stands under the left one
inline constexpr float least_height = 700.0F;  ///< of a wide page; a lower window scrolls

}  // namespace offsquare::gui::layout
