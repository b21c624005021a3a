#include "picture/strip_view.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "picture/parts.h"

namespace offsquare::picture {
namespace {

constexpr double usual_width = 44.0;  ///< of the strip on a page of the usual height [points]
constexpr double most_taper = 34.0;   ///< drawn there, between the two places [points]
constexpr double usual_height = 320.0;
constexpr double top_of_strip = 22.0;
constexpr double past_far_place = 26.0;  ///< of the strip, beyond the place [points]
constexpr double past_fence_place = 22.0;
constexpr double under_fence_line = 24.0;
constexpr double jaw = 7.0;

/// A place of the page: points from its top left, y down.
Vec2 page_at(double x, double y) { return {x, -y}; }

void words(Picture& out, double x, double y, std::string text, Role role, Align align, double size = 12.5,
           Weight weight = Weight::regular) {
    add(out, Words{page_at(x, y), {}, std::move(text), role, size, weight, align});
}

void line(Picture& out, std::vector<Vec2> points, Role role, double stroke, bool dashed = false) {
    add(out, Line{std::move(points), role, stroke, dashed});
}

/// The strip on the page: its edge at the blade stands straight, the other one leans by the taper.
struct Strip {
    double straight = 0.0;  ///< x
    double sign = 1.0;      ///< to which side it lies of that edge
    double top = 0.0, far = 0.0, fence = 0.0, bottom = 0.0;
    double far_width = usual_width, fence_width = usual_width;
    double width_at(double y) const { return far_width + (fence_width - far_width) * (y - far) / (fence - far); }
    double other(double y) const { return straight + sign * width_at(y); }
    double right(double y) const { return std::max(straight, other(y)); }
    double left(double y) const { return std::min(straight, other(y)); }
};

void add_strip(const Strip& s, Picture& out) {
    add(out, Polygon{{page_at(s.straight, s.top), page_at(s.other(s.top), s.top), page_at(s.other(s.bottom), s.bottom),
                      page_at(s.straight, s.bottom)},
                     Role::board,
                     Role::grain,
                     1.4});
    add_grain(page_at(s.straight, s.top + 4.0), page_at(s.other(s.top), s.top + 4.0),
              page_at(s.straight, s.bottom - 4.0), page_at(s.other(s.bottom), s.bottom - 4.0), 18.0, 0.5, out);
}

void add_caliper(const Strip& s, double y, double to, Picture& out) {
    for (const double x : {s.left(y), s.right(y)})
        line(out, {page_at(x, y - jaw), page_at(x, y + jaw)}, Role::read, 2.4);
    line(out, {page_at(s.left(y), y), page_at(s.right(y), y)}, Role::read, 1.6);
    line(out, {page_at(s.right(y) + 4.0, y), page_at(to, y)}, Role::read, 1.2);
}

void add_between(const Strip& s, double x, Picture& out) {
    line(out, {page_at(x, s.far), page_at(x, s.fence)}, Role::quiet, 1.2);
    for (const double y : {s.far, s.fence}) line(out, {page_at(x - 6.0, y), page_at(x + 6.0, y)}, Role::quiet, 1.2);
}

}  // namespace

double taper_factor(double difference_mm, double points_per_mm) {
    const double drawn = std::abs(difference_mm) * points_per_mm;
    if (!(drawn > 0.0)) return 1.0;
    constexpr double largest = 500.0;  // more would only show the last digit of the caliper
    double best = 1.0;
    for (double decade = 1.0; decade <= largest; decade *= 10.0) {
        for (const double step : {1.0, 2.0, 5.0}) {
            if (step * decade * drawn <= most_taper && step * decade <= largest) best = step * decade;
        }
    }
    return best;
}

StripView strip_view(const StripShown& shown, double width, double height) {
    StripView view;
    Picture& out = view.picture;
    out.lo = page_at(0.0, height);
    out.hi = page_at(width, 0.0);
    out.title = "The strip of the fifth cut, with the two places where it is read";
    // Three boxes beside each other where there is room, else two.
    constexpr double roomy = 560.0, three = 272.0, two = 212.0;
    view.fields_left = std::round(width < roomy ? width - two : std::min(0.53 * width, width - three));
    const double larger = std::clamp(height / usual_height, 1.0, 2.0);
    Strip s;
    s.far_width = s.fence_width = larger * usual_width;
    s.bottom = height - under_fence_line;
    s.fence = s.bottom - past_fence_place;
    s.top = top_of_strip;
    s.far = s.top + past_far_place;
    s.sign = shown.fell == shop::Side::left ? -1.0 : 1.0;
    const double dimension = view.fields_left - 20.0;
    const double room = larger * 68.0;  // for the strip, at its widest
    s.straight = dimension - 24.0 - (s.sign > 0.0 ? room : 0.0);
    if (shown.fence_end_mm && shown.far_end_mm && shown.between_mm && *shown.between_mm > 0.0) {
        const double difference = *shown.fence_end_mm - *shown.far_end_mm;
        const double scale = (s.fence - s.far) / *shown.between_mm;
        view.factor = taper_factor(difference, scale / larger);
        const double most = larger * most_taper;
        const double drawn = std::clamp(view.factor * difference * scale, -most, most);
        s.far_width -= 0.5 * drawn;
        s.fence_width += 0.5 * drawn;
    }
    line(out, {page_at(0.0, s.bottom), page_at(width, s.bottom)}, Role::grain, 1.6, true);
    words(out, 8.0, height - 7.0, "the end that lay at the fence", Role::quiet, Align::left);
    add_strip(s, out);
    add_between(s, dimension, out);
    add_caliper(s, s.far, view.fields_left, out);
    add_caliper(s, s.fence, view.fields_left, out);
    view.left_room = s.left(s.bottom) - 20.0;
    if (view.factor > 1.0) {
        words(out, width - 8.0, height - 7.0,
              fmt::format("taper drawn {}, width not to scale", factor_text(view.factor)), Role::wrong, Align::right,
              12.5, Weight::semibold);
    } else {
        words(out, width - 8.0, height - 7.0, "width not to scale", Role::quiet, Align::right);
    }
    view.far_y = s.far;
    view.fence_y = s.fence;
    view.between_y = 0.5 * (s.far + s.fence);
    return view;
}

FenceView fence_view(const FenceShown& shown, double width, double height) {
    FenceView view;
    Picture& out = view.picture;
    out.lo = page_at(0.0, height);
    out.hi = page_at(width, 0.0);
    out.title = "The fence from above, with its two shim points";
    constexpr double inset = 18.0, point_in = 24.0, thick = 22.0;
    const double middle = 0.42 * height;
    const double left = inset, right = width - inset;
    const double y0 = middle - 0.5 * thick, y1 = middle + 0.5 * thick;
    words(out, 0.5 * width, y0 - 9.0, "fence, from above", Role::quiet, Align::middle);
    add(out, Polygon{{page_at(left, y0), page_at(right, y0), page_at(right, y1), page_at(left, y1)},
                     Role::wood,
                     Role::grain,
                     1.4});
    const double dimension = y1 + 18.0;
    const std::array<double, 2> points{left + point_in, right - point_in};
    line(out, {page_at(points[0], dimension), page_at(points[1], dimension)}, Role::quiet, 1.2);
    for (std::size_t i = 0; i < 2; ++i) {
        const double x = points.at(i);
        const bool here = (i == 0 && shown.at == shim::At::left) || (i == 1 && shown.at == shim::At::right);
        const double behind = i == 0 ? shown.behind_left_mm : shown.behind_right_mm;
        line(out, {page_at(x, dimension - 6.0), page_at(x, dimension + 6.0)}, Role::quiet, 1.2);
        // A shim stands on the side of the operator, below the fence in the picture.
        if (behind > 0.0 || here)
            add(out, Polygon{{page_at(x - 16.0, y1 + 1.0), page_at(x + 16.0, y1 + 1.0), page_at(x + 16.0, y1 + 5.0),
                              page_at(x - 16.0, y1 + 5.0)},
                             here ? Role::read : Role::steel,
                             Role::none});
        add(out, Dot{page_at(x, middle), 7.0, Role::card, here ? Role::read : Role::text, true});
        const Align align = i == 0 ? Align::left : Align::right;
        const double edge = i == 0 ? left : right;
        std::string text = i == 0 ? "left end" : "right end";
        if (behind > 0.0) text += ": " + base::show_small(behind, shown.units);
        words(out, edge, dimension + 20.0, text, here ? Role::read : Role::quiet, align, 12.0,
              here ? Weight::semibold : Weight::regular);
    }
    view.dimension_right = points[1];
    return view;
}

}  // namespace offsquare::picture
