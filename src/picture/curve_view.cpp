#include "picture/curve_view.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "picture/parts.h"
#include "picture/text_size.h"

namespace offsquare::picture {
namespace {

/// A test or an event at its place.
struct Mark {
    const saws::CurvePoint* point = nullptr;
    const saws::CurveEvent* event = nullptr;
    saws::Date date{};
    double x = 0.0;
};

constexpr double left_edge = 58.0;  // for the scale's figures
constexpr double right_edge = 14.0;
constexpr double top_edge = 34.0;   // for the events' words
constexpr double foot_edge = 20.0;  // for the dates

std::vector<Mark> marks_of(const saws::Curve& curve, double width) {
    std::vector<Mark> marks;
    auto point = curve.points.begin();
    auto event = curve.events.begin();
    for (const bool is_point : curve.is_point) {
        Mark m;
        if (is_point) m.point = &*point;
        else m.event = &*event;
        m.date = is_point ? (point++)->date : (event++)->date;
        marks.push_back(m);
    }
    double x = 0.0;
    for (std::size_t i = 0; i < marks.size(); ++i) {
        // A day is a step of its own; a month three, and a year no more than that.
        if (i > 0) x += std::clamp(saws::days_between(marks[i - 1].date, marks[i].date) / 10.0, 1.0, 3.0);
        marks[i].x = x;
    }
    const double room = width - left_edge - right_edge - 40.0;
    for (Mark& m : marks) m.x = left_edge + 20.0 + (x > 0.0 ? room * m.x / x : 0.5 * room);
    return marks;
}

/// The largest skew that has to fit.
double reach_of(const saws::Curve& curve) {
    double most = 1.6 * curve.tolerance_rad;
    for (const saws::CurvePoint& p : curve.points)
        most = std::max({most, std::abs(p.coverage95.lo), std::abs(p.coverage95.hi)});
    return 1.08 * most;
}

class Drawing {
public:
    Drawing(const saws::Curve& curve, const CurvePage& page)
        : curve_(curve), page_(page), marks_(marks_of(curve, page.width)), reach_(reach_of(curve)) {
        out_.lo = {0.0, -page.height};
        out_.hi = {page.width, 0.0};
    }

    Picture whole() && {
        band();
        scale();
        for (const Mark& m : marks_) {
            if (m.event != nullptr) event(m);
        }
        for (const Mark& m : marks_) {
            if (m.point != nullptr) test(m);
        }
        dates();
        return std::move(out_);
    }

private:
    double y(double skew_rad) const {
        const double middle = -0.5 * (top_edge + page_.height - foot_edge);
        const double half = 0.5 * (page_.height - foot_edge - top_edge);
        return middle + half * skew_rad / reach_;
    }
    double right() const { return page_.width - right_edge; }

    void words(double x, double at_y, std::string text, Role role, double size, Weight weight, Align align) {
        add(out_, Words{{x, at_y}, {0.0, 0.0}, std::move(text), role, size, weight, align});
    }

    void band() {
        const double t = curve_.tolerance_rad;
        add(out_, Polygon{rectangle(left_edge, y(-t), right(), y(t)), Role::good_fill, Role::none, 0.0});
        add(out_, Line{{{left_edge, y(0.0)}, {right(), y(0.0)}}, Role::quiet, 1.0});
        words(right() - 4.0, y(-t) + 3.0, fmt::format("square enough: {}", base::show_angle(t, page_.units)),
              Role::good, 9.5, Weight::regular, Align::right);
    }

    void scale() {
        const double t = curve_.tolerance_rad;
        for (const double at : {t, 0.0, -t})
            words(left_edge - 6.0, y(at) - 3.0, at == 0.0 ? "0" : base::show_angle_number(at, page_.units), Role::quiet,
                  9.5, Weight::regular, Align::right);
        words(0.0, -9.0, base::show_angle_unit(page_.units), Role::quiet, 9.5, Weight::regular, Align::left);
        words(left_edge, -top_edge - 2.0, "left end too near", Role::quiet, 8.5, Weight::regular, Align::left);
        words(left_edge, -(page_.height - foot_edge) + 3.0, "right end too near", Role::quiet, 8.5, Weight::regular,
              Align::left);
    }

    void event(const Mark& m) {
        add(out_, Line{{{m.x, -top_edge + 10.0}, {m.x, -(page_.height - foot_edge)}}, Role::quiet, 0.9, true});
        // Two lines of words by turns; what would stand on another stays away: the log below has it.
        for (const double line : {-10.0, -21.0}) {
            const std::string text = m.event->label;
            const double width = text_width(text, 9.5, Weight::regular);
            const bool from_right = m.x + width > right();
            const double lo = from_right ? m.x - width : m.x;
            double& taken = line == -10.0 ? taken_above_ : taken_below_;
            if (lo < taken || lo < 80.0) continue;
            taken = lo + width + 8.0;
            words(m.x, line, text, Role::text, 9.5, Weight::regular, from_right ? Align::right : Align::left);
            return;
        }
    }

    void test(const Mark& m) {
        const saws::CurvePoint& p = *m.point;
        const double lo = y(p.coverage95.lo);
        const double hi = y(p.coverage95.hi);
        add(out_, Line{{{m.x, lo}, {m.x, hi}}, Role::read, 1.4});
        for (const double end : {lo, hi}) add(out_, Line{{{m.x - 3.5, end}, {m.x + 3.5, end}}, Role::read, 1.4});
        const double at = y(p.skew_rad.value);
        const double r = 3.6;
        if (p.state == diagnose::State::fail)
            add(out_, Polygon{{{m.x, at + 1.3 * r}, {m.x + 1.3 * r, at}, {m.x, at - 1.3 * r}, {m.x - 1.3 * r, at}},
                              Role::wrong,
                              Role::wrong,
                              1.0});
        else add(out_, Dot{{m.x, at}, r, p.state == diagnose::State::pass ? Role::good : Role::card, Role::read});
    }

    void dates() {
        double taken = 0.0;
        for (const Mark& m : marks_) {
            const std::string text = saws::in_words(m.date, page_.today);
            const double half = 0.5 * text_width(text, 9.5, Weight::regular);
            const double at = std::clamp(m.x, half, page_.width - half);
            if (at - half < taken) continue;
            taken = at + half + 8.0;
            words(at, -page_.height + 5.0, text, Role::quiet, 9.5, Weight::regular, Align::middle);
        }
    }

    const saws::Curve& curve_;
    const CurvePage& page_;
    std::vector<Mark> marks_;
    double reach_;
    double taken_above_ = 0.0;
    double taken_below_ = 0.0;
    Picture out_;
};

}  // namespace

Picture curve_view(const saws::Curve& curve, const CurvePage& page) { return Drawing(curve, page).whole(); }

}  // namespace offsquare::picture
