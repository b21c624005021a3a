// A picture as plain shapes. The rooms behind draw by being read; SVG, PDF, PNG and the window all paint this same
// list.
//
// Positions are millimetres in the table frame T (x right, y up the page, in the direction of feed). Sizes of strokes
// and letters are in points of the page or screen (1 point = 1 pixel at scale 1), so that a line stays a line at every
// zoom. `nudge` moves a thing by points, y DOWN the page.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "base/frame.h"

namespace offsquare::picture {

using base::Vec2;

/// What a colour means; never a colour by itself.
enum class Role {
    ground,
    card,
    hairline,
    text,
    quiet,
    table,
    table_edge,
    slot,
    steel,
    wood,
    board,
    grain,
    read,
    read_fill,
    wrong,
    good,
    good_fill,
    none
};
enum class Scheme { light, dark };

struct Rgba {
    std::uint8_t r = 0, g = 0, b = 0, a = 255;
};
/// The project's palette. `none` is transparent.
Rgba colour_of(Role role, Scheme scheme);

struct Polygon {
    std::vector<Vec2> points;  ///< closed, any simple polygon
    Role fill = Role::none;
    Role line = Role::none;
    double stroke = 1.2;
    bool dashed = false;
    double fill_alpha = 1.0;  ///< 0..1
    double corner = 0.0;      ///< radius of rounded corners [mm], for rectangles only (4 points)
};

struct Line {
    std::vector<Vec2> points;  ///< open, two or more
    Role line = Role::text;
    double stroke = 1.2;
    bool dashed = false;
    bool arrow = false;  ///< an arrow head at the last point
    double alpha = 1.0;
};

struct Dot {  ///< a round mark of fixed size on the page, e.g. a shim point
    Vec2 at;
    double radius = 7.0;  ///< points
    Role fill = Role::card;
    Role line = Role::text;
    bool centre = false;  ///< a small filled centre
};

enum class Align { left, middle, right };
enum class Weight { regular, medium, semibold };

struct Words {
    Vec2 at;
    Vec2 nudge;  ///< points, y down; `at` nudged is on the baseline, at the left, middle or right of the words
    std::string text;
    Role role = Role::quiet;
    double size = 12.5;  ///< points
    Weight weight = Weight::regular;
    Align align = Align::left;
};

/// A rounded label with a word on the left and a figure on the right, e.g. a reading with its leader line.
struct Tag {
    Vec2 at;     ///< what it speaks about
    Vec2 nudge;  ///< where the near end of the label stands (half way up), points from `at`, y down. x >= 0: the label
                 ///< goes on to the right, else to the left
    std::string word;
    std::string figure;  ///< may be empty
    Role role = Role::read;
    Role fill = Role::read_fill;
    bool leader = true;  ///< a line from `at` to the label
};

using Shape = std::variant<Polygon, Line, Dot, Words, Tag>;

/// What a shape stands for, so that a door can let a person take hold of it and a test can find it.
enum class Handle {
    none,
    board,
    fence,
    left_shim_point,
    right_shim_point,
    caliper_fence_end,
    caliper_far_end,
    sled,
    board_corner,
    fence_end,
    blade_end,
    laid_aside,
    zero_line
};

struct Item {
    Shape shape;
    Handle handle = Handle::none;
};

struct Picture {
    std::vector<Item> items;  ///< back to front
    Vec2 lo;                  ///< what must be seen [mm, T]
    Vec2 hi;
    std::string title;  ///< one sentence: what the picture shows (for a screen reader, the SVG's <title>)
};

/// How a tag and an arrow are measured, in points, so that paper and window agree.
namespace metrics {
inline constexpr double tag_height = 26.0;
inline constexpr double tag_pad = 12.0;       ///< inside, left and right
inline constexpr double tag_gap = 14.0;       ///< between word and figure
inline constexpr double tag_word = 12.5;      ///< letters of the word (medium; semibold when it stands alone)
inline constexpr double tag_figure = 13.5;    ///< letters of the figure (semibold)
inline constexpr double tag_baseline = 4.6;   ///< below the middle
inline constexpr double arrow_length = 10.0;  ///< of the two barbs along the line
inline constexpr double arrow_half = 6.0;     ///< how far they stand out
inline constexpr double dash_on = 5.0;
inline constexpr double dash_off = 4.0;
}  // namespace metrics

/// Millimetres of the table frame on a page: page = (left + scale*x, top - scale*y), y down.
struct Fit {
    double scale = 1.0;  ///< points per mm, > 0
    double left = 0.0;   ///< page x of the frame's origin
    double top = 0.0;    ///< page y of the frame's origin
    Vec2 page(Vec2 p) const { return {left + scale * p.x, top - scale * p.y}; }
    Vec2 mm(Vec2 q) const { return {(q.x - left) / scale, (top - q.y) / scale}; }
};

/// The largest true-to-shape fit of what must be seen (lo..hi) into a page of this size less a margin, in its middle.
/// The page must be larger than twice the margin.
Fit fit(const Picture& picture, double width, double height, double margin = 8.0);

}  // namespace offsquare::picture
