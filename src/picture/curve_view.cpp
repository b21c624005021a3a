#include "picture/curve_view.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "picture/parts.h"
#include "picture/text_size.h"

namespace offsquare::picture {
namespace {

constexpr double left_room = 88.0;  ///< for what above and below mean
constexpr double right_room = 34.0;
constexpr double above = 22.0;       ///< for the labels of what was done
constexpr double below = 26.0;       ///< for the days
constexpr double least_step = 44.0;  ///< from one thing to the next [points]: a figure stands between

Vec2 curve_at(double x, double y) { return {x, -y}; }

struct Place {
    saws::Date date;
    double x = 0.0;
    const saws::CurvePoint* point = nullptr;  ///< nullptr: something that was done
    const saws::CurveEvent* event = nullptr;
};

std::vector<Place> in_order(const saws::Curve& curve) {
    std::vector<Place> all;
    auto point = curve.points.begin();
    auto event = curve.events.begin();
    for (const bool is_point : curve.is_point) {
        if (is_point) all.push_back({point->date, 0.0, &*point, nullptr}), ++point;
        else all.push_back({event->date, 0.0, nullptr, &*event}), ++event;
    }
    return all;
}

/// Days count as width, but nothing stands nearer to the next than a person can tell apart.
void place(std::vector<Place>& all, double left, double right) {
    if (all.empty()) return;
    const double width = right - left;
    const std::size_t steps = all.size() - 1;
    const double least = steps == 0 ? 0.0 : std::min(least_step, width / static_cast<double>(steps));
    std::vector<double> days;
    for (std::size_t i = 0; i < steps; ++i)
        days.push_back(static_cast<double>(saws::days_between(all[i].date, all[i + 1].date)));
    const auto total = [&](double per_day) {
        double sum = 0.0;
        for (const double d : days) sum += std::max(least, per_day * d);
        return sum;
    };
    double lo = 0.0, hi = width;
    for (int i = 0; i < 60; ++i) (total(0.5 * (lo + hi)) > width ? hi : lo) = 0.5 * (lo + hi);
    double x = left;
    for (std::size_t i = 0; i < all.size(); ++i) {
        all[i].x = x;
        if (i < steps) x += std::max(least, lo * days[i]);
    }
}

/// Skews to the page.
struct Scale {
    double middle = 0.0, per_rad = 0.0;
    double y(double rad) const { return middle - per_rad * rad; }
};

Scale scale_of(const saws::Curve& curve, double top, double bottom) {
    double lo = -2.0 * curve.tolerance_rad, hi = 2.0 * curve.tolerance_rad;
    for (const saws::CurvePoint& p : curve.points) {
        lo = std::min(lo, p.coverage95.lo);
        hi = std::max(hi, p.coverage95.hi);
    }
    const double span = std::max(hi - lo, 1e-9);
    const double per_rad = (bottom - top) / span;
    return {top + per_rad * hi, per_rad};
}

void curve_words(Picture& out, double x, double y, const std::string& text, Role role, Align align, double letters) {
    add(out, Words{curve_at(x, y), {}, text, role, letters, Weight::regular, align});
}

void add_point(const Place& p, const Scale& scale, bool open, Picture& out) {
    const double y = scale.y(p.point->skew_rad.value);
    const double hi = scale.y(p.point->coverage95.hi), lo = scale.y(p.point->coverage95.lo);
    add(out, Line{{curve_at(p.x, hi), curve_at(p.x, lo)}, Role::read, 2.0});
    for (const double end : {hi, lo})
        add(out, Line{{curve_at(p.x - 5.0, end), curve_at(p.x + 5.0, end)}, Role::read, 2.0});
    const Role fill = open ? Role::card : Role::read;
    if (p.point->state != diagnose::State::fail) return add(out, Dot{curve_at(p.x, y), 4.5, fill, Role::read});
    constexpr double r = 6.0;
    add(out, Polygon{{curve_at(p.x, y - r), curve_at(p.x + r, y), curve_at(p.x, y + r), curve_at(p.x - r, y)},
                     open ? Role::card : Role::wrong,
                     Role::wrong,
                     1.6});
}

/// A figure to the right of its point; where a line or a point stands there, to its left.
void add_figure(const std::vector<Place>& all, std::size_t i, double y, double left, const std::string& text,
                double letters, Picture& out) {
    constexpr double beside = 9.0, air = 3.0;
    const double wide = beside + text_width(text, letters, Weight::regular) + air;
    const bool right_taken = i + 1 < all.size() && all[i].x + wide > all[i + 1].x;
    const bool left_free = all[i].x - wide >= (i == 0 ? left : all[i - 1].x + beside);
    const bool to_left = right_taken && left_free;
    curve_words(out, all[i].x + (to_left ? -beside : beside), y, text, Role::text, to_left ? Align::right : Align::left,
                letters);
}

/// Figures at the edges of the band, and what above and below mean.
void add_scale(const saws::Curve& curve, const Scale& scale, double top, double bottom, const CurvePage& page,
               Picture& out) {
    const double letters = page.letters;
    const double t = curve.tolerance_rad;
    // Where a test was far off the two edges of the band lie too near each other for a figure each.
    const bool apart = scale.y(-t) - scale.y(t) >= 1.2 * letters;
    const auto figure = [&](double skew, const std::string& sign) {
        curve_words(out, left_room - 6.0, scale.y(skew) + 0.35 * letters,
                    sign + base::show_angle_number(apart ? skew : t, page.units), Role::quiet, Align::right, letters);
    };
    if (apart) figure(t, ""), figure(-t, "");
    else figure(0.0, "±");
    curve_words(out, 0.0, top + 2.0, "left end near", Role::quiet, Align::left, letters);
    curve_words(out, 0.0, bottom + 8.0, "right end near", Role::quiet, Align::left, letters);
}

/// Labels of what was done stand beside their lines, where there is room before the next label.
void add_events(const std::vector<Place>& all, double right, double top, double bottom, double letters, Picture& out) {
    double free_from = left_room;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].event == nullptr) continue;
        const double x = all[i].x;
        add(out, Line{{curve_at(x, top), curve_at(x, bottom)}, Role::quiet, 1.2, true});
        const double wide = text_width(all[i].event->label, letters, Weight::regular);
        double next = right;
        for (std::size_t j = i + 1; j < all.size(); ++j) {
            if (all[j].event != nullptr) {
                next = all[j].x - 6.0;
                break;
            }
        }
        if (x + 6.0 >= free_from && x + 6.0 + wide <= next) {
            curve_words(out, x + 6.0, top + 4.0, all[i].event->label, Role::quiet, Align::left, letters);
            free_from = x + 6.0 + wide;
        } else if (x - 6.0 - wide >= free_from) {
            curve_words(out, x - 6.0, top + 4.0, all[i].event->label, Role::quiet, Align::right, letters);
            free_from = x;
        }
        free_from = std::max(free_from, x + 4.0);  // no word stands across a line
    }
}

/// Below the band, in the last gap that has room for them: no line and no point stands there.
void add_band_words(const std::vector<Place>& all, double left, double right, double y, const std::string& text,
                    double letters, Picture& out) {
    const double wide = text_width(text, letters, Weight::regular) + 24.0;
    double to = right;
    for (std::size_t i = all.size() + 1; i-- > 0;) {
        const double from = i == 0 ? left : all[i - 1].x;
        if (to - from >= wide) return curve_words(out, 0.5 * (from + to), y, text, Role::good, Align::middle, letters);
        to = from;
    }
}

/// One name for a day, where there is room for it; the newest always has its own.
void add_days(const std::vector<Place>& all, saws::Date today, double y, double letters, Picture& out) {
    double free_to = 1e9;
    for (std::size_t i = all.size(); i-- > 0;) {
        if (i > 0 && all[i - 1].date == all[i].date && i + 1 != all.size()) continue;
        const std::string day = all[i].date == today ? "today" : saws::in_words(all[i].date, today);
        const double wide = text_width(day, letters, Weight::regular);
        if (all[i].x + 0.5 * wide > free_to) continue;
        curve_words(out, all[i].x, y, day, Role::quiet, Align::middle, letters);
        free_to = all[i].x - 0.5 * wide - 10.0;
    }
}

}  // namespace

Picture curve_view(const saws::Curve& curve, const CurvePage& page) {
    Picture out;
    out.lo = curve_at(0.0, page.height);
    out.hi = curve_at(page.width, 0.0);
    out.title = "How square it has been";
    const double left = left_room, right = page.width - 4.0;
    const double top = above, bottom = page.height - below;
    const double letters = page.letters;
    const Scale scale = scale_of(curve, top + 12.0, bottom - 4.0);
    const double band_hi = scale.y(curve.tolerance_rad), band_lo = scale.y(-curve.tolerance_rad);
    add(out,
        Polygon{{curve_at(left, band_hi), curve_at(right, band_hi), curve_at(right, band_lo), curve_at(left, band_lo)},
                Role::good_fill});
    add(out, Line{{curve_at(left, scale.y(0.0)), curve_at(right, scale.y(0.0))}, Role::quiet, 1.2});
    add_scale(curve, scale, top, bottom, page, out);
    std::vector<Place> all = in_order(curve);
    place(all, left + 42.0, right - right_room);  // a figure may stand left of the first
    add_events(all, right, above - 12.0, bottom, letters, out);
    add_band_words(all, left, right, std::min(band_lo + 14.0, bottom + 2.0),
                   fmt::format("square enough: {}", base::show_angle_short(curve.tolerance_rad, page.units)), letters,
                   out);
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Place& p = all[i];
        if (p.point == nullptr) continue;
        add_point(p, scale, page.not_written == p.point->entry, out);
        // How much, beside the point, where it is not square.
        if (p.point->state == diagnose::State::pass) continue;
        const double y = std::clamp(scale.y(p.point->skew_rad.value) + 4.0, top + 4.0, bottom);
        add_figure(all, i, y, left, base::show_angle_number(std::abs(p.point->skew_rad.value), page.units), letters,
                   out);
    }
    add_days(all, page.today, page.height - 6.0, letters, out);
    return out;
}

}  // namespace offsquare::picture
